/* repeat_weighted.h - the scatter back to back of a weighted value, from that at its targets.
 *
 * Nobody takes all attitudes twice without leaving one. But a weighted value taken anew at one target, all else
 * as it was, moves by w (C - mean C) in every coefficient, and so in what is made of them; targets
 * scatter independently of each other, so that their variances add:
 *
 *   v = sum v_k,   df = (sum v_k)^2 / sum (v_k^2 / df_k)
 *
 * Source: GUM (JCGM 100:2008), 5.1.2 and G.4.1. */
#ifndef LAPWING_REPEAT_WEIGHTED_H
#define LAPWING_REPEAT_WEIGHTED_H

#include "reduce/repeat_points.h"
#include "reduce/statistics/visit_variances.h"

/* Of single points. Freedom 0 when a weighted target has no points back to back. values: room for all
 * points. */
struct visit_estimate repeat_weighted_within(const struct campaign *campaign,
                                             const struct family *family,
                                             const struct repeat_points *points,
                                             enum quantity quantity, struct visit_point *values);

#endif
