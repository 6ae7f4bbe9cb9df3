/* fieller.h - the interval of a ratio of two uncertain numbers, as of the change of lift over that of
 * drag.
 *
 * All r for which |a - r b| <= k sqrt(u_a^2 - 2 r cov + r^2 u_b^2). When b is clear of 0 that is one
 * interval; when it is not, every large ratio of one sign or the other is possible: all but an
 * interval, or all there are. Said then, never cut off.
 * Source: Fieller, "Some problems in interval estimation", J. Royal Stat. Society B 16 (1954). */
#ifndef LAPWING_FIELLER_H
#define LAPWING_FIELLER_H

enum fieller_kind {
    FIELLER_INTERVAL,   /* lower .. upper */
    FIELLER_OUTSIDE,    /* up to lower, and from upper on: the denominator may be 0 */
    FIELLER_EVERYTHING, /* nothing is excluded */
    FIELLER_NONE /* an input is not finite, negative where it cannot be, or a correlation over 1 */
};

struct fieller {
    enum fieller_kind kind;
    double ratio; /* a / b; NAN when b is 0 or with FIELLER_NONE */
    double lower, upper;
};

/* Given: a, b with their variances and covariance, and the multiplier k > 0 of the common degrees of
 * freedom (student_multiplier()). */
struct fieller fieller_interval(double a, double b, double variance_a, double variance_b,
                                double covariance, double multiplier);

#endif
