/* random.c - xoshiro256**, normal deviates by Marsaglia's polar method, and coloured noise. */
#include "sample_runs/random.h"

#include <math.h>

static uint64_t splitmix(uint64_t *state)
{
    uint64_t z = (*state += 0x9e3779b97f4a7c15U);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
    return z ^ (z >> 31);
}

static uint64_t rotate(uint64_t x, int bits)
{
    return (x << bits) | (x >> (64 - bits));
}

static uint64_t next(struct random_stream *stream)
{
    uint64_t *s = stream->state;
    uint64_t result = rotate(s[1] * 5, 7) * 9;
    uint64_t t = s[1] << 17;

    s[2] ^= s[0];
    s[3] ^= s[1];
    s[1] ^= s[2];
    s[0] ^= s[3];
    s[2] ^= t;
    s[3] = rotate(s[3], 45);
    return result;
}

struct random_stream random_open(uint64_t seed, enum random_purpose purpose, int index)
{
    struct random_stream stream = {{0}, 0.0, 0};
    uint64_t mix = seed;

    mix = splitmix(&mix) + (uint64_t)purpose;
    mix = splitmix(&mix) + (uint64_t)index;
    for (int i = 0; i < 4; i++)
        stream.state[i] = splitmix(&mix);
    return stream;
}

double random_uniform(struct random_stream *stream, double low, double high)
{
    double unit = (double)(next(stream) >> 11) * 0x1p-53;
    return low + (high - low) * unit;
}

double random_normal(struct random_stream *stream)
{
    double u = 0.0, v = 0.0, s = 0.0;

    if (stream->has_spare) {
        stream->has_spare = 0;
        return stream->spare;
    }
    do {
        u = random_uniform(stream, -1.0, 1.0);
        v = random_uniform(stream, -1.0, 1.0);
        s = u * u + v * v;
    } while (s >= 1.0 || s == 0.0);
    double factor = sqrt(-2.0 * log(s) / s);
    stream->spare = v * factor;
    stream->has_spare = 1;
    return u * factor;
}

struct random_walker random_walker_open(struct random_stream *stream, double phi, double sd)
{
    struct random_walker walker = {sd * random_normal(stream), phi, sd};
    return walker;
}

double random_walker_next(struct random_walker *walker, struct random_stream *stream)
{
    double fresh = walker->sd * sqrt(1.0 - walker->phi * walker->phi);
    walker->value = walker->phi * walker->value + fresh * random_normal(stream);
    return walker->value;
}

double random_walker_mean_sd(double phi, double sd, int n)
{
    double sum = 1.0; /* n times the variance of the mean, in units of sd squared */
    double power = 1.0;

    for (int k = 1; k < n; k++) {
        power *= phi;
        sum += 2.0 * (1.0 - (double)k / (double)n) * power;
    }
    return sd * sqrt(sum / (double)n);
}
