/* pipeline.c - the stages in their order; see pipeline.h. */
#include "reduce/pipeline.h"

#include <stdlib.h>
#include <string.h>

#include "reduce/correction_methods.h"
#include "reduce/groups.h"
#include "reduce/night.h"
#include "reduce/recipe_check.h"
#include "reduce/reductions.h"
#include "reduce/repeatability.h"
#include "reduce/rows.h"
#include "reduce/stage_budget.h"
#include "reduce/stage_compare.h"
#include "reduce/stage_derive.h"
#include "reduce/stage_noise_check.h"
#include "reduce/stage_point.h"
#include "reduce/stage_pressure_map.h"
#include "reduce/stage_record.h"
#include "reduce/stage_repeats.h"
#include "reduce/stage_repeatability.h"
#include "reduce/stage_target.h"
#include "reduce/stage_uncertainty.h"
#include "schema/statement.h"

/* The stages after `point`, in order. To add one: its file, and its row here. */
static const struct group_stage {
    const char *stage;
    enum grouping grouping;
    int is_counted; /* in the summary, which speaks of targets, comparisons and maps */
    enum status (*reduce)(const struct night *night, const struct run_group *group, int *fresh,
                          struct fault *fault);
} group_stages[] = {
    {"target", GROUP_BY_CONFIGURATION, 1, stage_target},
    {"uncertainty", GROUP_BY_CONFIGURATION, 0, stage_uncertainty},
    {"repeatability", GROUP_BY_FAMILY, 0, stage_repeatability},
    {"noise_check", GROUP_BY_FAMILY, 0, stage_noise_check},
    {"compare", GROUP_BY_FAMILY, 1, stage_compare},
    {"derive", GROUP_BY_FAMILY, 0, stage_derive},
    {"pressure_map", GROUP_BY_FAMILY, 1, stage_pressure_map},
    {"budget", GROUP_BY_FAMILY, 0, stage_budget},
};

static enum status end_transaction(struct store *store, enum status status, struct fault *fault)
{
    if (status == OK)
        status = store_commit(store, fault);
    if (status != OK)
        store_rollback(store);
    return status;
}

static enum status reduce_run(const struct night *night, const struct run_row *run,
                              struct reduce_summary *summary, struct fault *fault)
{
    enum run_ending ending = RUN_UP_TO_DATE;
    enum status status = store_begin(night->store, fault);
    if (status != OK)
        return status;
    status = end_transaction(night->store, stage_point(night, run, &ending, fault), fault);
    if (status != OK)
        return status;
    size_t *const counts[] = {[RUN_REDUCED] = &summary->runs_reduced,
                              [RUN_UP_TO_DATE] = &summary->runs_up_to_date,
                              [RUN_REFUSED] = &summary->runs_refused};
    (*counts[ending])++;
    return OK;
}

static enum status keep(const struct night *night, const char *stage, const char *const *subjects,
                        size_t n, struct fault *fault)
{
    enum status status = store_begin(night->store, fault);
    if (status != OK)
        return status;
    status = reductions_keep(night->store, stage, subjects, n, fault);
    return end_transaction(night->store, status, fault);
}

static enum status reduce_runs(const struct night *night, struct reduce_summary *summary,
                               struct fault *fault)
{
    void *array = NULL;
    size_t n = 0;
    enum status status = array_make(&array, night->n_runs, sizeof(char *), fault);
    if (status != OK)
        return status;
    const char **subjects = array;
    for (size_t i = 0; status == OK && i < night->n_runs; i++) {
        const struct run_row *run = &night->runs[i];
        if (!run_is_wind_on(run))
            continue;
        summary->runs_not_usable += !run->usable;
        if (!run->usable)
            continue;
        subjects[n++] = run->run;
        status = reduce_run(night, run, summary, fault);
    }
    if (status == OK)
        status = keep(night, "point", subjects, n, fault);
    free(array);
    return status;
}

/* The stages of whole entries: records before the points, repeats after all else. */
struct entry_stage {
    const char *stage;
    enum status (*reduce)(const struct night *night, const struct record_group *group, int *fresh,
                          struct fault *fault);
};

static enum status reduce_entry(const struct night *night, const struct entry_stage *stage,
                                const struct record_group *group, size_t *reduced,
                                struct fault *fault)
{
    int fresh = 0;
    enum status status = store_begin(night->store, fault);
    if (status != OK)
        return status;
    status = stage->reduce(night, group, &fresh, fault);
    if (status != OK)
        fault_where(fault, "%s %s", stage->stage, group->subject);
    status = end_transaction(night->store, status, fault);
    *reduced += status == OK && fresh;
    return status;
}

