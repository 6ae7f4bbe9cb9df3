/* plan_night.c - see plan_night.h. */
#include "reduce/plan_night.h"

#include <math.h>
#include <stdlib.h>

const char *plan_name(const struct planned_night *night, size_t configuration)
{
    return night->input->configurations[night->chosen[configuration]].name;
}

const struct plan_metric *plan_main_metric(const struct planned_night *night)
{
    for (size_t i = 0; i < night->n_metrics; i++)
        if (night->metrics[i].is_main)
            return &night->metrics[i];
    return NULL;
}

void planned_night_end(struct planned_night *night)
{
    free(night->chosen);
    free(night->change);
    free(night->is_hard);
    free(night->is_heavy);
    free(night->given);
    free(night->metrics);
    plan_attitudes_end(&night->attitudes);
    *night = (struct planned_night){.input = NULL};
}

double plan_hours(double seconds)
{
    return ceil(seconds / 360 - 1e-9) / 10;
}
