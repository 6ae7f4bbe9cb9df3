/* outlying_values.h - how many of the extreme values of a sample do not belong to it.
 *
 * The generalised extreme Studentised deviate: the value farthest from the mean is taken out again
 * and again; the number of outliers is the largest i with R_i above its limit, so that several
 * outliers that hide each other are all found,
 *
 *   R_i = max |x - mean| / s of what is left,
 *   limit_i = (n - i) t / sqrt((n - i - 1 + t^2) (n - i + 1)),   t of 1 - a / (2 (n - i + 1)), df n - i - 1
 *
 * The values stand to be looked at; nothing is removed here. Source: Rosner, "Percentage points for a
 * generalized ESD many-outlier procedure", Technometrics 25 (1983); NIST/SEMATECH e-Handbook of
 * Statistical Methods, 1.3.5.17.3. Limits hold from n = 25 on, roughly from 15. */
#ifndef LAPWING_OUTLYING_VALUES_H
#define LAPWING_OUTLYING_VALUES_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

struct outlying_value {
    size_t index; /* into the values */
    double deviate;
    double limit;
};

/* Given: n values, finite; most >= 1, the most outliers that are thinkable, n >= most + 2;
 * 0 < significance < 1, common 0.05. Fills most rows of steps and *outliers, the count of those at the
 * head that are outliers. OUTCOME_TOO_FEW; OUTCOME_NOT_FINITE; OUTCOME_SINGULAR: what is left does not
 * scatter, or significance is out of range; OUTCOME_NO_MEMORY. */
enum outcome outlying_values_find(const double *values, size_t n, size_t most, double significance,
                                  struct outlying_value *steps, size_t *outliers);

#endif
