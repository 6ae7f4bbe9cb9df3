/* gap_watch.c - see gap_watch.h. */
#include "ingest/gap_watch.h"

#include <math.h>
#include <stdlib.h>

#include "ingest/point_samples.h"

/* Steps of a binary fraction of a second are not exact: 0.03 - 0.02 is a little less than 0.01. */
static const double rounding = 1 + 1e-6;

struct gap_watch gap_watch_ready(void)
{
    return (struct gap_watch){.previous = NAN, .least = NAN, .most = NAN};
}

void gap_watch_free(struct gap_watch *watch)
{
    free(watch->steps);
    *watch = gap_watch_ready();
}

static int by_size(const void *left, const void *right)
{
    double a = *(const double *)left;
    double b = *(const double *)right;
    return (a > b) - (a < b);
}

/* The steps so far, counted and forgotten. Evenly spaced ones need no sorting. */
static void judge(struct gap_watch *watch)
{
    struct time_gaps *found = &watch->so_far;
    if (watch->n >= 3 && !(watch->most <= GAP_RATIO * rounding * watch->least)) {
        qsort(watch->steps, watch->n, sizeof *watch->steps, by_size);
        double median = watch->steps[watch->n / 2];
        for (size_t i = 0; i < watch->n && median > 0; i++) {
            found->repeats += watch->steps[i] == 0;
            found->gaps += watch->steps[i] > GAP_RATIO * rounding * median;
        }
        if (median > 0 && watch->most > GAP_RATIO * rounding * median &&
            watch->most > found->longest) {
            found->longest = watch->most;
            found->usual = median;
            found->line = watch->line;
        }
    }
    watch->n = 0;
    watch->least = watch->most = NAN;
}

void gap_watch_finish(struct gap_watch *watch)
{
    judge(watch);
    watch->previous = NAN;
}

static enum status grow(struct gap_watch *watch, struct fault *fault)
{
    size_t capacity = watch->capacity > 0 ? 2 * watch->capacity : 1024;
    double *steps = realloc(watch->steps, capacity * sizeof *steps);
    if (steps == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the times of a point");
    watch->steps = steps;
    watch->capacity = capacity;
    return OK;
}

enum status gap_watch_take(struct gap_watch *watch, double now, size_t line, struct fault *fault)
{
    double step = now - watch->previous;
    watch->previous = now;
    if (isnan(step))
        return OK;
    if (watch->n == POINT_SAMPLES_MAX)
        judge(watch);
    if (watch->n == watch->capacity) {
        enum status status = grow(watch, fault);
        if (status != OK)
            return status;
    }
    watch->steps[watch->n++] = step;
    if (!(step >= watch->least))
        watch->least = step;
    if (!(step <= watch->most)) {
        watch->most = step;
        watch->line = line;
    }
    return OK;
}
