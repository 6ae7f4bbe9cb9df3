/* measured_deltas.h - the deltas of a family at one measure with all they have in common.
 *
 * Configurations share the baseline they are compared with, so their deltas are correlated; those of two
 * quantities share the mountings. What is made of several deltas (a difference, a package, a ratio) needs
 * both: the covariance matrix over configurations, and that between quantities, found by the same model on
 * the sum and the difference of both (statistics/polarisation.h). Deltas are those of the comparison's
 * headline, uncertainties not widened for their number. */
#ifndef LAPWING_MEASURED_DELTAS_H
#define LAPWING_MEASURED_DELTAS_H

#include "reduce/delta_reading.h"
#include "reduce/family.h"
#include "reduce/season_knowledge.h"

struct measured_deltas {
    size_t n;                       /* configurations of the family */
    struct delta_reading *readings; /* n; [0], the baseline's, is unused */
    double *covariance; /* n x n; NAN where an uncertainty is not known, row and column 0 are 0 */
};

/* What is measured: a family at one of its measures, with what the season knows of the quantities asked
 * for (NULL: nothing). */
struct measuring {
    const struct family *family;
    const struct season_knowledge *season;
    size_t measure;
    double confidence;
};

/* Of one quantity. On OK the caller ends *deltas with measured_deltas_end(). */
enum status measured_deltas_make(const struct measuring *measuring, enum quantity quantity,
                                 struct measured_deltas *deltas, struct fault *fault);
void measured_deltas_end(struct measured_deltas *deltas); /* one filled with 0 is fine */

/* Between two quantities a and b: *crossed, n x n, receives cov(a_i, b_j) + cov(a_j, b_i), on its diagonal
 * twice cov(a_i, b_i); NAN where it is not known, as with the season's noise, which says nothing of what
 * goes together. of_a, of_b: their deltas of the same measuring. On OK the caller owns *crossed and ends it
 * with free(). */
enum status measured_deltas_cross(const struct measuring *measuring, enum quantity a,
                                  enum quantity b, const struct measured_deltas *of_a,
                                  const struct measured_deltas *of_b, double **crossed,
                                  struct fault *fault);

/* 1 when the delta has a standard uncertainty. */
int measured_delta_is_known(const struct measured_deltas *deltas, size_t configuration);

#endif
