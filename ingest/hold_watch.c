/* hold_watch.c - see hold_watch.h. */
#include "ingest/hold_watch.h"

#include <math.h>
#include <stdlib.h>

struct held_channel {
    enum map_hold hold;
    /* of the point */
    double value; /* NAN: no sample yet, or a missing one since */
    double last;  /* the last sample, over missing ones; NAN before the first */
    size_t length, longest;
    size_t changes, blanks;
    size_t equal; /* samples like the one before, nothing missing between */
    int is_whole; /* 1: the run began with a change */
    /* of the log */
    size_t *runs; /* lengths of whole ones */
    size_t n_runs, capacity;
    size_t longest_cut;
    double seen; /* the last sample; NAN before the first */
    int has_changed;
};

static void begin_point(struct held_channel *held)
{
    held->value = held->last = (double)NAN;
    held->length = held->longest = 0;
    held->changes = held->blanks = held->equal = 0;
    held->is_whole = 0;
}

enum status hold_watch_make(struct hold_watch *watch, size_t n, struct fault *fault)
{
    watch->n = n;
    watch->channels = calloc(n + 1, sizeof *watch->channels);
    if (watch->channels == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the holds of a log's channels");
    for (size_t i = 0; i < n; i++) {
        begin_point(&watch->channels[i]);
        watch->channels[i].seen = (double)NAN;
    }
    return OK;
}

void hold_watch_free(struct hold_watch *watch)
{
    for (size_t i = 0; watch->channels != NULL && i < watch->n; i++)
        free(watch->channels[i].runs);
    free(watch->channels);
    *watch = (struct hold_watch){NULL, 0};
}

void hold_watch_declare(struct hold_watch *watch, size_t channel, enum map_hold hold)
{
    watch->channels[channel].hold = hold;
}

static enum status keep_run(struct held_channel *held, struct fault *fault)
{
    if (held->hold != HOLD_REPEAT || held->n_runs == HOLD_RUNS_MAX)
        return OK;
    if (held->n_runs == held->capacity) {
        size_t capacity = held->capacity > 0 ? 2 * held->capacity : 64;
        size_t *runs = realloc(held->runs, capacity * sizeof *runs);
        if (runs == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for the holds of a channel");
        held->runs = runs;
        held->capacity = capacity;
    }
    held->runs[held->n_runs++] = held->length;
    return OK;
}

/* A run that something else than a change has ended. */
static void cut_run(struct held_channel *held)
{
    if (held->length > held->longest_cut)
        held->longest_cut = held->length;
    held->value = (double)NAN;
    held->length = 0;
    held->is_whole = 0;
}

static enum status change(struct held_channel *held, double value, struct fault *fault)
{
    enum status status = OK;
    if (held->is_whole)
        status = keep_run(held, fault);
    else if (held->length > held->longest_cut)
        held->longest_cut = held->length;
    held->is_whole = held->length > 0;
    held->value = value;
    held->length = 0;
    return status;
}

enum status hold_watch_take(struct hold_watch *watch, size_t channel, double value,
                            struct fault *fault)
{
    struct held_channel *held = &watch->channels[channel];
    enum status status = OK;
    if (isnan(value)) {
        cut_run(held);
        return OK;
    }
    if (value != held->value) /* also when there is none */
        status = change(held, value, fault);
    else
        held->equal++;
    held->changes += !isnan(held->last) && value != held->last;
    held->has_changed = held->has_changed || (!isnan(held->seen) && value != held->seen);
    held->last = held->seen = value;
    held->length++;
    if (held->length > held->longest)
        held->longest = held->length;
    return status;
}

void hold_watch_blank(struct hold_watch *watch, size_t channel)
{
    watch->channels[channel].blanks++;
}

static void finish_blank(const struct held_channel *held, struct channel_statistics *statistics)
{
    statistics->n_missing -= (double)held->blanks;
    statistics->stuck = (double)held->longest;
    statistics->repeated = (double)(held->equal - (held->longest > 0 ? held->longest - 1 : 0));
}

static void finish_repeat(const struct held_channel *held, struct channel_statistics *statistics)
{
    double most = (double)held->changes + 1;
    if (statistics->n_effective > most) /* NAN stays */
        statistics->n_effective = most;
    statistics->stuck = (double)held->longest;
}

void hold_watch_finish(struct hold_watch *watch, struct channel_statistics *statistics)
{
    for (size_t i = 0; i < watch->n; i++) {
        struct held_channel *held = &watch->channels[i];
        if (held->hold == HOLD_NONE)
            continue;
        if (held->hold == HOLD_BLANK)
            finish_blank(held, &statistics[i]);
        else
            finish_repeat(held, &statistics[i]);
        cut_run(held);
        begin_point(held);
    }
}

static int by_length(const void *left, const void *right)
{
    size_t a = *(const size_t *)left;
    size_t b = *(const size_t *)right;
    return (a > b) - (a < b);
}

/* In rows; 1 where nothing is known of it. */
static size_t usual_hold(struct held_channel *held)
{
    if (held->n_runs == 0)
        return held->has_changed ? held->longest_cut : 1;
    qsort(held->runs, held->n_runs, sizeof *held->runs, by_length);
    return held->runs[held->n_runs / 2];
}

/* From rows into holds. */
static void scale(struct channel_statistics *statistics, double usual)
{
    double outside = statistics->n - statistics->stuck; /* rows outside the longest run */
    double runs = outside - statistics->repeated;
    if (isfinite(statistics->repeated))
        statistics->repeated = usual * (fmax(0, outside / usual - runs) + 1) - 1;
    statistics->stuck /= usual;
}

void hold_watch_finish_log(struct hold_watch *watch, const struct log_record *record)
{
    for (size_t i = 0; i < watch->n; i++) {
        if (watch->channels[i].hold != HOLD_REPEAT)
            continue;
        double usual = (double)usual_hold(&watch->channels[i]);
        for (size_t p = 0; p < record->n_points; p++)
            scale(&record->points[p].statistics[i], usual);
    }
}
