/* random.h - seeded random numbers that are the same on every machine.
 *
 * xoshiro256** (Blackman and Vigna, 2018, public domain) seeded by splitmix64. Every purpose has a
 * stream of its own, so that more rows in a log do not change the effect of refitting the car.     */
#ifndef SAMPLE_RUNS_RANDOM_H
#define SAMPLE_RUNS_RANDOM_H

#include <stdint.h>

enum random_purpose {
    RANDOM_REFIT,
    RANDOM_ATTAINED,
    RANDOM_ZERO,
    RANDOM_AIR,
    RANDOM_FORCE_SAMPLES,
    RANDOM_TAP_SAMPLES,
    RANDOM_WIND_OFF_SAMPLES
};

struct random_stream {
    uint64_t state[4];
    double spare; /* second normal of a pair */
    int has_spare;
};

struct random_stream random_open(uint64_t seed, enum random_purpose purpose, int index);
double random_uniform(struct random_stream *stream, double low, double high);
double random_normal(struct random_stream *stream); /* mean 0, standard deviation 1 */

/* First-order autoregressive noise: x_k = phi x_(k-1) + noise, standard deviation sd in the long
 * run, begun in that state. */
struct random_walker {
    double value, phi, sd;
};
struct random_walker random_walker_open(struct random_stream *stream, double phi, double sd);
double random_walker_next(struct random_walker *walker, struct random_stream *stream);

/* Standard deviation of the mean of n such values: exact sum of the autocovariances. */
double random_walker_mean_sd(double phi, double sd, int n);

#endif
