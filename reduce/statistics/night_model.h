/* night_model.h - the deltas of a whole night from one model, with drift and refits in it.
 *
 *   value = configuration + attitude + polynomial of time (degree 2)
 *         + refit (one draw a mounting) + wandering drift (a random walk in time) + error
 *
 * Configurations, attitudes and the polynomial are estimated; refit, walk and error are random with
 * variances found by restricted likelihood (mixed_model.h). A delta is the contrast of a
 * configuration with configuration 0, the baseline, with Satterthwaite's degrees of freedom. The
 * refit is one draw however many points are taken in a mounting, so its share of a delta's variance
 * falls with mountings and not with points. It is in the model when some mounting has more than one
 * point; with one point a mounting it is part of the error.
 *
 * Why a parabola and a walk: the parabola takes what warms up or settles, the walk what does not
 * follow it, and REML gives the walk no variance when nothing is left for it. A polynomial drops out
 * exactly. A walk that is found and not proven (twice the logarithm of the likelihood ratio below 2.71, what
 * 5 % of nights without one exceed) narrows no interval: the errors are then the larger of those with it and
 * without, because in nights with no walk the estimates that followed a false one were off by up to half as
 * much again as their errors said, and 5.2 % of nights had a false reading.
 *
 * Of 10 000 simulated nights of eight configurations in 60 runs (make bench-nights NIGHTS="10000 2"), without drift, or
 * with a straight or a bent one of 1 sd a bracket, and with a walk of 0.5 sd a run: single 95 % intervals hold
 * the truth in 95.1 and 95.0 %; some simultaneous interval lies above a true 0 in 2.3 and 2.4 % of nights, on
 * either side of it in 4.8 and 4.7 % (known to 0.2); "no change" for a delta at the edge of the strip in 0.4 %
 * a side; median half-widths are 1.00 and 1.01 of those of the best linear unbiased estimate. Nights of 16 runs
 * of four configurations are on the safe side: 95.9 and 96.6 % hold the truth, in widths of 1.10
 * and 1.13 (3000 nights).
 * Sources: mixed_model.h; the bound of a ratio: Self and Liang, "Asymptotic properties of maximum likelihood
 * estimators and likelihood ratio tests under nonstandard conditions", J. Am. Stat. Assoc. 82 (1987); the walk and
 * the rule for one that is not proven: common practice, no source. */
#ifndef LAPWING_NIGHT_MODEL_H
#define LAPWING_NIGHT_MODEL_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

enum { NIGHT_CONFIGURATIONS_MAX = 64, NIGHT_BASELINES_LEAST = 3 };

struct night_observation {
    size_t configuration; /* 0 is the baseline */
    size_t attitude;      /* any numbers, equal for points of one attitude */
    size_t mounting;      /* any numbers, equal for points between which nothing was refitted */
    double time;          /* s, any origin */
    double value;
};

struct night_delta {
    enum outcome outcome; /* OUTCOME_TOO_FEW: it has no observation */
    double delta;
    double standard_error; /* not below that of the night without a walk, where none is proven */
    double degrees_of_freedom;
    size_t mountings;
};

struct night_result {
    struct night_delta deltas[NIGHT_CONFIGURATIONS_MAX]; /* [0] unused */
    size_t baseline_mountings;
    size_t spare; /* mountings beyond the unknowns that only they tell: all but the attitudes */
    double error_variance; /* of one point about its mounting */
    double refit_variance; /* of one mounting; NAN when no mounting has two points */
    double walk_variance;  /* of the walk over one second, 1/s; 0: nothing wanders */
};

/* Given:   observations      n <= MIXED_ROWS_MAX of them, any order
 *          n_configurations  1 .. NIGHT_CONFIGURATIONS_MAX
 *          correlation       NULL, or n_configurations squared for the correlation of the deltas; row
 *                            and column 0 and those of configurations without a delta are 0
 * OUTCOME_TOO_FEW: fewer than three mountings of the baseline, or fewer observations than the model
 * has unknowns and one for each random part; OUTCOME_SINGULAR: configuration and attitude, or time,
 * cannot be told apart, nothing scatters, or an index or a size is out of range;
 * OUTCOME_NOT_FINITE; OUTCOME_NO_CONVERGENCE; OUTCOME_NO_MEMORY. Then every delta is NAN. */
enum outcome night_deltas(const struct night_observation *observations, size_t n,
                          size_t n_configurations, struct night_result *result,
                          double *correlation);

/* The same, and what each delta is a sum of: weights (n_configurations x n, row by row) with
 * delta_c = sum_j w_cj value_j for the variances found; 0 where there is no delta. */
enum outcome night_deltas_weighted(const struct night_observation *observations, size_t n,
                                   size_t n_configurations, struct night_result *result,
                                   double *correlation, double *weights);

#endif
