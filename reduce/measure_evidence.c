/* measure_evidence.c - observations and deltas of one measure; see measure_evidence.h. */
#include "reduce/measure_evidence.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/evidence_estimate.h"
#include "reduce/rows.h"

static struct mounting_value *find_mounting(struct evidence *evidence, const struct family_run *run)
{
    for (size_t i = 0; i < evidence->n; i++)
        if (evidence->mountings[i].configuration == run->configuration &&
            evidence->mountings[i].mounting == run->mounting)
            return &evidence->mountings[i];
    return NULL;
}

static struct mounting_value *add_mounting(struct evidence *evidence, const struct family_run *run)
{
    struct mounting_value *made = &evidence->mountings[evidence->n++];
    made->configuration = run->configuration;
    made->mounting = run->mounting;
    made->freedom = (double)INFINITY;
    return made;
}

static int by_configuration(const void *left, const void *right)
{
    const struct mounting_value *a = left;
    const struct mounting_value *b = right;
    if (a->configuration != b->configuration)
        return a->configuration < b->configuration ? -1 : 1;
    return a->mounting < b->mounting ? -1 : a->mounting > b->mounting;
}

/* What is averaged over the runs of a mounting: 1 below everything that is no ratio. */
static void take_parts(const struct family *family, const struct evidence *evidence, size_t run,
                       double *numerator, double *divisor)
{
    static const struct {
        enum quantity quantity, numerator, divisor;
        double factor;
    } ratios[] = {{QUANTITY_BALANCE, QUANTITY_CLF, QUANTITY_CL, 100},
                  {QUANTITY_LD, QUANTITY_CL, QUANTITY_CD, 1}};
    *numerator = family_value(family, run, evidence->measure, evidence->quantity);
    *divisor = 1;
    for (size_t i = 0; i < sizeof ratios / sizeof ratios[0]; i++) {
        if (ratios[i].quantity != evidence->quantity)
            continue;
        *numerator =
            ratios[i].factor * family_value(family, run, evidence->measure, ratios[i].numerator);
        *divisor = family_value(family, run, evidence->measure, ratios[i].divisor);
    }
}

/* Sums; a run whose parts are numbers and whose ratio is none makes the mounting's value NAN. */
static void add_up(const struct family *family, struct evidence *evidence, double *divisors)
{
    for (size_t i = 0; i < family->n_runs; i++) {
        double numerator = 0;
        double divisor = 0;
        evidence->left_out[family->runs[i].configuration] +=
            family->runs[i].left_out[evidence->measure];
        take_parts(family, evidence, i, &numerator, &divisor);
        if (!isfinite(numerator) || !isfinite(divisor))
            continue;
        struct mounting_value *mounting = find_mounting(evidence, &family->runs[i]);
        if (mounting == NULL)
            mounting = add_mounting(evidence, &family->runs[i]);
        if (!isfinite(family_value(family, i, evidence->measure, evidence->quantity)))
            numerator = (double)NAN;
        mounting->value += numerator;
        divisors[mounting - evidence->mountings] += divisor;
        mounting->time += family->runs[i].time[evidence->measure];
        mounting->shared += family_added(family, i, evidence->measure, evidence->quantity);
        mounting->freedom = fmin(mounting->freedom, family->runs[i].freedom[evidence->measure]);
        mounting->runs++;
    }
}

/* Means of the sums; mountings without a value are counted and left out. */
static void take_means(struct evidence *evidence, const double *divisors)
{
    size_t kept = 0;
    for (size_t i = 0; i < evidence->n; i++) {
        struct mounting_value mean = evidence->mountings[i];
        mean.value /= divisors[i];
        mean.time /= (double)mean.runs;
        mean.shared /= (double)mean.runs;
        if (isfinite(mean.value))
            evidence->mountings[kept++] = mean;
        else
            evidence->undefined[mean.configuration]++;
    }
    evidence->n = kept;
    qsort(evidence->mountings, evidence->n, sizeof *evidence->mountings, by_configuration);
}

static void observe(struct evidence *evidence)
{
    double sum = 0;
    for (size_t i = 0; i < evidence->n; i++) {
        const struct mounting_value *m = &evidence->mountings[i];
        evidence->observations[i] = (struct observation){m->configuration, m->time, m->value};
        evidence->shared[i] =
            (struct shared_observation){m->configuration, {m->shared, m->freedom}};
        evidence->counted[m->configuration]++;
        if (m->configuration == 0)
            sum += m->value;
    }
    evidence->baseline_mean =
        evidence->counted[0] == 0 ? (double)NAN : sum / (double)evidence->counted[0];
}

