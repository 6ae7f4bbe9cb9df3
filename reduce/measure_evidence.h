/* measure_evidence.h - the observations of one quantity at one measure, and the deltas they give. */
#ifndef LAPWING_MEASURE_EVIDENCE_H
#define LAPWING_MEASURE_EVIDENCE_H

#include "reduce/family.h"
#include "reduce/statistics/bracket.h"

/* One mounting's value: the mean over its runs that have one. */
struct mounting_value {
    size_t configuration; /* index in the family */
    size_t mounting;      /* from 1 */
    double time, value;
    size_t runs;
};

struct evidence {
    enum quantity quantity;
    size_t measure;
    struct mounting_value *mountings; /* by configuration, then mounting */
    struct observation *observations; /* the same, as the statistics want them */
    size_t n;
    size_t counted[BRACKET_CONFIGURATIONS_MAX]; /* mountings with a value, by configuration */
    double baseline_mean;                       /* NAN without one */
    enum outcome outcome;                       /* of the bracket as a whole */
    struct bracket_result bracket;
    double *correlation; /* n_configurations squared */
};

/* Collects and brackets. A family larger than the statistics take (64 configurations, 512 mountings)
 * has outcome OUTCOME_TOO_FEW and no mountings. On OK the caller ends *evidence with
 * evidence_end(). */
enum status evidence_make(const struct family *family, enum quantity quantity, size_t measure,
                          struct evidence *evidence, struct fault *fault);
void evidence_end(struct evidence *evidence);

/* Baseline interpolated to a mounting's time; NAN outside the returns. */
double evidence_baseline_at(const struct evidence *evidence, double time);

#endif
