/* mixed_criterion.h - the restricted criterion of mixed_model.h and its derivatives at given ratios.
 *
 * The helper of mixed_model_fit(). y is taken minus its least squares fit, which changes nothing in
 * theory and saves the digits of a large common level. */
#ifndef LAPWING_MIXED_CRITERION_H
#define LAPWING_MIXED_CRITERION_H

#include "reduce/statistics/mixed_model.h"

enum { MIXED_SOURCES_MAX = MIXED_COMPONENTS_MAX + 1 };

struct mixed_work {
    const struct mixed_data *data;
    double *start;    /* p, the least squares fit */
    double *rest;     /* n, y minus it */
    double *h;        /* n x n, Cholesky factor of H, then its inverse */
    double *whitened; /* n x (p + 1), L^-1 [X rest] */
    double *cross;    /* (p + 1) x (p + 1) */
    double *unscaled; /* p x p, (X'H^-1 X)^-1 */
    double *weighted; /* n x p, H^-1 X */
    double *carrier;  /* n x p, H^-1 X (X'H^-1 X)^-1 */
    double *p;        /* n x n, P */
    double *py;       /* n */
    double *pk;       /* components x n x n, P K_k */
    double *kpy;      /* components x n, K_k P y */
    double *pkpy;     /* n */
    double variance;  /* s^2 at the ratios asked last */
};

/* Sources are numbered 0 for the residual, k + 1 for component k. */
struct mixed_derivatives {
    double trace[MIXED_SOURCES_MAX];                     /* tr(P K) */
    double form[MIXED_SOURCES_MAX];                      /* y'P K P y */
    double trace2[MIXED_SOURCES_MAX][MIXED_SOURCES_MAX]; /* tr(P K P K') */
    double form2[MIXED_SOURCES_MAX][MIXED_SOURCES_MAX];  /* y'P K P K' P y */
};

/* End it with mixed_work_free() whatever the outcome. OUTCOME_SINGULAR: columns of X depend on each
 * other or y lies in their span. */
enum outcome mixed_work_start(struct mixed_work *work, const struct mixed_data *data);
void mixed_work_free(struct mixed_work *work);

/* The criterion at the ratios; infinite where H cannot be factored. */
double mixed_criterion(struct mixed_work *work, const double *ratio);

/* The same with the derivatives' parts; also leaves unscaled, carrier and variance in *work. */
double mixed_criterion_derivatives(struct mixed_work *work, const double *ratio,
                                   struct mixed_derivatives *parts);

/* Adds share C'K_a P K_b C to the p x p matrix lift; after mixed_criterion_derivatives() only, of whose
 * work it uses up weighted and whitened. */
void mixed_add_lift(struct mixed_work *work, size_t a, size_t b, double share, double *lift);

#endif
