/* glance_about.c - whose run it is, what it is judged by, and which targets that rests on. */
#include <string.h>

#include "reduce/glance_parts.h"
#include "reduce/rows.h"

static enum status keep(struct glance_work *work, const char *text, const char **kept,
                        struct fault *fault)
{
    return glance_keep(work->glance, text, kept, fault);
}

static enum status keep_names(struct glance_work *work, struct fault *fault)
{
    struct glance *glance = work->glance;
    const struct campaign *campaign = work->run.night->campaign;
    const struct run_row *run = work->run.run;
    const struct {
        const char *text;
        const char **kept;
    } names[] = {
        {campaign->season, &glance->season},
        {campaign->car.name, &glance->car},
        {run->run, &glance->run},
        {run->configuration, &glance->configuration},
        {run->facility, &glance->facility},
        {run->entry, &glance->entry},
        {run->start_text, &glance->start_text},
        {campaign->main_attitude, &glance->main_attitude},
        {"", &glance->quarantined},
        {"", &glance->refused},
        {"", &glance->zero.before},
        {"", &glance->zero.after},
        {"", &glance->zero.quantity},
        {"", &glance->zero.unit},
    };
    enum status status = OK;
    for (size_t i = 0; status == OK && i < sizeof names / sizeof names[0]; i++)
        status = keep(work, names[i].text, names[i].kept, fault);
    return status;
}

/* A campaign's metric in the units a delta of it is printed in. */
static enum status add_metric(struct glance_work *work, const struct metric *metric,
                              struct fault *fault)
{
    struct glance *glance = work->glance;
    enum quantity quantity = quantity_from_symbol(metric->quantity);
    if (quantity == QUANTITY_COUNT)
        return OK;
    const struct quantity_row *row = quantity_row(quantity);
    double count = work->run.night->campaign->count;
    int counted = row->in_counts && count > 0;
    struct glance_metric *made = &glance->metrics[glance->n_metrics++];
    made->quantity = quantity;
    made->worthwhile = metric->worthwhile;
    made->unit_size = counted ? count : 1;
    made->unit = counted ? "counts" : strcmp(row->unit, "1") == 0 ? "" : row->unit;
    return keep(work, metric->name, &made->name, fault);
}

static int is_main(const struct campaign *campaign, const struct metric *metric)
{
    return campaign->main_metric != NULL && strcmp(campaign->main_metric, metric->name) == 0;
}

static enum status add_metrics(struct glance_work *work, struct fault *fault)
{
    const struct campaign *campaign = work->run.night->campaign;
    void *array = NULL;
    enum status status =
        array_make(&array, campaign->n_metrics, sizeof *work->glance->metrics, fault);
    work->glance->metrics = array;
    for (int main_now = 1; main_now >= 0; main_now--)
        for (size_t i = 0; status == OK && i < campaign->n_metrics; i++)
            if (is_main(campaign, &campaign->metrics[i]) == main_now)
                status = add_metric(work, &campaign->metrics[i], fault);
    return status;
}

/* The targets that the main measure rests on: those with a weight, or the one it names. */
static int is_needed(const struct campaign *campaign, const struct target *target)
{
    const char *attitude = campaign->main_attitude;
    if (attitude == NULL)
        return 0;
    return strcmp(attitude, "weighted") == 0 ? target->weight > 0
                                             : strcmp(attitude, target->name) == 0;
}

static enum status add_targets(struct glance_work *work, struct fault *fault)
{
    struct glance *glance = work->glance;
    const struct campaign *campaign = work->run.night->campaign;
    void *array = NULL;
    enum status status =
        array_make(&array, campaign->attitudes.n_targets, sizeof *glance->targets, fault);
    glance->targets = array;
    for (size_t i = 0; status == OK && i < campaign->attitudes.n_targets; i++) {
        const struct target *target = &campaign->attitudes.targets[i];
        struct glance_target *made = &glance->targets[glance->n_targets++];
        made->is_needed = is_needed(campaign, target);
        for (int axis = 0; axis < ATTITUDE_COUNT; axis++)
            glance->is_named[axis] |= target->given[axis];
        status = keep(work, target->name, &made->name, fault);
    }
    return status;
}

enum status glance_about(struct glance_work *work, struct fault *fault)
{
    enum status status = keep_names(work, fault);
    if (status == OK)
        status = add_metrics(work, fault);
    if (status == OK)
        status = add_targets(work, fault);
    return status;
}
