/* tap_change.c - bracketed changes of tap pressures; see tap_change.h. */
#include "reduce/tap_change.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"
#include "reduce/statistics/bracket.h"

/* Scatter below this share of the values is rounding of the arithmetic. */
static const double SAME_VALUE = 1e-12;

/* Sums of one tap over a mounting. */
struct tap_mounting {
    double cp, time;
    size_t runs;
};

struct tap_work {
    const struct family *family;
    const struct tap_map *map;
    size_t measure;
    size_t *slot; /* of each run: its mounting among all */
    size_t n_slots;
    struct tap_mounting *mountings; /* n_slots */
    struct observation *observations;
};

static void tap_work_end(struct tap_work *work)
{
    free(work->slot);
    free(work->mountings);
    free(work->observations);
}

static enum status tap_work_make(const struct family *family, size_t measure,
                                 const struct tap_map *map, struct tap_work *work,
                                 struct fault *fault)
{
    void *slot = NULL;
    void *mountings = NULL;
    void *observations = NULL;
    enum status status = array_make(&slot, family->n_runs, sizeof *work->slot, fault);
    if (status == OK)
        status = array_make(&mountings, family->n_runs, sizeof *work->mountings, fault);
    if (status == OK)
        status = array_make(&observations, family->n_runs, sizeof *work->observations, fault);
    *work = (struct tap_work){family, map, measure, slot, 0, mountings, observations};
    return status;
}

static void number_slots(struct tap_work *work)
{
    for (size_t i = 0; i < work->family->n_runs; i++) {
        const struct family_run *run = &work->family->runs[i];
        size_t k = 0;
        while (k < i && (work->family->runs[k].configuration != run->configuration ||
                         work->family->runs[k].mounting != run->mounting))
            k++;
        work->slot[i] = k < i ? work->slot[k] : work->n_slots++;
    }
}

/* Fills observations with the mountings in which the tap lives; gives their number. */
static size_t observe(struct tap_work *work, size_t tap)
{
    size_t n = 0;
    memset(work->mountings, 0, work->n_slots * sizeof *work->mountings);
    for (size_t i = 0; i < work->family->n_runs; i++) {
        double cp = work->map->cp[i * work->map->n_taps + tap];
        double time = work->family->runs[i].time[work->measure];
        if (!isfinite(cp) || !isfinite(time))
            continue;
        struct tap_mounting *mounting = &work->mountings[work->slot[i]];
        mounting->cp += cp;
        mounting->time += time;
        mounting->runs++;
    }
    for (size_t k = 0; k < work->n_slots; k++) {
        const struct tap_mounting *mounting = &work->mountings[k];
        double runs = (double)mounting->runs;
        size_t first = 0;
        while (work->slot[first] != k)
            first++;
        if (mounting->runs > 0)
            work->observations[n++] =
                (struct observation){work->family->runs[first].configuration, mounting->time / runs,
                                     mounting->cp / runs};
    }
    return n;
}

static double largest_value(const struct observation *observations, size_t n)
{
    double largest = 0;
    for (size_t i = 0; i < n; i++)
        largest = fmax(largest, fabs(observations[i].value));
    return largest;
}

static enum status compare_tap(struct tap_work *work, size_t tap, struct tap_changes *changes,
                               struct fault *fault)
{
    struct bracket_result result;
    size_t n_configurations = work->family->n_configurations;
    size_t n = observe(work, tap);
    for (size_t c = 0; c < n_configurations; c++) {
        changes->delta[c * changes->n_taps + tap] = (double)NAN;
        changes->uncertainty[c * changes->n_taps + tap] = (double)NAN;
    }
    enum outcome outcome = bracket_deltas(work->observations, n, n_configurations, &result, NULL);
    if (outcome == OUTCOME_NO_MEMORY)
        return FAIL(fault, NO_MEMORY, "no memory for the comparison of a tap's %zu mountings", n);
    if (outcome != OUTCOME_OK)
        return OK;
    double s = result.noise.standard_deviation;
    int has_noise = s > SAME_VALUE * largest_value(work->observations, n);
    for (size_t c = 1; c < n_configurations; c++) {
        const struct bracket_delta *delta = &result.deltas[c];
        changes->delta[c * changes->n_taps + tap] = delta->delta;
        if (has_noise && delta->outcome == OUTCOME_OK)
            changes->uncertainty[c * changes->n_taps + tap] = s * sqrt(delta->variance_factor);
    }
    return OK;
}

enum status tap_changes_make(const struct family *family, size_t measure, const struct tap_map *map,
                             struct tap_changes *changes, struct fault *fault)
{
    struct tap_work work;
    void *delta = NULL;
    void *uncertainty = NULL;
    size_t n = family->n_configurations * map->n_taps;
    enum status status = tap_work_make(family, measure, map, &work, fault);
    if (status == OK)
        status = array_make(&delta, n, sizeof *changes->delta, fault);
    if (status == OK)
        status = array_make(&uncertainty, n, sizeof *changes->uncertainty, fault);
    *changes = (struct tap_changes){delta, uncertainty, map->n_taps};
    if (status == OK)
        number_slots(&work);
    for (size_t tap = 0; status == OK && tap < map->n_taps; tap++)
        status = compare_tap(&work, tap, changes, fault);
    tap_work_end(&work);
    if (status != OK)
        tap_changes_end(changes);
    return status;
}

void tap_changes_end(struct tap_changes *changes)
{
    free(changes->delta);
    free(changes->uncertainty);
    memset(changes, 0, sizeof *changes);
}
