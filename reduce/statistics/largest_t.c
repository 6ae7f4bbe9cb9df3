/* largest_t.c - see largest_t.h.
 *
 * Three means make a few thousand points enough. The n single probabilities are known exactly, so
 * only what Bonferroni's sum counts twice is integrated. Factors are drawn from a normal
 * distribution 1.5 times as wide and weighted back, so that the integrand dies away smoothly at
 * the edges of the lattice. Each of the 64 values of the noise estimate shifts the lattice.
 * Accuracy of a 95 % or 99 % multiplier, v >= 1 (tests/test_student.c): 3e-6 with one factor, as
 * in a balanced one-way layout; 1e-4 of its value with several. */
#include "reduce/statistics/largest_t.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_errno.h>
#include <math.h>

/* A Korobov lattice: coordinate j of point k is the fraction of k g^j / N. The generator is the
 * best of all for N = 2039 by the criterion P2 in 12 axes with weights 1/j^2 (Sloan and Joe,
 * "Lattice Methods for Multiple Integration", 1994). */
enum { POINTS = 2039, GENERATOR = 469 };

/* Variables that depend on each other exactly are given this much of their own, so that the product
 * form stays; it moves a multiplier by less than 1e-5. */
static const double LEAST_OWN = 1e-6;

/* Degrees of freedom beyond which the multiplier is the normal one to six digits. */
static const double KNOWN_NOISE = 1e6;

/* Standard deviation of the distribution that factors are drawn from. */
static const double WIDTH = 1.5;

/* A factor that carries less than this of a variance cannot be told from rounding. */
static const double LEAST_FACTOR = 1e-9;

static enum outcome check_correlation(const double *correlation, size_t n)
{
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++) {
            double r = correlation[i * n + j];
            if (!isfinite(r))
                return OUTCOME_NOT_FINITE;
            if (fabs(r - correlation[j * n + i]) > 1e-9 || fabs(r) > 1 + 1e-9)
                return OUTCOME_SINGULAR;
            if (i == j && fabs(r - 1) > 1e-9)
                return OUTCOME_SINGULAR;
        }
    return OUTCOME_OK;
}

/* d, and F from the eigenvectors with the strongest factor first, where the lattice is best. */
static enum outcome take_factors(struct largest_t *largest, const gsl_vector *value,
                                 const gsl_matrix *vector)
{
    size_t n = largest->n;
    double least = gsl_vector_get(value, n - 1);

    if (least < -1e-8)
        return OUTCOME_SINGULAR;
    double own = fmax(least, LEAST_OWN);
    largest->own = sqrt(own);
    largest->factors = 0;
    for (size_t j = 0; j < n; j++) {
        double carried = gsl_vector_get(value, j) - own;
        if (carried < LEAST_FACTOR)
            break;
        for (size_t i = 0; i < n; i++)
            largest->loading[i][j] = sqrt(carried) * gsl_matrix_get(vector, i, j);
        largest->factors++;
    }
    return OUTCOME_OK;
}

static enum outcome factorise(struct largest_t *largest, const double *correlation)
{
    size_t n = largest->n;
    gsl_matrix *matrix = gsl_matrix_alloc(n, n);
    gsl_matrix *vector = gsl_matrix_alloc(n, n);
    gsl_vector *value = gsl_vector_alloc(n);
    gsl_eigen_symmv_workspace *work = gsl_eigen_symmv_alloc(n);
    enum outcome outcome = OUTCOME_NO_MEMORY;

    if (matrix != NULL && vector != NULL && value != NULL && work != NULL) {
        for (size_t i = 0; i < n * n; i++)
            gsl_matrix_set(matrix, i / n, i % n, correlation[i]);
        outcome = OUTCOME_SINGULAR;
        if (gsl_eigen_symmv(matrix, value, vector, work) == GSL_SUCCESS &&
            gsl_eigen_symmv_sort(value, vector, GSL_EIGEN_SORT_VAL_DESC) == GSL_SUCCESS)
            outcome = take_factors(largest, value, vector);
    }
    gsl_eigen_symmv_free(work);
    gsl_vector_free(value);
    gsl_matrix_free(vector);
    gsl_matrix_free(matrix);
    return outcome;
}

static int is_prime(unsigned candidate)
{
    for (unsigned divisor = 2; divisor * divisor <= candidate; divisor++)
        if (candidate % divisor == 0)
            return 0;
    return 1;
}

static void spread_points(struct largest_t *largest)
{
    unsigned candidate = 2;
    unsigned long power = 1;

    for (size_t j = 0; j < LARGEST_T_MAX; candidate++) {
        if (!is_prime(candidate))
            continue;
        largest->step[j] = (double)power / POINTS;
        largest->shift[j++] = fmod(sqrt((double)candidate), 1);
        power = power * GENERATOR % POINTS;
    }
}