/* A mounting outside the returns would have its drift extrapolated: the model leaves it out like the bracket. */
static int is_between_returns(const struct evidence *evidence, double time)
{
    int before = 0;
    int after = 0;
    for (size_t i = 0; i < evidence->n; i++) {
        before |= evidence->mountings[i].configuration == 0 && evidence->mountings[i].time <= time;
        after |= evidence->mountings[i].configuration == 0 && evidence->mountings[i].time >= time;
    }
    return before && after;
}

static void observe_runs(const struct family *family, struct evidence *evidence)
{
    for (size_t i = 0; i < family->n_runs; i++) {
        const struct family_run *run = &family->runs[i];
        const struct mounting_value *mounting = find_mounting(evidence, run);
        double value = family_value(family, i, evidence->measure, evidence->quantity);
        if (mounting == NULL || !isfinite(value) || !is_between_returns(evidence, mounting->time))
            continue;
        size_t at = evidence->n_runs++;
        evidence->run_of[at] = i;
        evidence->runs[at] = (struct night_observation){run->configuration, 0,
                                                        (size_t)(mounting - evidence->mountings),
                                                        run->time[evidence->measure], value};
        evidence->run_shared[at] = (struct shared_observation){
            run->configuration,
            {family_added(family, i, evidence->measure, evidence->quantity),
             run->freedom[evidence->measure]}};
    }
}

static enum status make_room(const struct family *family, struct evidence *evidence,
                             struct fault *fault)
{
    enum { PARTS = 7 };
    const size_t n = family->n_configurations;
    const struct {
        size_t count, size;
    } parts[PARTS] = {{family->n_runs, sizeof *evidence->mountings},
                      {family->n_runs, sizeof *evidence->observations},
                      {family->n_runs, sizeof *evidence->shared},
                      {family->n_runs, sizeof *evidence->runs},
                      {family->n_runs, sizeof *evidence->run_shared},
                      {family->n_runs, sizeof *evidence->run_of},
                      {n * n, sizeof *evidence->correlation}};
    void *made[PARTS] = {NULL};
    enum status status = OK;
    for (int i = 0; status == OK && i < PARTS; i++)
        status = array_make(&made[i], parts[i].count, parts[i].size, fault);
    evidence->mountings = made[0];
    evidence->observations = made[1];
    evidence->shared = made[2];
    evidence->runs = made[3];
    evidence->run_shared = made[4];
    evidence->run_of = made[5];
    evidence->correlation = made[6];
    return status;
}

static enum status collect(const struct family *family, struct evidence *evidence,
                           struct fault *fault)
{
    void *divisors = NULL;
    enum status status = array_make(&divisors, family->n_runs, sizeof(double), fault);
    if (status != OK)
        return status;
    add_up(family, evidence, divisors);
    take_means(evidence, divisors);
    free(divisors);
    return OK;
}

static void clear(enum quantity quantity, size_t measure, struct evidence *evidence)
{
    memset(evidence, 0, sizeof *evidence);
    evidence->quantity = quantity;
    evidence->measure = measure;
    evidence->baseline_mean = (double)NAN;
    evidence->noise.variance = (double)NAN;
    evidence->outcome = OUTCOME_TOO_FEW;
}

enum status evidence_make(const struct family *family, enum quantity quantity, size_t measure,
                          const struct variance_estimate *season, struct evidence *evidence,
                          struct fault *fault)
{
    int is_small = family->n_configurations <= BRACKET_CONFIGURATIONS_MAX;
    clear(quantity, measure, evidence);
    enum status status = make_room(family, evidence, fault);
    if (status == OK && is_small)
        status = collect(family, evidence, fault);
    if (status == OK && is_small && evidence->n > BRACKET_OBSERVATIONS_MAX) {
        evidence->n = 0;
        return OK;
    }
    if (status == OK && is_small) {
        observe(evidence);
        observe_runs(family, evidence);
        status = evidence_estimate(evidence, family->n_configurations, season, fault);
    }
    if (status != OK)
        evidence_end(evidence);
    return status;
}

void evidence_end(struct evidence *evidence)
{
    free(evidence->mountings);
    free(evidence->observations);
    free(evidence->shared);
    free(evidence->runs);
    free(evidence->run_shared);
    free(evidence->run_of);
    free(evidence->correlation);
    memset(evidence, 0, sizeof *evidence);
}

int evidence_has_noise(const struct evidence *evidence)
{
    return evidence->outcome == OUTCOME_OK && !evidence->repeats_identical &&
           evidence->bracket.noise.degrees_of_freedom > 0;
}

double evidence_baseline_at(const struct evidence *evidence, double time)
{
    double weights[BRACKET_OBSERVATIONS_MAX];
    double value = (double)NAN;
    if (bracket_baseline(evidence->observations, evidence->n, time, &value, weights) != OUTCOME_OK)
        return (double)NAN;
    return value;
}
