/* flow_angularity.c - see flow_angularity.h. */
#include "reduce/physics/flow_angularity.h"

#include <gsl/gsl_matrix.h>
#include <gsl/gsl_multifit.h>
#include <math.h>

#include "reduce/physics/finite.h"

enum outcome flow_yaw_of_zero(const double *yaw, const double *odd, size_t n,
                              struct yaw_offset *offset, struct line_fit *line)
{
    struct line_fit fit;
    enum outcome outcome = line_fit_make(yaw, odd, n, &fit);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (!(fabs(fit.slope) > 2.0 * fit.slope_u) || fit.slope == 0.0)
        return OUTCOME_SINGULAR;
    double zero = -fit.intercept / fit.slope, u = 0.0;
    (void)line_fit_at(&fit, zero, &u);
    *offset = (struct yaw_offset){zero, u / fabs(fit.slope)};
    if (line != NULL)
        *line = fit;
    return OUTCOME_OK;
}

struct parabola {
    gsl_matrix *design, *covariance;
    gsl_vector *value, *constant;
    gsl_multifit_linear_workspace *fit;
};

static void end(struct parabola *parabola)
{
    gsl_matrix_free(parabola->design);
    gsl_matrix_free(parabola->covariance);
    gsl_vector_free(parabola->value);
    gsl_vector_free(parabola->constant);
    gsl_multifit_linear_free(parabola->fit);
}

/* Columns 1, x, x^2 with x = (yaw - middle)/half: from -1 to 1. */
static int begin(struct parabola *parabola, const double *yaw, const double *even, size_t n,
                 double middle, double half)
{
    *parabola =
        (struct parabola){gsl_matrix_alloc(n, 3), gsl_matrix_alloc(3, 3), gsl_vector_alloc(n),
                          gsl_vector_alloc(3), gsl_multifit_linear_alloc(n, 3)};
    if (parabola->design == NULL || parabola->covariance == NULL || parabola->value == NULL ||
        parabola->constant == NULL || parabola->fit == NULL)
        return 0;
    for (size_t i = 0; i < n; i++) {
        double x = (yaw[i] - middle) / half;
        gsl_matrix_set(parabola->design, i, 0, 1.0);
        gsl_matrix_set(parabola->design, i, 1, x);
        gsl_matrix_set(parabola->design, i, 2, x * x);
        gsl_vector_set(parabola->value, i, even[i]);
    }
    return 1;
}

/* x = -b/(2c), dx = -db/(2c) - x dc/c. */
static enum outcome vertex_of(const struct parabola *parabola, double *vertex, double *u)
{
    double b = gsl_vector_get(parabola->constant, 1), c = gsl_vector_get(parabola->constant, 2);
    double bb = gsl_matrix_get(parabola->covariance, 1, 1),
           bc = gsl_matrix_get(parabola->covariance, 1, 2),
           cc = gsl_matrix_get(parabola->covariance, 2, 2);
    if (!(fabs(c) > 2.0 * sqrt(cc)) || c == 0.0)
        return OUTCOME_SINGULAR;
    double x = -b / (2.0 * c);
    double by_b = -1.0 / (2.0 * c), by_c = -x / c;
    if (fabs(x) > 1.0)
        return OUTCOME_UNMEASURED;
    *vertex = x;
    *u = sqrt(fmax(by_b * by_b * bb + 2.0 * by_b * by_c * bc + by_c * by_c * cc, 0.0));
    return OUTCOME_OK;
}

enum outcome flow_yaw_of_vertex(const double *yaw, const double *even, size_t n,
                                struct yaw_offset *offset)
{
    struct parabola parabola;
    struct line_fit line; /* for its checks and its range */
    double squares = 0.0, vertex = 0.0, u = 0.0;
    enum outcome outcome = n < 4 ? OUTCOME_TOO_FEW : line_fit_make(yaw, even, n, &line);
    if (outcome != OUTCOME_OK)
        return outcome;
    double middle = (line.lowest + line.highest) / 2.0, half = (line.highest - line.lowest) / 2.0;
    if (!begin(&parabola, yaw, even, n, middle, half))
        outcome = OUTCOME_NO_MEMORY;
    else if (gsl_multifit_linear(parabola.design, parabola.value, parabola.constant,
                                 parabola.covariance, &squares, parabola.fit) != 0 ||
             gsl_multifit_linear_rank(1e-10, parabola.fit) < 3)
        outcome = OUTCOME_SINGULAR;
    if (outcome == OUTCOME_OK)
        outcome = vertex_of(&parabola, &vertex, &u);
    end(&parabola);
    if (outcome == OUTCOME_OK)
        *offset = (struct yaw_offset){middle + half * vertex, half * u};
    return outcome;
}

enum outcome flow_turn_of(const struct line_fit *body, const struct line_fit *mirrored,
                          struct flow_turn *found)
{
    const double constants[] = {body->intercept, body->slope, mirrored->intercept, mirrored->slope};
    double slope = (body->slope + mirrored->slope) / 2.0;
    double slope_u = hypot(body->slope_u, mirrored->slope_u);
    double sum = body->intercept + mirrored->intercept;
    double intercept_u = hypot(body->intercept_u, mirrored->intercept_u);
    if (!all_finite(constants, 4))
        return OUTCOME_NOT_FINITE;
    if (!(fabs(slope) > slope_u) || slope == 0.0 ||
        fabs(body->slope - mirrored->slope) > 3.0 * slope_u + 1e-9 * fabs(slope))
        return OUTCOME_SINGULAR;
    double turn = sum / (2.0 * slope);
    double covariance = body->covariance + mirrored->covariance;
    double variance = intercept_u * intercept_u / 4.0 - turn * covariance / 2.0 +
                      turn * turn * slope_u * slope_u / 4.0;
    double u = sqrt(fmax(variance, 0.0)) / fabs(slope);
    *found = (struct flow_turn){.turn = turn,
                                .turn_u = u,
                                .asymmetry = (body->intercept - mirrored->intercept) / 2.0,
                                .asymmetry_u = intercept_u / 2.0,
                                .is_confirmed = fabs(turn) > 2.0 * u};
    return OUTCOME_OK;
}
