/* measure_evidence.h - the observations of one quantity at one measure, and the deltas they give. */
#ifndef LAPWING_MEASURE_EVIDENCE_H
#define LAPWING_MEASURE_EVIDENCE_H

#include "reduce/family.h"
#include "reduce/statistics/bracket.h"
#include "reduce/statistics/bracket_shared.h"

/* One mounting's value: the mean over its runs that have one; of balance and L/D the ratio of the
 * means, and none when one of those runs has none. */
struct mounting_value {
    size_t configuration; /* index in the family */
    size_t mounting;      /* from 1 */
    double time, value;
    double shared;  /* mean of what the step to the target added to its runs */
    double freedom; /* the least of its degrees of freedom */
    size_t runs;
};

struct evidence {
    enum quantity quantity;
    size_t measure;
    struct mounting_value *mountings; /* by configuration, then mounting */
    struct observation *observations; /* the same, as the statistics want them */
    struct shared_error *shared;      /* the same */
    size_t n;
    size_t counted[BRACKET_CONFIGURATIONS_MAX];   /* mountings with a value, by configuration */
    size_t undefined[BRACKET_CONFIGURATIONS_MAX]; /* mountings whose ratio is undefined */
    size_t left_out[BRACKET_CONFIGURATIONS_MAX];  /* points left out, by configuration */
    double baseline_mean;                         /* NAN without one */
    enum outcome outcome;                         /* of the bracket as a whole */
    struct bracket_result bracket;
    int repeats_identical; /* 1: the noise is below rounding, so what repeats says nothing */
    struct bracket_uncertainty uncertainty;
    double *correlation; /* n_configurations squared, of the deltas with the shared parts */
};

/* Collects and brackets. A family larger than the statistics take (64 configurations, 512 mountings)
 * has outcome OUTCOME_TOO_FEW and no mountings. On OK the caller ends *evidence with
 * evidence_end(). */
enum status evidence_make(const struct family *family, enum quantity quantity, size_t measure,
                          struct evidence *evidence, struct fault *fault);
void evidence_end(struct evidence *evidence);

/* 1 when the noise is a number to build intervals on: estimated, and above rounding. */
int evidence_has_noise(const struct evidence *evidence);

/* Baseline interpolated to a mounting's time; NAN outside the returns. */
double evidence_baseline_at(const struct evidence *evidence, double time);

#endif
