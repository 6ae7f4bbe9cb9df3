/* stage_record.c - see stage_record.h. */
#include "reduce/stage_record.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/point_key.h"
#include "reduce/record_history.h"
#include "reduce/record_judge.h"
#include "reduce/record_lag.h"
#include "reduce/record_points.h"
#include "reduce/record_temperature.h"
#include "reduce/record_trend.h"
#include "reduce/rows.h"
#include "schema/digest.h"
#include "schema/store.h"

/* Raise it when the rules say other things of the same records. */
static const char method[] = "rules on records v3";

static struct record_group *find_group(struct record_groups *groups, const struct run_row *run)
{
    for (size_t i = 0; i < groups->n_groups; i++)
        if (run_same_entry(groups->groups[i].runs[0], run))
            return &groups->groups[i];
    return NULL;
}

static enum status add_group(const struct night *night, const struct run_row *run,
                             struct record_groups *groups, struct fault *fault)
{
    struct record_group *group = &groups->groups[groups->n_groups];
    size_t size = strlen(run->facility) + strlen(run->entry) + 2;
    void *array = NULL;
    group->subject = malloc(size);
    if (group->subject == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the name of an entry");
    (void)snprintf(group->subject, size, "%s/%s", run->facility, run->entry);
    groups->n_groups++;
    enum status status = array_make(&array, night->n_runs, sizeof(void *), fault);
    group->runs = array;
    return status;
}

enum status record_groups_make(const struct night *night, struct record_groups *groups,
                               struct fault *fault)
{
    void *array = NULL;
    *groups = (struct record_groups){NULL, 0};
    enum status status = array_make(&array, night->n_runs, sizeof *groups->groups, fault);
    groups->groups = array;
    for (size_t i = 0; status == OK && i < night->n_runs; i++) {
        const struct run_row *run = &night->runs[i];
        if (!run->usable)
            continue;
        struct record_group *group = find_group(groups, run);
        if (group == NULL) {
            status = add_group(night, run, groups, fault);
            group = &groups->groups[groups->n_groups == 0 ? 0 : groups->n_groups - 1];
        }
        if (status == OK)
            group->runs[group->n_runs++] = run;
    }
    if (status != OK)
        record_groups_end(groups);
    return status;
}

void record_groups_end(struct record_groups *groups)
{
    for (size_t i = 0; i < groups->n_groups; i++) {
        free(groups->groups[i].subject);
        free((void *)groups->groups[i].runs);
    }
    free(groups->groups);
    *groups = (struct record_groups){NULL, 0};
}

/* A wind-on run's effects in counts depend on all that its points do. */
static enum status add_run(const struct night *night, const struct run_row *run,
                           struct key_text *key, struct fault *fault)
{
    struct key_text inputs;
    char digest[DIGEST_TEXT];
    key_text_word(key, "run", run->run);
    key_text_word(key, "  kind", run->kind);
    key_text_word(key, "  balance", run->balance);
    key_text_word(key, "  ingest key", run->ingest_key);
    if (!run_is_wind_on(run))
        return OK;
    enum status status = point_key_before_records(night, run, &inputs, fault);
    if (status == OK)
        status = digest_text(inputs.text, digest, fault);
    key_text_end(&inputs);
    if (status == OK)
        key_text_word(key, "  points", digest);
    return status;
}

static void add_campaign(const struct campaign *campaign, struct key_text *key)
{
    key_text_number(key, "limit trend", campaign->limits.trend);
    key_text_word(key, "main metric", campaign->main_metric == NULL ? "" : campaign->main_metric);
    for (size_t i = 0; i < campaign->n_metrics; i++)
        key_text_word(key, campaign->metrics[i].name, campaign->metrics[i].quantity);
}

static enum status make_key(const struct night *night, const struct record_group *group,
                            struct key_text *key, struct fault *fault)
{
    enum status status = OK;
    memset(key, 0, sizeof *key);
    key_text_word(key, "method", method);
    add_campaign(night->campaign, key);
    for (size_t i = 0; status == OK && i < group->n_runs; i++)
        status = add_run(night, group->runs[i], key, fault);
    return status == OK ? key_text_status(key, fault) : status;
}

static enum status judge(struct record_run *run, const struct record_history *history, size_t at,
                         struct fault *fault)
{
    void *is_blamed = NULL;
    enum status status = array_make(&is_blamed, run->work.data.n_channels, 1, fault);
    if (status == OK)
        status = record_points_judge(run, history, at, is_blamed, fault);
    if (status == OK)
        status = record_trend_judge(run, fault);
    if (status == OK)
        status = record_temperature_judge(run, fault);
    if (status == OK)
        status = record_lag_judge(run, fault);
    if (status == OK)
        status = record_judge(run, history, at, is_blamed, fault);
    free(is_blamed);
    return status;
}

static enum status judge_run(const struct night *night, struct flagger *flagger,
                             const struct record_history *history, size_t at, struct fault *fault)
{
    struct record_run run;
    const struct run_row *row = history->runs[at].run;
    enum status status = record_run_open(night, row, flagger, &run, fault);
    if (status == OK) {
        status = judge(&run, history, at, fault);
        record_run_end(&run);
    }
    if (status != OK)
        fault_where(fault, "run %s", row->run);
    return status;
}

static enum status judge_group(const struct night *night, const struct record_group *group,
                               int64_t reduction, struct fault *fault)
{
    struct flagger flagger;
    struct record_history history;
    memset(&flagger, 0, sizeof flagger);
    enum status status = record_history_read(night, group->runs, group->n_runs, &history, fault);
    if (status != OK)
        return status;
    status = flagger_open(night->store, reduction, &flagger, fault);
    for (size_t i = 0; status == OK && i < history.n_runs; i++)
        status = judge_run(night, &flagger, &history, i, fault);
    flagger_end(&flagger);
    record_history_end(&history);
    return status;
}

enum status stage_record(const struct night *night, const struct record_group *group, int *fresh,
                         struct fault *fault)
{
    struct key_text key;
    int64_t reduction = 0;
    *fresh = 0;
    enum status status = make_key(night, group, &key, fault);
    if (status == OK)
        status = store_reduction(night->store, "record", group->subject, key.text, &reduction,
                                 fresh, fault);
    key_text_end(&key);
    if (status != OK || !*fresh)
        return status;
    return judge_group(night, group, reduction, fault);
}
