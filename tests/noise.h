/* noise.h - random records for tests, the same on every run. */
#ifndef LAPWING_TESTS_NOISE_H
#define LAPWING_TESTS_NOISE_H

#include <stddef.h>
#include <stdint.h>

/* state: any number to begin with. */
double noise_uniform(uint64_t *state); /* more than 0, less than 1 */
double noise_normal(uint64_t *state);  /* mean 0, standard deviation 1 */

/* First-order autoregressive noise of standard deviation 1, in its long-run state from the start. */
void noise_autoregressive(double *x, size_t n, double phi, uint64_t *state);

/* Rounds to multiples of step, shifted by a random part of it. */
void noise_quantise(double *x, size_t n, double step, uint64_t *state);

#endif
