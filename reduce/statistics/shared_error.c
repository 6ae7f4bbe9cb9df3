/* shared_error.c - see shared_error.h. */
#include "reduce/statistics/shared_error.h"

#include <math.h>

/* Beyond these the quantiles are those of known noise. */
static const double FREEDOM_MAX = 1e9;

/* a_cd and the least degrees of freedom of the fits of d. */
struct shared_part {
    double size, freedom;
};

static struct shared_part part_of(const struct shared_observation *observations, size_t n,
                                  const double *weights, size_t configuration)
{
    struct shared_part part = {0, (double)INFINITY};

    for (size_t j = 0; j < n; j++) {
        if (observations[j].configuration != configuration || !(fabs(weights[j]) > 0))
            continue;
        part.size += fabs(weights[j]) * observations[j].error.uncertainty;
        part.freedom = fmin(part.freedom, observations[j].error.degrees_of_freedom);
    }
    return part;
}

/* One part of Satterthwaite's sum. */
static double square_over(double variance, double freedom)
{
    return variance > 0 && isfinite(freedom) ? variance * variance / freedom : 0;
}

static int is_known(const struct delta_estimate *estimate)
{
    return isfinite(estimate->standard_error) && estimate->standard_error > 0 &&
           estimate->degrees_of_freedom > 0;
}

static void add_parts(const struct shared_observation *observations, size_t n,
                      const double *weights, size_t n_configurations,
                      struct delta_estimate *estimate)
{
    double scatter = estimate->standard_error * estimate->standard_error;
    double variance = scatter;
    double spread = square_over(scatter, estimate->degrees_of_freedom);

    for (size_t d = 0; d < n_configurations; d++) {
        struct shared_part part = part_of(observations, n, weights, d);
        variance += part.size * part.size;
        spread += square_over(part.size * part.size, part.freedom);
    }
    if (!isfinite(variance)) {
        estimate->standard_error = (double)NAN;
        estimate->degrees_of_freedom = 0;
        return;
    }
    estimate->standard_error = sqrt(variance);
    estimate->degrees_of_freedom = fmin(variance * variance / spread, FREEDOM_MAX);
}

/* Both sides of the diagonal while the standard errors of the scatter are still there: as a covariance. */
static void uncorrelate(size_t n_configurations, const struct delta_estimate *estimates,
                        const struct shared_observation *observations, size_t n,
                        const double *weights, double *correlation)
{
    for (size_t a = 1; a < n_configurations; a++)
        for (size_t b = 1; b < n_configurations; b++) {
            double *r = &correlation[a * n_configurations + b];
            if (a == b || !is_known(&estimates[a]) || !is_known(&estimates[b]))
                continue;
            *r = *r * estimates[a].standard_error * estimates[b].standard_error +
                 part_of(observations, n, weights + a * n, 0).size *
                     part_of(observations, n, weights + b * n, 0).size;
        }
}

void shared_error_add(const struct shared_observation *observations, size_t n,
                      const double *weights, size_t n_configurations,
                      struct delta_estimate *estimates, double *correlation)
{
    uncorrelate(n_configurations, estimates, observations, n, weights, correlation);
    for (size_t c = 1; c < n_configurations; c++) {
        if (is_known(&estimates[c])) {
            add_parts(observations, n, weights + c * n, n_configurations, &estimates[c]);
            continue;
        }
        estimates[c].standard_error = (double)NAN;
        estimates[c].degrees_of_freedom = 0;
    }
    for (size_t a = 1; a < n_configurations; a++)
        for (size_t b = 1; b < n_configurations; b++)
            if (a != b && is_known(&estimates[a]) && is_known(&estimates[b]))
                correlation[a * n_configurations + b] /=
                    estimates[a].standard_error * estimates[b].standard_error;
}
