/* control_limits.h - limits of an individuals control chart from the moving range.
 *
 * NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 "Individuals Control Charts": centre the mean,
 * limits at mean -+ 3 MR / 1.128, MR the mean of the absolute differences of neighbours in time (1.128 is
 * d2 of ranges of two). The scatter within an entry must not be used for limits between entries. */
#ifndef LAPWING_REPORT_CONTROL_LIMITS_H
#define LAPWING_REPORT_CONTROL_LIMITS_H

#include <stddef.h>

enum {
    CONTROL_LEAST = 8
}; /* values; with fewer the moving range tells too little (common practice) */

struct control_limits {
    double centre, lower, upper, moving_range;
    size_t outside; /* values beyond the limits */
    int has_limits; /* 0: fewer than CONTROL_LEAST; all but centre are NAN then */
};

/* Of n values in time, all finite, in any one unit. centre is NAN for none. */
struct control_limits control_limits(const double *values, size_t n);

#endif
