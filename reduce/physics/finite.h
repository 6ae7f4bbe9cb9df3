/* finite.h - the one test that keeps a NAN from leaving a step unannounced. */
#ifndef LAPWING_FINITE_H
#define LAPWING_FINITE_H

#include <stddef.h>

/* 1 when all n values are finite, n 0 included; 0 when one is NAN or infinite. */
int all_finite(const double *value, size_t n);

#endif
