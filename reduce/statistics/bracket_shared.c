/* bracket_shared.c - see bracket_shared.h. */
#include "reduce/statistics/bracket_shared.h"

#include <math.h>

/* Beyond these the quantiles are those of known noise. */
static const double FREEDOM_MAX = 1e9;

/* The two sides of every delta, by configuration. */
struct sides {
    double own[BRACKET_CONFIGURATIONS_MAX];
    double baseline[BRACKET_CONFIGURATIONS_MAX];
    double own_freedom[BRACKET_CONFIGURATIONS_MAX];
    double baseline_freedom[BRACKET_CONFIGURATIONS_MAX];
};

/* Weights of the returns are positive, so those of a mean add up without signs. */
static void add_up(const struct observation *observations, const struct shared_error *shared,
                   size_t n, const struct bracket_result *result, struct sides *sides)
{
    double weights[BRACKET_OBSERVATIONS_MAX];
    double baseline = 0;

    for (size_t i = 0; i < n; i++) {
        size_t c = observations[i].configuration;
        if (c == 0 || bracket_baseline(observations, n, observations[i].time, &baseline, weights) !=
                          OUTCOME_OK)
            continue;
        double mountings = (double)result->deltas[c].mountings;
        sides->own[c] += shared[i].uncertainty / mountings;
        sides->own_freedom[c] = fmin(sides->own_freedom[c], shared[i].degrees_of_freedom);
        for (size_t j = 0; j < n; j++) {
            if (!(weights[j] > 0))
                continue;
            sides->baseline[c] += weights[j] * shared[j].uncertainty / mountings;
            sides->baseline_freedom[c] =
                fmin(sides->baseline_freedom[c], shared[j].degrees_of_freedom);
        }
    }
}

/* One part of Satterthwaite's sum. */
static double square_over(double variance, double freedom)
{
    return variance > 0 && isfinite(freedom) ? variance * variance / freedom : 0;
}

static void correlate(size_t n_configurations, const struct bracket_result *result,
                      const struct sides *sides, const struct bracket_uncertainty *uncertainty,
                      double *correlation)
{
    double s = result->noise.standard_deviation;

    for (size_t a = 1; a < n_configurations; a++)
        for (size_t b = 1; b < n_configurations; b++) {
            double *r = &correlation[a * n_configurations + b];
            double product = uncertainty->standard[a] * uncertainty->standard[b];
            if (a == b || !(product > 0))
                continue;
            double scatter =
                s * s * sqrt(result->deltas[a].variance_factor * result->deltas[b].variance_factor);
            *r = (*r * scatter + sides->baseline[a] * sides->baseline[b]) / product;
        }
}

void bracket_add_shared(const struct observation *observations, const struct shared_error *shared,
                        size_t n, size_t n_configurations, const struct bracket_result *result,
                        double *correlation, struct bracket_uncertainty *uncertainty)
{
    struct sides sides = {{0}, {0}, {0}, {0}};
    double s = result->noise.standard_deviation;

    for (size_t c = 0; c < BRACKET_CONFIGURATIONS_MAX; c++) {
        uncertainty->standard[c] = NAN;
        uncertainty->degrees_of_freedom[c] = 0;
        sides.own_freedom[c] = sides.baseline_freedom[c] = INFINITY;
    }
    if (n > BRACKET_OBSERVATIONS_MAX || n_configurations > BRACKET_CONFIGURATIONS_MAX || !(s > 0))
        return;
    add_up(observations, shared, n, result, &sides);
    for (size_t c = 1; c < n_configurations; c++) {
        double scatter = s * s * result->deltas[c].variance_factor;
        double own = sides.own[c] * sides.own[c];
        double baseline = sides.baseline[c] * sides.baseline[c];
        double variance = scatter + own + baseline;
        if (!isfinite(variance))
            continue;
        double spread = square_over(scatter, result->noise.degrees_of_freedom) +
                        square_over(own, sides.own_freedom[c]) +
                        square_over(baseline, sides.baseline_freedom[c]);
        uncertainty->standard[c] = sqrt(variance);
        uncertainty->degrees_of_freedom[c] = fmin(variance * variance / spread, FREEDOM_MAX);
    }
    correlate(n_configurations, result, &sides, uncertainty, correlation);
}
