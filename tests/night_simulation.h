/* night_simulation.h - nights whose truth is known, and how often what is made of them is right.
 *
 * A night is returns to the baseline with up to three configurations between them, unit noise from mounting
 * to mounting, half of that from point to point where a mounting has several, no difference between
 * configurations, and a drift. Since the estimates move with the true deltas, one night without differences
 * answers for all: a true delta d moves the interval by d. */
#ifndef LAPWING_TESTS_NIGHT_SIMULATION_H
#define LAPWING_TESTS_NIGHT_SIMULATION_H

#include <stddef.h>
#include <stdint.h>

enum simulated_drift { DRIFT_STEADY, DRIFT_STRAIGHT, DRIFT_BENT, DRIFT_WALK, SIMULATED_DRIFTS };

struct night_design {
    const char *name;
    size_t configurations; /* with the baseline */
    size_t mountings;      /* of each other configuration */
    size_t returns;        /* mountings of the baseline, first and last of the night among them */
    /* Simultaneous multipliers are the slow part and change slowly: nights whose degrees of freedom, and
     * whose walks, have about the same logarithm share one. */
    double freedom_step, walk_step;
    const size_t
        *order;  /* configurations of runs, in this order; NULL: laid out by the numbers above */
    size_t runs; /* in order */
    const double
        *least;    /* a difference for each configuration but the baseline, asked for in found */
    size_t points; /* of a mounting; 0: one */
};

struct night_score {
    size_t nights;
    size_t failed;       /* without an estimate */
    double coverage;     /* of single 95 % intervals, over all deltas */
    double false_family; /* nights in which some simultaneous interval leaves out the true 0 */
    double false_gain;   /* nights in which some such interval lies above it */
    double
        single_family; /* nights in which some single interval does: what one multiplier for all would give */
    double no_change_low; /* deltas at the edge of the strip that read "no change", lower edge */
    double no_change_high;
    double found;      /* deltas as large as least whose simultaneous interval leaves out 0 */
    double half_width; /* median of the single intervals */
    double best;     /* that of the best linear unbiased estimate, which knows the drift's form and
                          the ratio of its variance to the noise's, and finds the noise from n - p;
                          NAN with several points a mounting */
    double freedom;  /* median */
    double walkless; /* share of nights in which nothing wanders */
};

/* The last is wrong: it takes every point for a mounting of its own. */
enum night_method { METHOD_MODEL, METHOD_BRACKET, METHOD_NO_REFIT };

/* Scores nights of a design; the seed and the number decide every night. */
struct night_score night_simulate(const struct night_design *design, enum simulated_drift drift,
                                  enum night_method method, size_t nights, uint64_t seed);

/* Half-width of the best linear unbiased estimate's interval, as in the score. */
double night_best_half_width(const struct night_design *design, enum simulated_drift drift,
                             uint64_t seed);

/* The same nights by the model with and without a drift: the largest difference of a delta in standard errors,
 * or of a standard error or degrees of freedom over themselves. 0 but for rounding where the drift drops out of
 * the model; infinite when a night has no estimate. */
double night_drift_difference(const struct night_design *design, enum simulated_drift drift,
                              size_t nights, uint64_t seed);

const char *simulated_drift_name(enum simulated_drift drift);

#endif
