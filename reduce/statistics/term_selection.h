/* term_selection.h - which terms of a regression earn their place, hierarchy kept.
 *
 * One term at a time is dropped and the rest looked at again: first, among terms whose variance
 * inflation is above its limit, the one with the smallest |t|; when there is none, the term with the
 * smallest |t| below its limit. A term that is held, or that a remaining term needs, stays.
 * Source of the limits: common practice, no source (|t| > 4, variance inflation < 10).              */
#ifndef LAPWING_TERM_SELECTION_H
#define LAPWING_TERM_SELECTION_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

/* What a dropped term had when it went; 0 for those that stay. */
struct term_leaving {
    double t; /* |t|; INFINITY in an exact fit */
    double inflation;
};

enum term_fate { TERM_STAYS, TERM_TOO_WEAK, TERM_TOO_ALIKE, TERM_BLIND };

struct term_rules {
    double least_t;        /* 4 */
    double most_inflation; /* 10 */
};

/* x is n x p, row by row, y n. is_held (p): 1 for terms that stay whatever they are. needs (p x p, row by
 * row): 1 where the term of the row needs that of the column. fate (p) holds TERM_STAYS, or TERM_BLIND for
 * terms that take no part from the start; then what became of each. leaving (p): with what it went. Outcomes: those of least_squares_fit() on the terms
 * that take part. */
enum outcome term_selection(const double *x, const double *y, size_t n, size_t p,
                            const int *is_held, const unsigned char *needs,
                            const struct term_rules *rules, enum term_fate *fate,
                            struct term_leaving *leaving);

#endif
