/* tap_change.c - bracketed changes of tap pressures; see tap_change.h. */
#include "reduce/tap_change.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"
#include "reduce/statistics/bracket.h"
#include "reduce/statistics/false_discovery.h"
#include "reduce/statistics/student.h"

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

/* 1 when the tap lives in a run of the configuration. */
static int lives(const struct observation *observations, size_t n, size_t configuration)
{
    for (size_t i = 0; i < n; i++)
        if (observations[i].configuration == configuration)
            return 1;
    return 0;
}

/* The same evidence is asked for as for a verdict on a coefficient: two mountings on either side. */
static enum tap_test judge(const struct bracket_result *result, const struct bracket_delta *delta,
                           int has_noise)
{
    if (result->baseline_mountings < 2)
        return TAP_BASELINE_ONCE;
    if (delta->outcome != OUTCOME_OK)
        return TAP_UNBRACKETED;
    if (delta->mountings < 2)
        return TAP_MOUNTED_ONCE;
    return has_noise ? TAP_TESTED : TAP_NO_SCATTER;
}

static struct tap_change read_change(const struct bracket_result *result, size_t configuration,
                                     int has_noise)
{
    const double none = (double)NAN;
    const struct bracket_delta *delta = &result->deltas[configuration];
    struct tap_change change = {none, none, none, none, none, judge(result, delta, has_noise)};
    change.delta = delta->delta;
    if (has_noise && delta->outcome == OUTCOME_OK) {
        change.uncertainty = result->noise.standard_deviation * sqrt(delta->variance_factor);
        change.freedom = result->noise.degrees_of_freedom;
    }
    if (change.test == TAP_TESTED)
        change.p = student_p(change.delta / change.uncertainty, change.freedom);
    return change;
}

static enum status compare_tap(struct tap_work *work, size_t tap, struct tap_changes *changes,
                               struct fault *fault)
{
    struct bracket_result result;
    const double none = (double)NAN;
    size_t n_configurations = work->family->n_configurations;
    size_t n = observe(work, tap);
    enum outcome outcome = bracket_deltas(work->observations, n, n_configurations, &result, NULL);
    if (outcome == OUTCOME_NO_MEMORY)
        return FAIL(fault, NO_MEMORY, "no memory for the comparison of a tap's %zu mountings", n);
    enum tap_test lacks = outcome == OUTCOME_TOO_FEW ? TAP_BASELINE_ONCE : TAP_NOT_COMPARED;
    double s = result.noise.standard_deviation;
    int has_noise = outcome == OUTCOME_OK && s > SAME_VALUE * largest_value(work->observations, n);
    for (size_t c = 0; c < n_configurations; c++) {
        struct tap_change *change = &changes->changes[c * changes->n_taps + tap];
        *change = (struct tap_change){none, none, none, none, none, TAP_OF_BASELINE};
        if (c > 0 && !lives(work->observations, n, c))
            change->test = TAP_DEAD;
        else if (c > 0 && outcome != OUTCOME_OK)
            change->test = lacks;
        else if (c > 0)
            *change = read_change(&result, c, has_noise);
    }
    return OK;
}

/* p-values of one configuration, through scratch of n_taps. */
static enum status adjust(struct tap_change *changes, size_t n_taps, double *scratch,
                          struct fault *fault)
{
    for (size_t tap = 0; tap < n_taps; tap++)
        scratch[tap] = changes[tap].p;
    if (false_discovery_adjust(scratch, n_taps, scratch) != OUTCOME_OK)
        return FAIL(fault, NO_MEMORY, "no memory to compare %zu taps", n_taps);
    for (size_t tap = 0; tap < n_taps; tap++)
        changes[tap].q = scratch[tap];
    return OK;
}

static enum status adjust_all(const struct family *family, struct tap_changes *changes,
                              struct fault *fault)
{
    void *scratch = NULL;
    enum status status = array_make(&scratch, changes->n_taps, sizeof(double), fault);
    for (size_t c = 0; status == OK && c < family->n_configurations; c++)
        status = adjust(&changes->changes[c * changes->n_taps], changes->n_taps, scratch, fault);
    free(scratch);
    return status;
}

enum status tap_changes_make(const struct family *family, size_t measure, const struct tap_map *map,
                             struct tap_changes *changes, struct fault *fault)
{
    struct tap_work work;
    void *made = NULL;
    enum status status = tap_work_make(family, measure, map, &work, fault);
    if (status == OK)
        status = array_make(&made, family->n_configurations * map->n_taps, sizeof *changes->changes,
                            fault);
    *changes = (struct tap_changes){made, map->n_taps};
    if (status == OK)
        number_slots(&work);
    for (size_t tap = 0; status == OK && tap < map->n_taps; tap++)
        status = compare_tap(&work, tap, changes, fault);
    tap_work_end(&work);
    if (status == OK)
        status = adjust_all(family, changes, fault);
    if (status != OK)
        tap_changes_end(changes);
    return status;
}

void tap_changes_end(struct tap_changes *changes)
{
    free(changes->changes);
    memset(changes, 0, sizeof *changes);
}

const char *tap_test_reason(enum tap_test test)
{
    static const char *const reasons[] = {
        [TAP_TESTED] = "",
        [TAP_OF_BASELINE] = "",
        [TAP_NOT_COMPARED] = "nothing is compared at this attitude",
        [TAP_DEAD] = "dead tap",
        [TAP_BASELINE_ONCE] = "the tap lives in less than two mountings of the baseline",
        [TAP_UNBRACKETED] = "no return of the baseline before and after",
        [TAP_MOUNTED_ONCE] = "mounted once: nothing tells what a refit changes",
        [TAP_NO_SCATTER] = "nothing scatters between mountings",
    };
    return reasons[test];
}
