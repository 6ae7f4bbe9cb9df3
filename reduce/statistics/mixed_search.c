/* mixed_search.c - see mixed_search.h. */
#include "reduce/statistics/mixed_search.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

/* Where a source adds this much to the mean variance of what is not fitted, over the residual's. */
static const double lattice[] = {0, 0.05, 0.2, 0.8, 3, 12, 100};

enum { LATTICE = sizeof lattice / sizeof lattice[0], STEPS = 60, SHORTENINGS = 40 };

/* The criterion is a logarithm of likelihood: a change this small says nothing, and Newton's step from
 * there leaves less than its square. */
static const double SETTLED = 1e-9;

static const double LEAST_DAMPING = 1e-6;

/* A ratio is held to this many times its unit: there the residual is nothing beside the source, and a
 * larger ratio changes no estimate. */
static const double RATIO_MOST = 1e6;

/* Mean variance that a source leaves in least squares residuals: tr(P K) / (n - p) at ratios 0. */
static enum outcome find_units(struct mixed_search *search)
{
    const double none[MIXED_COMPONENTS_MAX] = {0};
    double freedom = (double)(search->work->data->n - search->work->data->p);

    search->criterion = mixed_criterion_derivatives(search->work, none, &search->parts);
    if (!isfinite(search->criterion))
        return OUTCOME_SINGULAR;
    for (size_t k = 0; k < search->n; k++) {
        double mean = search->parts.trace[k + 1] / freedom;
        if (!(mean > 0))
            return OUTCOME_SINGULAR;
        search->unit[k] = 1 / mean;
    }
    return OUTCOME_OK;
}

static void search_lattice(struct mixed_search *search)
{
    size_t places = 1;

    for (size_t k = 0; k < search->n; k++)
        places *= LATTICE;
    for (size_t place = 1; place < places; place++) {
        double ratio[MIXED_COMPONENTS_MAX] = {0};
        size_t rest = place;
        for (size_t k = 0; k < search->n; k++, rest /= LATTICE)
            ratio[k] = lattice[rest % LATTICE] * search->unit[k];
        double criterion = mixed_criterion(search->work, ratio);
        if (criterion < search->criterion) {
            search->criterion = criterion;
            memcpy(search->ratio, ratio, sizeof ratio);
        }
    }
}

/* Derivatives of the profiled criterion by the ratios, in their units. */
static void differentiate(struct mixed_search *search)
{
    const struct mixed_derivatives *parts = &search->parts;
    const struct mixed_data *data = search->work->data;
    double freedom = (double)(data->n - data->p);

    search->criterion = mixed_criterion_derivatives(search->work, search->ratio, &search->parts);
    double variance = search->work->variance;
    for (size_t a = 0; a < search->n; a++) {
        search->gradient[a] =
            search->unit[a] * (parts->trace[a + 1] - parts->form[a + 1] / variance);
        for (size_t b = 0; b < search->n; b++) {
            double profiled =
                parts->form[a + 1] * parts->form[b + 1] / (variance * variance * freedom);
            search->curvature[a * search->n + b] = search->unit[a] * search->unit[b] *
                                                   (2 * parts->form2[a + 1][b + 1] / variance -
                                                    parts->trace2[a + 1][b + 1] - profiled);
        }
    }
}

int mixed_search_is_held(const struct mixed_search *search, size_t k)
{
    int is_most = search->ratio[k] >= RATIO_MOST * search->unit[k];
    return (!(search->ratio[k] > 0) && search->gradient[k] >= 0) ||
           (is_most && search->gradient[k] <= 0);
}

/* Newton's step in units, with as much of the identity added as makes it lead downhill; that of a
 * ratio held on a bound is 0. */
static int find_step(const struct mixed_search *search, double damping, double *step)
{
    size_t n = search->n;
    double matrix[MIXED_COMPONENTS_MAX * MIXED_COMPONENTS_MAX];

    for (size_t a = 0; a < n; a++) {
        step[a] = mixed_search_is_held(search, a) ? 0 : -search->gradient[a];
        for (size_t b = 0; b < n; b++) {
            int apart = mixed_search_is_held(search, a) || mixed_search_is_held(search, b);
            matrix[a * n + b] = apart ? 0 : search->curvature[a * n + b];
        }
        matrix[a * n + a] = mixed_search_is_held(search, a) ? 1 : matrix[a * n + a] + damping;
    }
    if (n == 0)
        return 1;
    gsl_matrix_view factor = gsl_matrix_view_array(matrix, n, n);
    gsl_vector_view vector = gsl_vector_view_array(step, n);
    return gsl_linalg_cholesky_decomp1(&factor.matrix) == 0 &&
           gsl_linalg_cholesky_svx(&factor.matrix, &vector.vector) == 0;
}

/* Where the criterion is almost straight Newton's step is far too long, and where all error is the
 * walk's it is level: no step goes beyond four times where it starts. */
static void move(struct mixed_search *search, const double *step)
{
    for (size_t k = 0; k < search->n; k++) {
        double longest = 3 * search->ratio[k] + search->unit[k];
        double moved = search->ratio[k] + fmin(step[k] * search->unit[k], longest);
        search->ratio[k] = fmin(fmax(moved, 0), RATIO_MOST * search->unit[k]);
    }
}

/* Tries one step; 1 when the criterion fell. */
static int take_step(struct mixed_search *search, const double *step)
{
    double before[MIXED_COMPONENTS_MAX];

    memcpy(before, search->ratio, sizeof before);
    move(search, step);
    if (mixed_criterion(search->work, search->ratio) < search->criterion)
        return 1;
    memcpy(search->ratio, before, sizeof before);
    return 0;
}

/* What the criterion would fall by if it were the parabola that its derivatives say. */
static double promised_fall(const struct mixed_search *search, const double *step)
{
    double promised = 0;

    for (size_t k = 0; k < search->n; k++)
        promised -= search->gradient[k] * step[k] / 2;
    return promised;
}

/* Newton's steps until the next promises nothing; that last one is taken unseen, because the fall is
 * lost in rounding while the ratios still gain digits. */
static enum outcome descend(struct mixed_search *search)
{
    double damping = 0;

    for (int i = 0; i < STEPS; i++) {
        double step[MIXED_COMPONENTS_MAX] = {0};
        int is_taken = 0;
        differentiate(search);
        for (int j = 0; j < SHORTENINGS && !is_taken; j++) {
            int is_downhill = find_step(search, damping, step);
            if (is_downhill && promised_fall(search, step) < SETTLED) {
                move(search, step);
                differentiate(search);
                return isfinite(search->criterion) ? OUTCOME_OK : OUTCOME_SINGULAR;
            }
            is_taken = is_downhill && take_step(search, step);
            damping = is_taken ? damping / 10 : fmax(damping * 4, LEAST_DAMPING);
        }
        if (damping < LEAST_DAMPING)
            damping = 0;
        if (!is_taken)
            break;
    }
    return OUTCOME_NO_CONVERGENCE;
}

enum outcome mixed_search_run(struct mixed_search *search)
{
    enum outcome outcome = find_units(search);

    if (outcome != OUTCOME_OK)
        return outcome;
    search_lattice(search);
    return descend(search);
}
