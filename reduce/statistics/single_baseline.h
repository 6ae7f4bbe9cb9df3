/* single_baseline.h - deltas against a baseline that was measured once and never returned to.
 *
 * The plain difference of means. Nothing tells the drift from it and nothing the noise: there is no interval
 * from such a night. With the noise of earlier entries there is one, of everything but the drift.
 * Common practice, no source. */
#ifndef LAPWING_SINGLE_BASELINE_H
#define LAPWING_SINGLE_BASELINE_H

#include "reduce/statistics/bracket.h"

/* Fills what bracket_deltas() and bracket_weights() would, noise not known. Given as there, with exactly one
 * observation of the baseline. OUTCOME_TOO_FEW: none, or more than one; OUTCOME_NOT_FINITE;
 * OUTCOME_SINGULAR as bracket_deltas(). Then no delta is a number and all weights are 0. */
enum outcome single_baseline_deltas(const struct observation *observations, size_t n,
                                    size_t n_configurations, struct bracket_result *result,
                                    double *correlation, double *weights);

#endif
