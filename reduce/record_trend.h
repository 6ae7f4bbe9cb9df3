/* record_trend.h - did a result, or the wind, move within the points of a run? */
#ifndef LAPWING_RECORD_TREND_H
#define LAPWING_RECORD_TREND_H

#include "reduce/record_run.h"

/* Reduces each point twice, with the means of the first halves of its records and with those of the
 * second, attitude and taps as they are on the whole, and flags
 *   trend    the metric that moved most, beyond limits.trend of its worthwhile delta, at single points
 *            or, by the median over five points and more, at all of them the same way
 *   q-trend  dynamic pressure beyond 0.1 % (common practice, no source)
 * where the change is also beyond 3.5 standard uncertainties (record_trend()). A trend widens the
 * uncertainty of its own point, so that no more than 1.5 times the median of the run's points is taken.
 * A run without a recipe, or averaged by the facility, has no halves and raises nothing. */
enum status record_trend_judge(struct record_run *run, struct fault *fault);

#endif
