/* point_spread.h - from the scatter of a point's samples to the uncertainty of its means.
 *
 * The variance of a mean is sd^2 / n_effective; two means share the correlation of their samples,
 * which is how a gust in load and q partly cancels. Effective samples cannot be estimated exactly when
 * the record is slow against its length, or when the log holds means only: then the mean is worth one
 * sample, its standard uncertainty is the sd itself, and the point is flagged. A cautious bound, no
 * source.                                                                                          */
#ifndef LAPWING_POINT_SPREAD_H
#define LAPWING_POINT_SPREAD_H

#include "reduce/reduced_point.h"

/* Fills spread, spread_is_guess and spread_unknown of a point whose outcome is OK. */
void point_spread_fill(const struct run_work *work, struct reduced_point *made);

/* Standard error of a channel's mean by the rule above; NAN when its sd is not known.
 * *is_guess (may be NULL) is set to 1 when the effective samples were guessed, else left alone. */
double point_standard_error(const struct channel_statistics *channel, int *is_guess);

/* Correlation of two channels' samples at a point; 0 when their covariance was not kept. */
double point_correlation(const struct run_work *work, const struct point_row *point, int a, int b);

/* Standard error of weight[0] mean_0 + weight[1] mean_1 + ... of n channels of a point, with the
 * correlation of their samples where it was kept; a channel without one counts as exact. */
double point_sum_error(const struct run_work *work, const struct point_row *point,
                       const int *channel, const double *weight, size_t n);

/* Relative standard deviation and standard error of the wind's pressure within the point: p0 - p or q
 * by themselves, the contraction drop by its share in q, |dq/d(dp)|/q. NAN when not known. */
struct wind_spread {
    double deviation;
    double error;
};
struct wind_spread point_wind_spread(const struct run_work *work, const struct point_row *point);

#endif
