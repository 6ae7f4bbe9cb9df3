/* run_work.c - see run_work.h. */
#include "reduce/run_work.h"

enum status run_work_complete(struct run_work *work, struct fault *fault)
{
    enum status status = recipe_make(work->night, work->run, &work->data, &work->recipe, fault);
    if (status == OK)
        status = zeros_read(work->night, work->run, &work->zeros, fault);
    if (status == OK)
        status = tare_table_read(work->night, work->run, &work->recipe, &work->tare, fault);
    if (status == OK)
        status = boundary_taps_read(work, &work->taps, fault);
    if (status == OK)
        status =
            belt_table_read(work->night, work->run, &work->recipe, &work->tare, &work->belt, fault);
    for (int i = 0; status == OK && i < TABLE_KINDS; i++)
        status = support_table_read(work->night->store, work->recipe.facility, (enum table_kind)i,
                                    &work->night->campaign->car, &work->tables[i], fault);
    return status;
}

void run_work_end(struct run_work *work)
{
    boundary_taps_end(&work->taps);
    for (int i = 0; i < TABLE_KINDS; i++)
        support_table_end(&work->tables[i]);
    belt_table_end(&work->belt);
    tare_table_end(&work->tare);
    zeros_end(&work->zeros);
    run_data_end(&work->data);
}

int run_work_zero_is_missing(const struct run_work *work)
{
    return work->zeros.choice.kind == ZERO_KIND_MISSING && recipe_needs_zero(&work->recipe.tunnel);
}
