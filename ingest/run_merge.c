/* run_merge.c - see run_merge.h. */
#include "ingest/run_merge.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/label_index.h"

void merged_run_end(struct merged_run *merged)
{
    log_record_free(merged->record);
    free(merged->channel_log);
    free(merged->lacks);
    *merged = (struct merged_run){0};
}

/* Where a log's channels and covariance rows begin in the merged ones. */
struct log_place {
    size_t channel;
    size_t covaried;
};

struct merger {
    struct log_slot *logs;
    size_t n;
    const struct iso_time *start;
    struct log_place *places; /* n + 1: the last one holds the totals */
    struct merged_run *merged;
    struct label_index labels; /* of the merged points */
    size_t points_most;
};

static double since_1970(const struct iso_time *start, enum log_clock clock, double time)
{
    if (clock == LOG_WITHOUT_TIME || isnan(time))
        return start->seconds;
    return clock == LOG_SINCE_START ? start->seconds + time : start->midnight + time;
}

static struct channel_statistics nothing(void)
{
    const double none = (double)NAN;
    return (struct channel_statistics){.mean = none,
                                       .sd = none,
                                       .n_effective = none,
                                       .minimum = none,
                                       .maximum = none,
                                       .mean_first_half = none,
                                       .mean_second_half = none,
                                       .stated = none};
}

static int make_room(struct merger *merger)
{
    struct log_record *record = merger->merged->record;
    size_t n = merger->n;
    merger->places = calloc(n + 1, sizeof *merger->places);
    if (merger->places == NULL)
        return 0;
    for (size_t i = 0; i < n; i++) {
        merger->places[i + 1].channel =
            merger->places[i].channel + merger->logs[i].record->n_channels;
        merger->places[i + 1].covaried =
            merger->places[i].covaried + merger->logs[i].record->n_covaried;
        merger->points_most += merger->logs[i].record->n_points;
    }
    size_t channels = merger->places[n].channel;
    record->channels = calloc(channels + 1, sizeof *record->channels);
    record->covaried = calloc(channels + 1, sizeof *record->covaried);
    record->points = calloc(merger->points_most + 1, sizeof *record->points);
    merger->merged->channel_log = calloc(channels + 1, sizeof *merger->merged->channel_log);
    merger->merged->lacks = calloc(merger->points_most * n + 1, sizeof *merger->merged->lacks);
    return record->channels != NULL && record->covaried != NULL && record->points != NULL &&
           merger->merged->channel_log != NULL && merger->merged->lacks != NULL;
}

static void take_channels(struct merger *merger)
{
    struct log_record *record = merger->merged->record;
    for (size_t i = 0; i < merger->n; i++) {
        struct log_record *log = merger->logs[i].record;
        const struct log_place *at = &merger->places[i];
        for (size_t k = 0; k < log->n_channels; k++) {
            record->channels[at->channel + k] = log->channels[k];
            log->channels[k] = (struct log_channel){0};
            merger->merged->channel_log[at->channel + k] = i;
        }
        for (size_t k = 0; k < log->n_covaried; k++)
            record->covaried[at->covaried + k] = at->channel + log->covaried[k];
        record->rows += log->rows;
    }
    record->n_channels = merger->places[merger->n].channel;
    record->n_covaried = merger->places[merger->n].covaried;
}

/* A place for a point of this label, all channels without samples. */
static struct log_point *add_point(struct merger *merger, const struct log_point *from)
{
    struct log_record *record = merger->merged->record;
    size_t k = record->n_covaried;
    size_t at = record->n_points;
    struct log_point *point = &record->points[record->n_points++];
    *point = (struct log_point){.rows = from->rows,
                                .first_line = from->first_line,
                                .last_line = from->last_line,
                                .time = merger->start->seconds,
                                .duration = (double)NAN};
    point->label = strdup(from->label);
    point->statistics = calloc(record->n_channels, sizeof *point->statistics);
    if (point->label == NULL || point->statistics == NULL ||
        !label_index_add(&merger->labels, record->points, at))
        return NULL;
    for (size_t i = 0; i < record->n_channels; i++)
        point->statistics[i] = nothing();
    if (from->covariance == NULL || k == 0)
        return point;
    point->covariance = calloc(k * k, sizeof *point->covariance);
    if (point->covariance == NULL)
        return NULL;
    return point;
}

/* A point gets a covariance as soon as one of its logs has one. */
static int copy_covariance(const struct merger *merger, size_t log, const struct log_point *from,
                           struct log_point *to)
{
    size_t total = merger->merged->record->n_covaried;
    size_t k = merger->logs[log].record->n_covaried;
    size_t at = merger->places[log].covaried;
    if (from->covariance == NULL)
        return 1;
    if (to->covariance == NULL)
        to->covariance = calloc(total * total, sizeof *to->covariance);
    if (to->covariance == NULL)
        return 0;
    for (size_t i = 0; i < k; i++)
        for (size_t j = 0; j < k; j++)
            to->covariance[(at + i) * total + at + j] = from->covariance[i * k + j];
    return 1;
}

