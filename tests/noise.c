/* noise.c - see noise.h. Uniform numbers: splitmix64 (Vigna, public domain). Normal ones: Box and
 * Muller, A note on the generation of random normal deviates (1958).                               */
#include "tests/noise.h"

#include <math.h>

double noise_uniform(uint64_t *state)
{
    *state += 0x9E3779B97F4A7C15U;
    uint64_t z = *state;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9U;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBU;
    z ^= z >> 31;
    return ((double)(z >> 11) + 0.5) * 0x1p-53;
}

double noise_normal(uint64_t *state)
{
    double radius = sqrt(-2 * log(noise_uniform(state)));
    return radius * cos(6.283185307179586 * noise_uniform(state));
}

void noise_autoregressive(double *x, size_t n, double phi, uint64_t *state)
{
    double innovation = sqrt(1 - phi * phi);
    double value = noise_normal(state);
    for (size_t i = 0; i < n; i++) {
        x[i] = value;
        value = phi * value + innovation * noise_normal(state);
    }
}

void noise_quantise(double *x, size_t n, double step, uint64_t *state)
{
    double shift = noise_uniform(state);
    for (size_t i = 0; i < n; i++)
        x[i] = step * floor(x[i] / step + shift);
}
