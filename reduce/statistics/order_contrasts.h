/* order_contrasts.h - the differences of all configurations from the baseline that an order will give.
 *
 *   C = (X'X)^-1,   X = (1, configurations, place .. place^degree),   noise variance 1
 *
 * The diagonal is the factor of order_worth(); the rest says how the differences hang together, because
 * they share the baseline: what an interval that is to hold for all of them at once depends on.
 * Source: ordinary least squares. */
#ifndef LAPWING_ORDER_CONTRASTS_H
#define LAPWING_ORDER_CONTRASTS_H

#include <stddef.h>

#include "reduce/statistics/run_order.h"

enum { CONTRASTS_MAX = 64 };

/* Of configurations 1 .. configurations; factor and correlation (configurations squared, row-major)
 * may not be NULL. OUTCOME_SINGULAR: one of them can't be told from the drift, or a number is out of
 * range; OUTCOME_TOO_FEW: one is not run, or more unknowns than runs; OUTCOME_NO_MEMORY. */
enum outcome order_contrasts(const size_t *order, size_t n, size_t configurations, size_t degree,
                             double *factor, double *correlation, double *freedom);

#endif