static int merge_point(struct merger *merger, size_t log, const struct log_point *from)
{
    const struct log_record *record = merger->merged->record;
    struct log_point *to =
        label_index_find(&merger->labels, record->points, from->label, strlen(from->label));
    enum log_clock clock = merger->logs[log].record->clock;
    if (to == NULL)
        to = add_point(merger, from);
    if (to == NULL)
        return 0;
    if (isnan(to->duration) && clock != LOG_WITHOUT_TIME) {
        to->time = since_1970(merger->start, clock, from->time);
        to->duration = from->duration;
    }
    memcpy(to->statistics + merger->places[log].channel, from->statistics,
           merger->logs[log].record->n_channels * sizeof *from->statistics);
    return copy_covariance(merger, log, from, to);
}

/* Points of the merged record that one log does not have, marked at [point * n + log]. */
static int mark_lacks(const struct merger *merger, size_t log, unsigned char *is_lacking)
{
    const struct log_record *record = merger->merged->record;
    struct log_record *own = merger->logs[log].record;
    struct label_index labels = {NULL, 0, 0};
    int is_full = label_index_fill(&labels, own);
    for (size_t p = 0; is_full && p < record->n_points; p++) {
        const char *label = record->points[p].label;
        is_lacking[p * merger->n + log] =
            label_index_find(&labels, own->points, label, strlen(label)) == NULL;
    }
    label_index_end(&labels);
    return is_full;
}

/* In the order of the points; 0 without memory. */
static int find_lacks(struct merger *merger)
{
    struct merged_run *merged = merger->merged;
    size_t points = merged->record->n_points;
    unsigned char *is_lacking = calloc(points * merger->n + 1, 1);
    int is_whole = is_lacking != NULL;
    for (size_t i = 0; is_whole && i < merger->n; i++)
        is_whole = mark_lacks(merger, i, is_lacking);
    for (size_t k = 0; is_whole && k < points * merger->n; k++)
        if (is_lacking[k])
            merged->lacks[merged->n_lacks++] = (struct point_lack){k / merger->n, k % merger->n};
    free(is_lacking);
    return is_whole;
}

/* Traces move to the merged points and channels; the worst of all logs together stay. */
static int take_traces(const struct merger *merger)
{
    struct log_record *record = merger->merged->record;
    size_t n = 0;
    for (size_t i = 0; i < merger->n; i++)
        n += merger->logs[i].record->n_traces;
    record->traces = calloc(n + 1, sizeof *record->traces);
    if (record->traces == NULL)
        return 0;
    for (size_t i = 0; i < merger->n; i++) {
        struct log_record *log = merger->logs[i].record;
        for (size_t t = 0; t < log->n_traces; t++) {
            struct log_trace *trace = &record->traces[record->n_traces++];
            const char *label = log->points[log->traces[t].point].label;
            *trace = log->traces[t];
            log->traces[t] = (struct log_trace){0}; /* handed over */
            trace->channel += merger->places[i].channel;
            trace->point =
                (size_t)(label_index_find(&merger->labels, record->points, label, strlen(label)) -
                         record->points);
        }
    }
    record->n_traces = log_traces_choose(record->traces, record->n_traces, TRACES_A_RUN);
    return 1;
}

static enum status merge(struct merger *merger, struct fault *fault)
{
    merger->merged->record = calloc(1, sizeof *merger->merged->record);
    if (merger->merged->record == NULL || !make_room(merger))
        return FAIL(fault, NO_MEMORY, "no memory to merge the logs of a run");
    take_channels(merger);
    for (size_t i = 0; i < merger->n; i++)
        for (size_t p = 0; p < merger->logs[i].record->n_points; p++)
            if (!merge_point(merger, i, &merger->logs[i].record->points[p]))
                return FAIL(fault, NO_MEMORY, "no memory to merge the logs of a run");
    if (!find_lacks(merger) || !take_traces(merger))
        return FAIL(fault, NO_MEMORY, "no memory to merge the logs of a run");
    return OK;
}

enum status run_merge(struct log_slot *logs, size_t n, const struct iso_time *start,
                      struct merged_run *merged, struct fault *fault)
{
    struct merger merger = {.logs = logs, .n = n, .start = start, .merged = merged};

    *merged = (struct merged_run){0};
    enum status status = merge(&merger, fault);
    for (size_t i = 0; i < n; i++) {
        log_record_free(logs[i].record);
        logs[i].record = NULL;
    }
    free(merger.places);
    label_index_end(&merger.labels);
    if (status != OK)
        merged_run_end(merged);
    return status;
}
