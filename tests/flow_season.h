/* flow_season.h - a season of one run an entry, whose baseline takes a handbook's values in turn. */
#ifndef LAPWING_TEST_FLOW_SEASON_H
#define LAPWING_TEST_FLOW_SEASON_H

#include "schema/store.h"

/* NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: ten flow rates; mean 50.81, mean moving range
 * 1.8778, limits 55.8041 and 45.8159. An eleventh, invented, is far off. */
enum { FLOW_HANDBOOK = 10, FLOW_ALL = 11 };
extern const double flow_values[FLOW_ALL];
extern const char flow_source[];

/* Entries e0, e1 ... of the facility hall, n of them, FLOW_ALL at most; each with two mountings of `base`
 * that are half a unit below and above its value of CL. The caller closes it. */
struct store *flow_season(int n);

#endif
