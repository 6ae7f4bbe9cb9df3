/* bracket.h - deltas against a baseline that is returned to again and again.
 *
 * The unit of evidence is one mounting of one configuration (an observation), never a point. Every
 * observation of a configuration is compared with the baseline interpolated linearly in time
 * between the returns before and after it, so what drifts linearly drops out; the delta of a
 * configuration is the mean over its mountings. All deltas are linear in the observations, so
 * their variances and covariances follow from one noise variance, pooled over everything that
 * repeats (bracket_noise.h): the mountings of each configuration about their mean delta, and
 * baseline returns about the smooth line through their neighbours.
 * Common practice: baseline bracketing (A-B-A); the variance of one bracketed observation is
 * 1 + (1 - l)^2 + l^2 for an observation at the share l of its bracket (its own, and the two
 * returns'). Interval of a delta: delta +- student_multiplier(confidence, df) s
 * sqrt(variance_factor); an error that all mountings of a configuration share is no part of s and is
 * added by shared_error.h. Coverage of a 95 % interval, by simulation (tests/test_bracket.c): 95.0
 * to 95.8 % for nights of seven returns and more with no drift, a linear one of 3 s, or one slow
 * wave of amplitude s. */
#ifndef LAPWING_BRACKET_H
#define LAPWING_BRACKET_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

struct observation {
    size_t configuration; /* 0 is the baseline, 1 .. n_configurations - 1 the others */
    double time;          /* s, any origin */
    double value;
};

enum { BRACKET_OBSERVATIONS_MAX = 512, BRACKET_CONFIGURATIONS_MAX = 64 };

/* Baseline at a time from the bracketing returns among n observations, in any order: value and the
 * weights (n of them, 0 for all but two, or 1 for the first listed return at exactly this time).
 * OUTCOME_TOO_FEW when there is no return before or none after; OUTCOME_NOT_FINITE. Then *value is
 * NAN and the weights are 0. */
enum outcome bracket_baseline(const struct observation *observations, size_t n, double time,
                              double *value, double *weights);

struct bracket_delta {
    enum outcome outcome; /* OUTCOME_TOO_FEW: none of its observations is bracketed */
    double delta;
    double variance_factor; /* variance of delta / variance of one observation */
    size_t mountings;       /* bracketed observations it rests on */
    size_t unbracketed;     /* observations left out */
};

struct bracket_noise {
    double standard_deviation; /* of one observation */
    double degrees_of_freedom; /* Satterthwaite's, of the pooled form; 0: not estimable, sd NAN */
};

struct bracket_result {
    struct bracket_delta deltas[BRACKET_CONFIGURATIONS_MAX]; /* [0] unused */
    struct bracket_noise noise;
    size_t baseline_mountings;
};

/* All deltas of a family for one measure, observations in any order. correlation (may be NULL)
 * receives the n_configurations x n_configurations row-major correlation of the deltas, row and
 * column 0 and those of configurations without a delta are 0.
 * OUTCOME_TOO_FEW: fewer than two baseline observations; OUTCOME_NOT_FINITE: a time or a value;
 * OUTCOME_SINGULAR: more observations or configurations than the maxima above, or an observation of
 * a configuration that is not below n_configurations; OUTCOME_NO_MEMORY. Then nothing of *result
 * is a number: every delta NAN, degrees of freedom 0. */
enum outcome bracket_deltas(const struct observation *observations, size_t n,
                            size_t n_configurations, struct bracket_result *result,
                            double *correlation);

/* What each delta is a sum of: weights (n_configurations x n, row by row) with delta_c = sum_j w_cj y_j; rows
 * of configurations without a delta, and row 0, are 0. observations, n and n_configurations as
 * bracket_deltas() had them when its outcome was OUTCOME_OK. */
void bracket_weights(const struct observation *observations, size_t n, size_t n_configurations,
                     const struct bracket_result *result, double *weights);

#endif
