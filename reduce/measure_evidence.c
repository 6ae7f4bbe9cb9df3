/* measure_evidence.c - observations and deltas of one measure; see measure_evidence.h. */
#include "reduce/measure_evidence.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

static struct mounting_value *find_mounting(struct evidence *evidence, const struct family_run *run)
{
    for (size_t i = 0; i < evidence->n; i++)
        if (evidence->mountings[i].configuration == run->configuration &&
            evidence->mountings[i].mounting == run->mounting)
            return &evidence->mountings[i];
    struct mounting_value *made = &evidence->mountings[evidence->n++];
    made->configuration = run->configuration;
    made->mounting = run->mounting;
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

/* Sums first, means at the end. */
static void collect(const struct family *family, struct evidence *evidence)
{
    for (size_t i = 0; i < family->n_runs; i++) {
        double value = family_value(family, i, evidence->measure, evidence->quantity);
        if (!isfinite(value))
            continue;
        struct mounting_value *mounting = find_mounting(evidence, &family->runs[i]);
        mounting->value += value;
        mounting->time += family->runs[i].time[evidence->measure];
        mounting->runs++;
    }
    for (size_t i = 0; i < evidence->n; i++) {
        evidence->mountings[i].value /= (double)evidence->mountings[i].runs;
        evidence->mountings[i].time /= (double)evidence->mountings[i].runs;
    }
    qsort(evidence->mountings, evidence->n, sizeof *evidence->mountings, by_configuration);
}

static void observe(struct evidence *evidence)
{
    double sum = 0;
    for (size_t i = 0; i < evidence->n; i++) {
        const struct mounting_value *m = &evidence->mountings[i];
        evidence->observations[i] = (struct observation){m->configuration, m->time, m->value};
        evidence->counted[m->configuration]++;
        if (m->configuration == 0)
            sum += m->value;
    }
    evidence->baseline_mean =
        evidence->counted[0] == 0 ? (double)NAN : sum / (double)evidence->counted[0];
}

static enum status make_room(const struct family *family, struct evidence *evidence,
                             struct fault *fault)
{
    void *mountings = NULL;
    void *observations = NULL;
    void *correlation = NULL;
    size_t n = family->n_configurations;
    enum status status = array_make(&mountings, family->n_runs, sizeof *evidence->mountings, fault);
    if (status == OK)
        status = array_make(&observations, family->n_runs, sizeof *evidence->observations, fault);
    if (status == OK)
        status = array_make(&correlation, n * n, sizeof *evidence->correlation, fault);
    evidence->mountings = mountings;
    evidence->observations = observations;
    evidence->correlation = correlation;
    return status;
}

enum status evidence_make(const struct family *family, enum quantity quantity, size_t measure,
                          struct evidence *evidence, struct fault *fault)
{
    memset(evidence, 0, sizeof *evidence);
    evidence->quantity = quantity;
    evidence->measure = measure;
    evidence->baseline_mean = (double)NAN;
    evidence->outcome = OUTCOME_TOO_FEW;
    enum status status = make_room(family, evidence, fault);
    if (status != OK) {
        evidence_end(evidence);
        return status;
    }
    if (family->n_configurations > BRACKET_CONFIGURATIONS_MAX)
        return OK;
    collect(family, evidence);
    if (evidence->n > BRACKET_OBSERVATIONS_MAX) {
        evidence->n = 0;
        return OK;
    }
    observe(evidence);
    evidence->outcome =
        bracket_deltas(evidence->observations, evidence->n, family->n_configurations,
                       &evidence->bracket, evidence->correlation);
    if (evidence->outcome != OUTCOME_NO_MEMORY)
        return OK;
    evidence_end(evidence);
    return FAIL(fault, NO_MEMORY, "no memory for the comparison of %zu configurations",
                family->n_configurations);
}

void evidence_end(struct evidence *evidence)
{
    free(evidence->mountings);
    free(evidence->observations);
    free(evidence->correlation);
    memset(evidence, 0, sizeof *evidence);
}

double evidence_baseline_at(const struct evidence *evidence, double time)
{
    double weights[BRACKET_OBSERVATIONS_MAX];
    double value = (double)NAN;
    if (bracket_baseline(evidence->observations, evidence->n, time, &value, weights) != OUTCOME_OK)
        return (double)NAN;
    return value;
}
