/* false_discovery.h - many tests at once (taps): which survive when at most a share may be false.
 *
 *   q_(i) = min over j >= i of  m p_(j) / j,   p in rising order
 *
 * Tests with q <= 0.05 are named; among them at most 5 % are false in the mean, for tests that are
 * independent or depend positively, as neighbouring taps do. Source: Benjamini and Hochberg,
 * "Controlling the false discovery rate", J. Royal Stat. Society B 57 (1995); the adjusted values,
 * Benjamini and Yekutieli, Annals of Statistics 29 (2001), for positive dependence. */
#ifndef LAPWING_FALSE_DISCOVERY_H
#define LAPWING_FALSE_DISCOVERY_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

/* Adjusts n p-values (0 .. 1; NAN: not tested, stays NAN and does not count) into q, which may be p.
 * OUTCOME_NOT_FINITE: a p outside 0 .. 1; OUTCOME_NO_MEMORY. Then q is untouched. */
enum outcome false_discovery_adjust(const double *p, size_t n, double *q);

#endif
