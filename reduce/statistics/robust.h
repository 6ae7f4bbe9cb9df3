/* robust.h - middle and width of a few values of which some may be wrong. */
#ifndef LAPWING_ROBUST_H
#define LAPWING_ROBUST_H

#include <stddef.h>

struct robust {
    double median;
    double scale; /* 1.4826 times the median absolute deviation: sd of a normal distribution */
    double minimum, maximum;
    size_t n; /* finite values */
};

/* Of the finite ones among n values, which are used up: what stands there afterwards means nothing.
 * All NAN when there are none. Source: Hampel, The influence curve and its role in robust estimation,
 * J. Am. Stat. Assoc. 69 (1974). */
struct robust robust_of(double *values, size_t n);

#endif