static enum status reduce_entries(const struct night *night, const struct entry_stage *stage,
                                  int is_wanted, size_t *reduced, struct fault *fault)
{
    struct record_groups entries;
    void *array = NULL;
    enum status status = record_groups_make(night, &entries, fault);
    if (status != OK)
        return status;
    status = array_make(&array, entries.n_groups, sizeof(char *), fault);
    const char **subjects = array;
    size_t n = is_wanted ? entries.n_groups : 0;
    for (size_t i = 0; status == OK && i < n; i++) {
        subjects[i] = entries.groups[i].subject;
        status = reduce_entry(night, stage, &entries.groups[i], reduced, fault);
    }
    if (status == OK)
        status = keep(night, stage->stage, subjects, n, fault);
    free(array);
    record_groups_end(&entries);
    return status;
}

static enum status reduce_group(const struct night *night, const struct group_stage *stage,
                                const struct run_group *group, struct reduce_summary *summary,
                                struct fault *fault)
{
    int fresh = 0;
    enum status status = store_begin(night->store, fault);
    if (status != OK)
        return status;
    status = stage->reduce(night, group, &fresh, fault);
    if (status != OK)
        fault_where(fault, "%s %s", stage->stage, group->subject);
    status = end_transaction(night->store, status, fault);
    if (status != OK)
        return status;
    if (!stage->is_counted)
        return OK;
    if (fresh)
        summary->groups_reduced++;
    else
        summary->groups_up_to_date++;
    return OK;
}

static enum status reduce_groups(const struct night *night, const struct group_stage *stage,
                                 struct reduce_summary *summary, struct fault *fault)
{
    struct group_list list;
    void *array = NULL;
    enum status status = groups_make(night, stage->grouping, &list, fault);
    if (status != OK)
        return status;
    status = array_make(&array, list.n_groups, sizeof(char *), fault);
    const char **subjects = array;
    for (size_t i = 0; status == OK && i < list.n_groups; i++) {
        subjects[i] = list.groups[i].subject;
        status = reduce_group(night, stage, &list.groups[i], summary, fault);
    }
    if (status == OK)
        status = keep(night, stage->stage, subjects, list.n_groups, fault);
    free(array);
    groups_end(&list);
    return status;
}

/* Asked of the store, so that a night that is up to date says the same as when it was reduced. */
static enum status count_without_number(const struct night *night, struct reduce_summary *summary,
                                        struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = statement_prepare(
        night->store,
        "SELECT count(*) FROM run AS u WHERE u.kind = 'wind_on' AND u.state = 'ok' AND NOT EXISTS "
        "(SELECT 1 FROM point_coefficient AS p WHERE p.run = u.run AND p.state <> 'refused')",
        &statement, fault);
    if (status == OK)
        status = statement_step(statement, &row, fault);
    if (status == OK && row)
        summary->runs_without_number = (size_t)statement_integer(statement, 0);
    statement_free(statement);
    return status;
}

enum status reduce_night(struct store *store, const struct campaign *campaign,
                         struct reduce_summary *summary, struct fault *fault)
{
    static const struct entry_stage records = {"record", stage_record};
    static const struct entry_stage repeats = {"repeats", stage_repeats};
    struct night night;
    memset(summary, 0, sizeof *summary);
    enum status status = recipe_check(campaign, NULL, NULL, fault);
    if (status == OK)
        status = correction_methods_write(store, campaign, fault);
    if (status != OK)
        return status;
    status = night_read(store, campaign, &night, fault);
    if (status != OK)
        return status;
    status = reduce_entries(&night, &records, 1, &summary->entries_judged, fault);
    if (status == OK)
        status = reduce_runs(&night, summary, fault);
    for (size_t i = 0; status == OK && i < sizeof group_stages / sizeof group_stages[0]; i++)
        status = reduce_groups(&night, &group_stages[i], summary, fault);
    if (status == OK)
        status = repeatability_season_write(store, fault);
    if (status == OK)
        status = reduce_entries(&night, &repeats, campaign->repeats.given,
                                &summary->entries_repeated, fault);
    if (status == OK)
        status = count_without_number(&night, summary, fault);
    night_end(&night);
    return status;
}