/* The noise estimate in x = ln s, where its density is smooth and falls off on both sides faster
 * than exponentially: equal steps then converge exponentially. The weights are normed to their
 * sum, so the density needs no gamma function. The range leaves out 1e-8 below and 1e-11 above. */
static void spread_noise(struct largest_t *largest, double degrees_of_freedom)
{
    double v = degrees_of_freedom;
    double sum = 0;

    largest->degrees_of_freedom = v;
    for (size_t i = 0; i < LARGEST_T_NODES; i++) {
        largest->scale[i] = 1;
        largest->weight[i] = 1.0 / LARGEST_T_NODES;
    }
    if (v > KNOWN_NOISE)
        return;
    double first = 0.5 * log(gsl_cdf_chisq_Pinv(1e-8, v) / v);
    double last = 0.5 * log(gsl_cdf_chisq_Qinv(1e-11, v) / v);
    for (size_t i = 0; i < LARGEST_T_NODES; i++) {
        double x = first + (last - first) * (double)i / (LARGEST_T_NODES - 1);
        largest->scale[i] = exp(x);
        largest->weight[i] = exp(v * (x - 0.5 * expm1(2 * x)));
        sum += largest->weight[i];
    }
    for (size_t i = 0; i < LARGEST_T_NODES; i++)
        largest->weight[i] /= sum;
}

enum outcome largest_t_prepare(struct largest_t *largest, const double *correlation, size_t n,
                               double degrees_of_freedom)
{
    if (!(degrees_of_freedom > 0))
        return OUTCOME_NOT_FINITE;
    if (n < 1 || n > LARGEST_T_MAX)
        return OUTCOME_SINGULAR;
    largest->n = n;
    enum outcome outcome = check_correlation(correlation, n);
    if (outcome == OUTCOME_OK)
        outcome = factorise(largest, correlation);
    if (outcome != OUTCOME_OK)
        return outcome;
    spread_points(largest);
    spread_noise(largest, degrees_of_freedom);
    return OUTCOME_OK;
}

/* Values of the factors at a point; gives the weight of the point. */
static double factors_at(const struct largest_t *largest, size_t node, size_t point, double *factor)
{
    double exponent = 0;
    double weight = 1;

    for (size_t j = 0; j < largest->factors; j++) {
        double u = fmod((double)point * largest->step[j] + (double)node * largest->shift[j], 1);
        u = fmin(fmax(u, 1e-14), 1 - 1e-14);
        factor[j] = WIDTH * gsl_cdf_ugaussian_Pinv(u);
        exponent += factor[j] * factor[j];
        weight *= WIDTH;
    }
    return weight * exp(-0.5 * exponent * (1 - 1 / (WIDTH * WIDTH)));
}

/* Given the factors: P(all |Z_i| <= bound) - 1 + sum_i P(|Z_i| > bound), at least 0. */
static double counted_twice(const struct largest_t *largest, double bound, const double *factor)
{
    double all_inside = 1;
    double outside_sum = 0;

    for (size_t i = 0; i < largest->n; i++) {
        double mean = 0;
        for (size_t j = 0; j < largest->factors; j++)
            mean += largest->loading[i][j] * factor[j];
        double outside = gsl_cdf_ugaussian_Q((bound - mean) / largest->own) +
                         gsl_cdf_ugaussian_P((-bound - mean) / largest->own);
        all_inside *= 1 - outside;
        outside_sum += outside;
    }
    return all_inside - 1 + outside_sum;
}

/* P(|t| > limit) of one of them. */
static double outside_alone(const struct largest_t *largest, double limit)
{
    if (largest->degrees_of_freedom > KNOWN_NOISE)
        return 2 * gsl_cdf_ugaussian_Q(limit);
    return 2 * gsl_cdf_tdist_Q(limit, largest->degrees_of_freedom);
}

double largest_t_probability(const struct largest_t *largest, double limit)
{
    double factor[LARGEST_T_MAX];
    double probability = 1 - (double)largest->n * outside_alone(largest, limit);

    for (size_t node = 0; node < LARGEST_T_NODES; node++) {
        double sum = 0;
        if (largest->weight[node] < 1e-9)
            continue;
        for (size_t point = 0; point < POINTS; point++) {
            double weight = factors_at(largest, node, point, factor);
            sum += weight * counted_twice(largest, limit * largest->scale[node], factor);
        }
        probability += largest->weight[node] * sum / POINTS;
    }
    return probability;
}
