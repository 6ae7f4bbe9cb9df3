/* point_spread.h - from the scatter of a point's samples to the uncertainty of its means.
 *
 * The variance of a mean is sd^2 / n_effective; two means share the correlation of their samples,
 * which is how a gust in load and q partly cancels. Where the record is too short to estimate its
 * effective samples, a quarter of the samples is used, which doubles the standard error of white
 * noise, and the point is flagged: a rule of common practice, no source.                           */
#ifndef LAPWING_POINT_SPREAD_H
#define LAPWING_POINT_SPREAD_H

#include "reduce/reduced_point.h"

/* Fills spread, spread_is_guess and spread_unknown of a point whose outcome is OK. */
void point_spread_fill(const struct run_work *work, struct reduced_point *made);

/* Standard error of a channel's mean by the rule above; NAN when its sd is not known.
 * *is_guess (may be NULL) is set to 1 when the effective samples were guessed, else left alone. */
double point_standard_error(const struct channel_statistics *channel, int *is_guess);

/* Relative standard deviation and standard error of the wind's pressure (p0 - p, contraction drop or
 * q, whichever the recipe uses) within the point; NAN when not known. */
struct wind_spread {
    double deviation;
    double error;
};
struct wind_spread point_wind_spread(const struct run_work *work, const struct point_row *point);

#endif
