/* glance_verdict.h - is the run usable, is there something to look at, or is it to be repeated now?
 *
 * A pure function of what a glance holds: no store, no files, no clock. The rules, each common practice
 * without a source:
 *
 *   repeat now   the run was not read, or has no number at all; a target that the main measure rests
 *                on was tried and no point there may be used (failed, refused, off its target), or was
 *                not measured although others of the measure were; at such a target the standard
 *                uncertainty of the main metric or its trend within the point is over its limit; the
 *                wind was unsteady in more than half of the points; a load is beyond its rating
 *   look at      every other flag, the same limits at targets that the main measure does not rest on,
 *                and a point that sits apart from the earlier runs of the configuration, after the
 *                shift of the run as a whole, by more than the smallest delta worth having, four
 *                robust standard deviations of its points, and four of its own uncertainties
 *   usable       the rest. A zero after the run that does not exist yet, a tap that earlier runs found
 *                dead, and what holds for every run of the facility are notes.                      */
#ifndef LAPWING_GLANCE_VERDICT_H
#define LAPWING_GLANCE_VERDICT_H

#include "schema/glance.h"

/* Fills verdict, reasons and notes from all the rest. NO_MEMORY only. */
enum status glance_judge(struct glance *glance, struct fault *fault);

/* |value / limit|, or its inverse where a rule's limit is a lower one; at least 1. NAN when either is
 * not finite or both are 0; infinite where one of them is 0. */
double glance_ratio(double value, double limit);

/* The limit of the main metric's standard uncertainty at a point: half the smallest delta worth having.
 * Its trend, second half less first, is held against that delta whole (record_rules.h). Needs a
 * metric. */
double glance_uncertainty_limit(const struct glance *glance);

/* Share of its limit that a point takes of the main metric's uncertainty, and of its trend: 1 at most
 * where the trend is no more than the point's own scatter explains. NAN where not known; a cautious bound
 * in place of an uncertainty has its own flag and is not held against the limit. */
double glance_uncertainty_share(const struct glance *glance, const struct glance_point *point);
double glance_trend_share(const struct glance *glance, const struct glance_point *point);

/* 1 for the rules about pressure taps, which say nothing of loads. */
int glance_rule_is_of_taps(enum flag_rule rule);

#endif
