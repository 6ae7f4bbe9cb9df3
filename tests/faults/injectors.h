/* injectors.h - what goes wrong with a channel, done to its samples. Pure functions; x is changed in
 * place; NAN stays.                                                                                */
#ifndef LAPWING_TESTS_INJECTORS_H
#define LAPWING_TESTS_INJECTORS_H

#include <stddef.h>
#include <stdint.h>

/* The value of sample `from` is held for `length` samples. */
void inject_stuck(double *x, size_t n, size_t from, size_t length);

/* `count` samples of x, chosen anew each, stand `deviations` standard deviations of x from its mean, on
 * either side. */
void inject_spikes(double *x, size_t n, size_t count, double deviations, uint64_t *state);

/* Cut at the level that `share` of all n samples are beyond, at the upper end or the lower one. Gives
 * how many were cut; 0 without memory. */
size_t inject_clipping(double *x, size_t n, double share, int at_upper_end);

/* Later by `rows`: what a point's first rows show comes from its end, for the log holds nothing of the
 * time before. */
void inject_delay(double *x, size_t n, size_t rows);

/* A first-order lag, dy/dt = (x - y)/T with T in rows, settled at the mean of x before it begins. */
void inject_first_order(double *x, size_t n, double rows);

/* As if the number had been written in another unit. */
void inject_unit(double *x, size_t n, double factor, double offset);

#endif
