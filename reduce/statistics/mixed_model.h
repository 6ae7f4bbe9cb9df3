/* mixed_model.h - a linear model whose errors come from several sources, by restricted likelihood.
 *
 *   y = X b + e,   cov(e) = V = s^2 (I + sum_k g_k K_k),   g_k >= 0
 *
 * X n x p holds what is estimated (configurations, attitudes, a polynomial of time), each K_k the
 * pattern of one source of error that is not: Z Z' for an error that all points of a mounting share,
 * min(t_i, t_j) for a drift that wanders. The ratios g minimise the restricted (REML) criterion
 *
 *   (n - p) (1 + ln(2 pi y'Py / (n - p))) + ln |H| + ln |X'H^-1 X|,   H = V / s^2,
 *   P = H^-1 - H^-1 X (X'H^-1 X)^-1 X'H^-1,   s^2 = y'Py / (n - p)
 *
 * from which s^2 is profiled out.
 * Degrees of freedom of a contrast l'b with variance v(s^2, s^2 g_k) are Satterthwaite's,
 *
 *   df = 2 v^2 / (d' A d),   d = gradient of v,   A = 2 / (second derivatives of the criterion)
 *
 * with all derivatives exact, as they are; with a variance on its bound as expected. A variance on its
 * bound still counts, since it is not known to be 0: left out, nights without drift had more false readings
 * than promised. A standard error that takes the estimated variances for true is too small; Kenward and
 * Roger's addition to the covariance of b mends that,
 *
 *   2 sum_ab W_ab C'K_a P K_b C / s^2,   C = H^-1 X (X'H^-1 X)^-1,   W = 2 s^4 (tr P K_a P K_b)^-1
 *
 * Sources: Patterson and Thompson, "Recovery of inter-block information
 * when block sizes are unequal", Biometrika 58 (1971), the criterion; Bates, Maechler, Bolker and
 * Walker, "Fitting linear mixed-effects models using lme4", J. Stat. Software 67 (2015), eq. 42, its
 * profile; Giesbrecht and Burns, "Two-stage analysis based on a mixed model", Biometrics 41 (1985),
 * the degrees of freedom; Kenward and Roger, "Small sample inference for fixed effects from restricted
 * maximum likelihood", Biometrics 53 (1997), for variances in which V is linear.
 * Cost: some tens of n^3; an n of 60 takes milliseconds, one of 500 seconds. */
#ifndef LAPWING_MIXED_MODEL_H
#define LAPWING_MIXED_MODEL_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

enum { MIXED_COMPONENTS_MAX = 3, MIXED_ROWS_MAX = 512 };

struct mixed_data {
    size_t n, p;
    const double *x;                                /* n x p, row by row, of full rank */
    const double *y;                                /* n */
    size_t components;                              /* 0 .. MIXED_COMPONENTS_MAX */
    const double *covariance[MIXED_COMPONENTS_MAX]; /* n x n each, symmetric, not indefinite */
};

struct mixed_fit {
    size_t n, p, components;
    double *coefficient;                   /* p */
    double *covariance;                    /* p x p, of the coefficients */
    double *carrier;                       /* n x p: each coefficient is its column's sum with y */
    double residual_variance;              /* s^2 */
    double variance[MIXED_COMPONENTS_MAX]; /* s^2 g_k */
    double criterion;                      /* at its least */
    /* For contrasts: derivatives of the covariance by s^2 and by each variance, p x p each, and the
     * covariance of those estimates, row by row. */
    double *slope;
    double *lift; /* p x p: added to the covariance for variances that are themselves estimates */
    double spread[(MIXED_COMPONENTS_MAX + 1) * (MIXED_COMPONENTS_MAX + 1)];
};

struct mixed_estimate {
    double value;
    double standard_error; /* with Kenward and Roger's addition */
    double plain_error;    /* without: as if the variances were known */
    double degrees_of_freedom;
};

/* On OUTCOME_OK the caller owns what *fit points to and ends it with mixed_fit_free(). Outcomes:
 * OUTCOME_TOO_FEW: n <= p + components; OUTCOME_NOT_FINITE; OUTCOME_SINGULAR: columns of X depend on
 * each other, y lies in their span, the data cannot tell the variances apart, or a size is beyond its
 * maximum; OUTCOME_NO_CONVERGENCE; OUTCOME_NO_MEMORY. Then *fit holds nothing. */
enum outcome mixed_model_fit(const struct mixed_data *data, struct mixed_fit *fit);
void mixed_fit_free(struct mixed_fit *fit); /* one filled with 0 is fine */

/* l'b for the p weights l, not all 0. */
struct mixed_estimate mixed_contrast(const struct mixed_fit *fit, const double *weights);

#endif
