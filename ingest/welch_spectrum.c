/* welch_spectrum.c - see welch_spectrum.h. */
#include "ingest/welch_spectrum.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_fft_real.h>
#include <math.h>

static const double two_pi = 6.283185307179586;

static double window(size_t j, size_t length)
{
    return 0.5 * (1 - cos(two_pi * (double)j / (double)length));
}

struct welch_plan welch_plan_for(size_t samples)
{
    struct welch_plan plan = {0, 0, 0};
    size_t length = WELCH_SEGMENT_MAX;
    while (length >= WELCH_SEGMENT_MIN && (WELCH_SEGMENTS_WANTED + 1) * (length / 2) > samples)
        length /= 2;
    if (length < WELCH_SEGMENT_MIN)
        return plan;
    plan.segment = length;
    plan.segments = (samples - length) / (length / 2) + 1;
    plan.n = length / 2 + 1;
    return plan;
}

/* GSL leaves the real parts of 0 .. L/2 in front, and the imaginary ones of L/2 - 1 .. 1 behind. */
static void add_squares(const double *transform, size_t length, double *density)
{
    density[0] += transform[0] * transform[0];
    for (size_t k = 1; k < length / 2; k++)
        density[k] += transform[k] * transform[k] + transform[length - k] * transform[length - k];
    density[length / 2] += transform[length / 2] * transform[length / 2];
}

void welch_spectrum(const double *x, const struct welch_plan *plan, double rate, double *room,
                    double *density)
{
    size_t length = plan->segment;
    double square = 0;
    for (size_t j = 0; j < length; j++)
        square += window(j, length) * window(j, length);
    for (size_t k = 0; k < plan->n; k++)
        density[k] = 0;
    for (size_t s = 0; s < plan->segments; s++) {
        const double *segment = x + s * (length / 2);
        for (size_t j = 0; j < length; j++)
            room[j] = window(j, length) * segment[j];
        /* it refuses only lengths that are no power of two */
        (void)gsl_fft_real_radix2_transform(room, 1, length);
        add_squares(room, length, density);
    }
    double scale = 1 / (rate * (double)plan->segments * square);
    for (size_t k = 0; k < plan->n; k++)
        density[k] *= k == 0 || k == length / 2 ? scale : 2 * scale;
}

/* rho_j: only neighbours share samples, since every segment begins half of one after the one before. */
static double overlap_correlation(size_t length)
{
    double shared = 0;
    double square = 0;
    for (size_t i = 0; i < length; i++)
        square += window(i, length) * window(i, length);
    for (size_t i = 0; i < length / 2; i++)
        shared += window(i, length) * window(i + length / 2, length);
    return shared / square * (shared / square);
}

double welch_degrees_of_freedom(const struct welch_plan *plan)
{
    double segments = (double)plan->segments;
    return 2 * segments / (1 + 2 * (1 - 1 / segments) * overlap_correlation(plan->segment));
}

struct welch_factors welch_confidence(double degrees_of_freedom)
{
    const double tail = 0.025;
    double v = degrees_of_freedom;
    if (!(v > 0) || !isfinite(v))
        return (struct welch_factors){(double)NAN, (double)NAN};
    return (struct welch_factors){v / gsl_cdf_chisq_Qinv(tail, v), v / gsl_cdf_chisq_Pinv(tail, v)};
}
