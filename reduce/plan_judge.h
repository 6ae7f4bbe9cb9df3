/* plan_judge.h - the order of a planned night, and whether it can tell what it should.
 *
 * Refused is an order in which a drift passes for a difference, a night that is too short, and one that
 * does not find what is worthwhile in the main measure; said is what would. */
#ifndef LAPWING_PLAN_JUDGE_H
#define LAPWING_PLAN_JUDGE_H

#include "reduce/plan_night.h"

/* Needs noise. Fills night->request and night->plan. BAD_INPUT: refused; with --anyway the reason stands in
 * night->mark instead, unless nothing is known of the noise or there is no room for the runs. */
enum status plan_judge(struct planned_night *night, struct fault *fault);

/* The same night by another scheme. OUTCOME as night_plan_make(). */
enum outcome plan_judge_scheme(const struct planned_night *night, enum order_scheme scheme,
                               struct night_plan *plan);

#endif
