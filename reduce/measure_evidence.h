/* measure_evidence.h - the observations of one quantity at one measure, and the deltas they give.
 *
 * Two estimates of every delta stand side by side. The local bracket rests on mountings: one value each.
 * The whole night's model rests on runs: one value a run, never a point, with the mounting as what was
 * refitted, so that what a refit does to the car counts once a mounting however many runs or points it has.
 * A run's value at "weighted" is its weighted value; all that its attitudes have in common is therefore in
 * the scatter of those values, and no covariance between attitudes has to be known or is left out.
 *
 * Where tonight's own noise has fewer than EVIDENCE_FREEDOM_LEAST degrees of freedom, the season's
 * variance of one mounting's value, level "part refitted", takes its place in the bracket when it has more
 * (variance_choose()): a variance of mountings, which more runs on one mounting do not make smaller.
 * Which of the two estimates is the headline: statistics/delta_headline.h. */
#ifndef LAPWING_MEASURE_EVIDENCE_H
#define LAPWING_MEASURE_EVIDENCE_H

#include "reduce/family.h"
#include "reduce/statistics/bracket.h"
#include "reduce/statistics/delta_headline.h"
#include "reduce/statistics/shared_error.h"

/* Common practice, no source. */
enum { EVIDENCE_FREEDOM_LEAST = 8 };

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
    struct mounting_value *mountings;  /* by configuration, then mounting */
    struct observation *observations;  /* the same, as the bracket wants them */
    struct shared_observation *shared; /* the same */
    size_t n;
    struct night_observation *runs; /* of mountings between returns, as the model wants them */
    struct shared_observation *run_shared; /* the same */
    size_t *run_of;                        /* the same: index in the family */
    size_t n_runs;
    size_t counted[BRACKET_CONFIGURATIONS_MAX];   /* mountings with a value, by configuration */
    size_t undefined[BRACKET_CONFIGURATIONS_MAX]; /* mountings whose ratio is undefined */
    size_t left_out[BRACKET_CONFIGURATIONS_MAX];  /* points left out, by configuration */
    double baseline_mean;                         /* NAN without one */
    enum outcome outcome;                         /* of the bracket as a whole */
    struct bracket_result bracket;
    int is_single;         /* 1: the baseline was measured once; deltas are plain differences */
    int repeats_identical; /* 1: the noise is below rounding, so what repeats says nothing */
    struct variance_estimate noise; /* of one mounting, that the bracket's intervals rest on */
    enum variance_source noise_source;
    struct delta_headline headlines[BRACKET_CONFIGURATIONS_MAX]; /* with what mountings share */
    double *correlation; /* n_configurations squared, of the headlines */
};

/* Collects and estimates. season: variance of one mounting's value with drift taken out that earlier
 * entries know, freedom 0 for not known; NULL: brackets alone, without headlines. A family larger than the statistics take (64 configurations, 512
 * mountings) has outcome OUTCOME_TOO_FEW and no mountings. On OK the caller ends *evidence with
 * evidence_end(). */
enum status evidence_make(const struct family *family, enum quantity quantity, size_t measure,
                          const struct variance_estimate *season, struct evidence *evidence,
                          struct fault *fault);
void evidence_end(struct evidence *evidence);

/* 1 when tonight's noise is a number to build intervals on: estimated, and above rounding. */
int evidence_has_noise(const struct evidence *evidence);

/* Baseline interpolated to a mounting's time; NAN outside the returns. */
double evidence_baseline_at(const struct evidence *evidence, double time);

#endif
