/* repeat_agreement.c - see repeat_agreement.h. */
#include "reduce/statistics/repeat_agreement.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "reduce/statistics/student.h"

/* Scatter below this share of the differences is rounding. */
static const double SAME_VALUE = 1e-12;

static enum outcome check(const struct repeat_difference *pairs, size_t n, double coverage)
{
    if (!(coverage > 0 && coverage < 1))
        return OUTCOME_NOT_FINITE;
    for (size_t i = 0; i < n; i++)
        if (!isfinite(pairs[i].difference) || !isfinite(pairs[i].stated) || pairs[i].stated < 0)
            return OUTCOME_NOT_FINITE;
    return n == 0 ? OUTCOME_TOO_FEW : OUTCOME_OK;
}

static double mean_difference(const struct repeat_difference *pairs, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += pairs[i].difference;
    return sum / (double)n;
}

static double spread_about(const struct repeat_difference *pairs, size_t n, double centre)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += (pairs[i].difference - centre) * (pairs[i].difference - centre);
    return sum;
}

/* What needs no groups. */
static void count(const struct repeat_difference *pairs, size_t n, double coverage,
                  struct repeat_agreement *made)
{
    double squares = 0;
    made->pairs = n;
    for (size_t i = 0; i < n; i++) {
        double ratio = pairs[i].difference / pairs[i].stated;
        made->inside += fabs(pairs[i].difference) <= pairs[i].stated;
        squares += pairs[i].stated > 0 ? ratio * ratio : (double)NAN;
    }
    made->expected = coverage * (double)n;
    made->few = gsl_cdf_binomial_P((unsigned)made->inside, coverage, (unsigned)n);
    made->many = made->inside == 0
                     ? 1
                     : gsl_cdf_binomial_Q((unsigned)made->inside - 1, coverage, (unsigned)n);
    made->ratio = gsl_cdf_ugaussian_Qinv(0.5 * (1 - coverage)) * sqrt(squares / (double)n);
    made->sd_about_zero = sqrt(spread_about(pairs, n, 0) / (2 * (double)n));
}

/* Student's t of the shift, where its units scatter at all. */
static void test_shift(double variance, double units, double scale, struct repeat_agreement *made)
{
    double error = sqrt(variance / units);
    if (!(units > 1) || !(error > SAME_VALUE * scale))
        return;
    made->shift_error = error;
    made->shift_freedom = units - 1;
    made->shift_p = student_p(made->shift / error, units - 1);
}

static void clear(struct repeat_agreement *agreement)
{
    *agreement = (struct repeat_agreement){0, 0, 0, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
}

enum outcome repeat_agreement(const struct repeat_difference *pairs, size_t n, double coverage,
                              struct repeat_agreement *agreement)
{
    clear(agreement);
    enum outcome outcome = check(pairs, n, coverage);
    if (outcome != OUTCOME_OK)
        return outcome;
    count(pairs, n, coverage, agreement);
    agreement->shift = mean_difference(pairs, n);
    if (n < 2)
        return OUTCOME_OK;
    double variance = spread_about(pairs, n, agreement->shift) / (double)(n - 1);
    agreement->sd_about_shift = sqrt(variance / 2);
    test_shift(variance, (double)n, agreement->sd_about_zero, agreement);
    return OUTCOME_OK;
}

enum outcome repeat_agreement_of_groups(const struct repeat_difference *pairs, const size_t *end,
                                        size_t n_groups, double coverage,
                                        struct repeat_agreement *agreement)
{
    size_t n = n_groups > 0 ? end[n_groups - 1] : 0;
    if (n_groups == 1)
        return repeat_agreement(pairs, n, coverage, agreement);
    clear(agreement);
    enum outcome outcome = check(pairs, n, coverage);
    if (outcome != OUTCOME_OK)
        return outcome;
    count(pairs, n, coverage, agreement);
    double within = 0, sum = 0, squares = 0;
    for (size_t i = 0, from = 0; i < n_groups; from = end[i++]) {
        double shift = mean_difference(pairs + from, end[i] - from);
        within += spread_about(pairs + from, end[i] - from, shift);
        sum += shift;
    }
    agreement->shift = sum / (double)n_groups;
    for (size_t i = 0, from = 0; i < n_groups; from = end[i++]) {
        double off = mean_difference(pairs + from, end[i] - from) - agreement->shift;
        squares += off * off;
    }
    if (n > n_groups)
        agreement->sd_about_shift = sqrt(within / (2 * (double)(n - n_groups)));
    test_shift(squares / (double)(n_groups - 1), (double)n_groups, agreement->sd_about_zero,
               agreement);
    return OUTCOME_OK;
}
