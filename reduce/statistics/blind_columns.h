/* blind_columns.h - which columns of a regression the data cannot tell from the columns before them.
 *
 * Columns are taken in the caller's order, the plain ones first. One is blind when what is left of it, after
 * all seeing columns before it are projected out, is less than a share of its length; it is then left out
 * of the projections of the later ones. For each blind column the earlier one that makes up most of
 * it is named, so that the missing data can be named too.
 * Source: modified Gram-Schmidt with reorthogonalisation, G. H. Golub, C. F. Van Loan, Matrix
 * Computations (4th ed., 2013), 5.2.                                                                */
#ifndef LAPWING_BLIND_COLUMNS_H
#define LAPWING_BLIND_COLUMNS_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

/* x is n x p, row by row. is_blind (p) becomes 1 or 0; twin (p) the column that most of a blind one is
 * made of, or p when the column is 0 throughout, and p for the seeing ones. share: below which a column
 * is blind, 1e-6 for loads that were set. Outcomes: OUTCOME_NOT_FINITE, OUTCOME_NO_MEMORY. */
enum outcome blind_columns(const double *x, size_t n, size_t p, double share, int *is_blind,
                           size_t *twin);

#endif
