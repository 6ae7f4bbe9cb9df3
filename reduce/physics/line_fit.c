/* line_fit.c - see line_fit.h. */
#include "reduce/physics/line_fit.h"

#include <math.h>

#include "reduce/physics/finite.h"

static double mean_of(const double *value, size_t n)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += value[i];
    return sum / (double)n;
}

static void find_range(const double *x, size_t n, struct line_fit *fit)
{
    fit->lowest = fit->highest = x[0];
    for (size_t i = 1; i < n; i++) {
        fit->lowest = fmin(fit->lowest, x[i]);
        fit->highest = fmax(fit->highest, x[i]);
    }
}

enum outcome line_fit_make(const double *x, const double *y, size_t n, struct line_fit *fit)
{
    struct line_fit found = {0};
    double sxx = 0.0, sxy = 0.0, squares = 0.0;
    if (n < 3)
        return OUTCOME_TOO_FEW;
    if (!all_finite(x, n) || !all_finite(y, n))
        return OUTCOME_NOT_FINITE;
    find_range(x, n, &found);
    double span = found.highest - found.lowest;
    if (!(span > 1e-12 * fmax(fabs(found.lowest), fabs(found.highest))))
        return OUTCOME_SINGULAR;

    double middle_x = mean_of(x, n), middle_y = mean_of(y, n);
    for (size_t i = 0; i < n; i++) {
        sxx += (x[i] - middle_x) * (x[i] - middle_x);
        sxy += (x[i] - middle_x) * (y[i] - middle_y);
    }
    found.slope = sxy / sxx;
    found.intercept = middle_y - found.slope * middle_x;
    for (size_t i = 0; i < n; i++) {
        double residual = y[i] - middle_y - found.slope * (x[i] - middle_x);
        squares += residual * residual;
    }
    found.degrees_of_freedom = (double)n - 2.0;
    double variance = squares / found.degrees_of_freedom;
    found.residual_sd = sqrt(variance);
    found.slope_u = sqrt(variance / sxx);
    found.intercept_u = sqrt(variance * (1.0 / (double)n + middle_x * middle_x / sxx));
    found.covariance = -middle_x * variance / sxx;
    *fit = found;
    return OUTCOME_OK;
}

double line_fit_at(const struct line_fit *fit, double x, double *u)
{
    double variance = fit->intercept_u * fit->intercept_u + 2.0 * x * fit->covariance +
                      x * x * fit->slope_u * fit->slope_u;
    if (u != NULL)
        *u = sqrt(fmax(variance, 0.0)); /* below 0 by rounding only */
    return fit->intercept + fit->slope * x;
}

int line_fit_holds(const struct line_fit *fit, double x)
{
    return x >= fit->lowest && x <= fit->highest;
}
