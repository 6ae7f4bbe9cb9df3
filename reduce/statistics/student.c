/* student.c - see student.h. The probability of several t's at once is in largest_t.c. */
#include "reduce/statistics/student.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "reduce/statistics/largest_t.h"

double student_multiplier(double confidence, double degrees_of_freedom)
{
    if (!(confidence > 0 && confidence < 1) || !(degrees_of_freedom > 0))
        return NAN;
    if (isinf(degrees_of_freedom))
        return gsl_cdf_ugaussian_Qinv(0.5 * (1 - confidence));
    return gsl_cdf_tdist_Qinv(0.5 * (1 - confidence), degrees_of_freedom);
}

double student_p(double t, double degrees_of_freedom)
{
    if (isnan(t) || !(degrees_of_freedom > 0))
        return NAN;
    if (isinf(degrees_of_freedom))
        return 2 * gsl_cdf_ugaussian_Q(fabs(t));
    return 2 * gsl_cdf_tdist_Q(fabs(t), degrees_of_freedom);
}

/* Secants of ln(1 - P), which is almost straight in the multiplier: four or five values do. The
 * points of the probability stay where they are, so it is a smooth function and the root is found
 * to far better than the probability itself is known. */
static enum outcome find_root(const struct largest_t *largest, double confidence, double lower,
                              double upper, double *multiplier)
{
    double older = lower;
    double newer = upper;
    double older_excess = log1p(-largest_t_probability(largest, older)) - log1p(-confidence);
    double newer_excess = log1p(-largest_t_probability(largest, newer)) - log1p(-confidence);

    for (int i = 0; i < 40 && older_excess != newer_excess; i++) {
        double next = newer - newer_excess * (newer - older) / (newer_excess - older_excess);
        if (!(next >= lower && next <= upper))
            return OUTCOME_SINGULAR;
        if (fabs(next - newer) <= 1e-8 * next) {
            *multiplier = next;
            return OUTCOME_OK;
        }
        older = newer;
        older_excess = newer_excess;
        newer = next;
        newer_excess = log1p(-largest_t_probability(largest, newer)) - log1p(-confidence);
    }
    return OUTCOME_SINGULAR;
}

enum outcome simultaneous_multiplier(const double *correlation, size_t n, double confidence,
                                     double degrees_of_freedom, double *multiplier)
{
    struct largest_t largest;

    *multiplier = NAN;
    if (n == 0)
        return OUTCOME_TOO_FEW;
    double lower = student_multiplier(confidence, degrees_of_freedom);
    if (!isfinite(lower))
        return OUTCOME_NOT_FINITE;
    enum outcome outcome = largest_t_prepare(&largest, correlation, n, degrees_of_freedom);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (n == 1) {
        *multiplier = lower;
        return OUTCOME_OK;
    }
    /* One alone is the least it can be, Bonferroni's inequality the most; the margins are wider
     * than the error of the probability. */
    double upper = student_multiplier(1 - (1 - confidence) / (double)n, degrees_of_freedom);
    return find_root(&largest, confidence, lower * 0.99, upper * 1.01, multiplier);
}
