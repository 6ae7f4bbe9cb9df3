/* glance.c - one run reduced on trial, judged, and rolled back; see glance.h. */
#include "reduce/glance.h"

#include <stdlib.h>
#include <string.h>

#include "reduce/glance_parts.h"
#include "reduce/glance_verdict.h"
#include "reduce/recipe_check.h"
#include "reduce/rows.h"
#include "reduce/season_open.h"
#include "reduce/stage_point.h"
#include "reduce/stage_target.h"
#include "reduce/run_work.h"

static struct run_row *find_run(struct night *night, const char *name)
{
    for (size_t i = 0; i < night->n_runs; i++)
        if (strcmp(night->runs[i].run, name) == 0)
            return &night->runs[i];
    return NULL;
}

/* "A+B" where B was not recorded yet is "A" for now; 1 when it is so. */
static int drop_zero_to_come(const struct night *night, struct run_row *run)
{
    char *plus = strchr(run->zero, '+');
    if (plus == NULL)
        return 0;
    size_t length = strcspn(plus + 1, "/");
    for (size_t i = 0; i < night->n_runs; i++)
        if (strlen(night->runs[i].run) == length &&
            strncmp(night->runs[i].run, plus + 1, length) == 0)
            return 0;
    *plus = '\0';
    return 1;
}

static enum status read_reason(struct glance_work *work, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = rows_open(work->run.night->store, "SELECT reason FROM run WHERE run = ?1",
                                   (const char *const[]){work->run.run->run}, 1, &statement, fault);
    if (status == OK)
        status = statement_step(statement, &row, fault);
    if (status == OK && row)
        status = glance_keep(work->glance, statement_text(statement, 0), &work->glance->quarantined,
                             fault);
    statement_free(statement);
    return status;
}

/* The run of the entry that was made right before this one: what it found dead is known. */
static const struct run_row *run_before(const struct glance_work *work)
{
    const struct night *night = work->run.night;
    const struct run_row *before = NULL;
    for (size_t i = 0; i < night->n_runs; i++) {
        const struct run_row *run = &night->runs[i];
        if (run_is_wind_on(run) && run->usable && run_same_entry(run, work->run.run) &&
            run->start < work->run.run->start && (before == NULL || run->start > before->start))
            before = run;
    }
    return before;
}

static enum status reduce_points(struct glance_work *work, struct fault *fault)
{
    enum run_ending ending = RUN_UP_TO_DATE;
    const struct run_row *before = run_before(work);
    enum status status = OK;
    if (before != NULL)
        status = stage_point(work->run.night, before, &ending, fault);
    for (size_t i = 0; status == OK && i < work->group->n_runs; i++)
        status = stage_point(work->run.night, work->group->runs[i], &ending, fault);
    return status;
}

static enum status fill_parts(struct glance_work *work, struct fault *fault)
{
    static enum status (*const parts[])(struct glance_work * work, struct fault * fault) = {
        glance_points, glance_earlier, glance_flags, glance_strip};
    int fresh = 0;
    enum status status = reduce_points(work, fault);
    if (status == OK)
        status = stage_target(work->run.night, work->group, &fresh, fault);
    for (size_t i = 0; status == OK && i < sizeof parts / sizeof parts[0]; i++)
        status = parts[i](work, fault);
    return status;
}

static const struct run_group *find_group(const struct group_list *list, const struct run_row *run)
{
    for (size_t i = 0; i < list->n_groups; i++)
        for (size_t k = 0; k < list->groups[i].n_runs; k++)
            if (list->groups[i].runs[k] == run)
                return &list->groups[i];
    return NULL;
}

static enum status fill_usable(struct glance_work *work, struct fault *fault)
{
    struct group_list list;
    enum status status = groups_make(work->run.night, GROUP_BY_CONFIGURATION, &list, fault);
    if (status != OK)
        return status;
    work->group = find_group(&list, work->run.run);
    if (work->group == NULL)
        status = FAIL(fault, BAD_INPUT, "run '%.80s' is no wind_on run", work->run.run->run);
    else
        status = fill_parts(work, fault);
    run_work_end(&work->run);
    groups_end(&list);
    return status;
}

static enum status fill(struct night *night, const char *name, struct glance *glance,
                        struct fault *fault)
{
    struct glance_work work;
    struct run_row *run = find_run(night, name);
    if (run == NULL)
        return FAIL(fault, NOT_FOUND, "run '%.80s' is not in the season; ingest it first", name);
    memset(&work, 0, sizeof work);
    work.run.night = night;
    work.run.run = run;
    work.glance = glance;
    enum status status = glance_about(&work, fault);
    if (status != OK)
        return status;
    if (!run->usable) {
        status = read_reason(&work, fault);
        return status == OK ? glance_flags(&work, fault) : status;
    }
    work.zero_to_come = drop_zero_to_come(night, run);
    return fill_usable(&work, fault);
}

enum status glance_in_season(struct store *store, const struct campaign *campaign, const char *run,
                             struct glance *glance, struct fault *fault)
{
    struct night night;
    memset(glance, 0, sizeof *glance);
    enum status status = recipe_check(campaign, NULL, NULL, fault);
    if (status == OK)
        status = night_read(store, campaign, &night, fault);
    if (status != OK)
        return status;
    status = store_begin(store, fault);
    if (status == OK)
        status = fill(&night, run, glance, fault);
    store_rollback(store);
    night_end(&night);
    return status == OK ? glance_judge(glance, fault) : status;
}

enum status glance_run(const char *folder, const char *run, struct glance *glance,
                       struct fault *fault)
{
    struct season season;
    memset(glance, 0, sizeof *glance);
    enum status status = season_open(folder, STORE_EXISTING, &season, fault);
    if (status != OK)
        return status;
    status = glance_in_season(season.store, season.campaign, run, glance, fault);
    return season_close(&season, status, fault);
}
