/* reynolds.c - see reynolds.h. */
#include "reduce/physics/reynolds.h"

#include <math.h>
#include <stdlib.h>

static const double same_speed = 0.00432; /* log10 of 1.01 */
static const double rounding = 1e-12;

/* Different within 1 %: each is compared with those before it. */
static size_t count_different(const double *logarithm, size_t n)
{
    size_t different = 0;
    for (size_t i = 0; i < n; i++) {
        int is_new = 1;
        for (size_t k = 0; k < i; k++)
            is_new = is_new && fabs(logarithm[i] - logarithm[k]) > same_speed;
        different += (size_t)is_new;
    }
    return different;
}

enum outcome reynolds_fit(const double *reynolds, const double *coefficient, size_t n,
                          struct line_fit *fit)
{
    enum outcome outcome = OUTCOME_OK;
    double *logarithm = n >= 3 ? malloc(n * sizeof *logarithm) : NULL;
    if (n < 3)
        return OUTCOME_TOO_FEW;
    if (logarithm == NULL)
        return OUTCOME_NO_MEMORY;
    for (size_t i = 0; i < n; i++) {
        logarithm[i] = reynolds[i] > 0.0 ? log10(reynolds[i]) : (double)NAN;
        if (!isfinite(logarithm[i]))
            outcome = OUTCOME_NOT_FINITE;
    }
    if (outcome == OUTCOME_OK && count_different(logarithm, n) < 3)
        outcome = OUTCOME_TOO_FEW;
    if (outcome == OUTCOME_OK)
        outcome = line_fit_make(logarithm, coefficient, n, fit);
    free(logarithm);
    return outcome;
}

/* The sweep's own ends are inside, whatever the logarithm rounds to. */
static int is_inside(const struct line_fit *fit, double logarithm)
{
    return logarithm >= fit->lowest - rounding && logarithm <= fit->highest + rounding;
}

enum outcome reynolds_change(const struct line_fit *fit, double from, double to, double *change,
                             double *u)
{
    if (!(from > 0.0) || !(to > 0.0) || !isfinite(from) || !isfinite(to))
        return OUTCOME_NOT_FINITE;
    double start = log10(from), end = log10(to);
    if (!is_inside(fit, start) || !is_inside(fit, end))
        return OUTCOME_UNMEASURED;
    *change = fit->slope * (end - start);
    *u = fit->slope_u * fabs(end - start);
    return OUTCOME_OK;
}
