/* largest_t.c - see largest_t.h.
 *
 * The n single probabilities are known exactly, so only what Bonferroni's sum counts twice is integrated.
 * Factors are drawn from a normal distribution 1.5 times as wide and weighted back, so that the integrand
 * dies away smoothly at the edges of the lattice; so does the density of the noise.
 * Accuracy of a 95 % or 99 % multiplier, v >= 1 (tests/test_student.c): 2e-8 with one factor, as in a one-way
 * layout; 1e-4 of its value with several.
 */
#include "reduce/statistics/largest_t.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_errno.h>
#include <math.h>

#include "reduce/statistics/common_factor.h"

/* A Korobov lattice: coordinate j of point k is the fraction of k g^j / N. The generator is the best of some
 * hundreds for this N by the criterion P2 in 12 axes with weights 1/j^2 (Sloan and Joe, "Lattice Methods for
 * Multiple Integration", 1994): P2 = 1.66e-5. */
enum { POINTS = 65521, GENERATOR = 43939 };

/* Variables that depend on each other exactly are given this much of their own, so that the product
 * form stays; it moves a multiplier by less than 1e-5. */
static const double LEAST_OWN = 1e-6;

/* Degrees of freedom beyond which the multiplier is the normal one to six digits. */
static const double KNOWN_NOISE = 1e6;

/* Standard deviation of the distribution that factors are drawn from. */
static const double WIDTH = 1.5;

/* Of a value of the noise, over the most probable one's: below it nothing is added. */
static const double LEAST_DENSITY = 1e-12;

/* Beyond it one normal factor has 1e-18 of its probability. */
static const double FARTHEST = 8.8;

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
    largest->factors = 0;
    for (size_t i = 0; i < n; i++)
        largest->own[i] = sqrt(own);
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

static int take_common_factor(struct largest_t *largest, const double *correlation)
{
    double loading[LARGEST_T_MAX];

    if (!common_factor_find(correlation, largest->n, loading))
        return 0;
    for (size_t i = 0; i < largest->n; i++) {
        largest->loading[i][0] = loading[i];
        largest->own[i] = sqrt(1 - loading[i] * loading[i]);
    }
    largest->factors = 1;
    return 1;
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

static void spread_points(struct largest_t *largest)
{
    unsigned long power = 1;

    for (size_t j = 0; j <= LARGEST_T_MAX; j++) {
        largest->step[j] = (double)power / POINTS;
        power = power * GENERATOR % POINTS;
    }
}

static double noise_density(const struct largest_t *largest, double x)
{
    return exp(largest->degrees_of_freedom * (x - 0.5 * expm1(2 * x)));
}

static double noise_node(const struct largest_t *largest, size_t node)
{
    return largest->first + (largest->last - largest->first) * (double)node / (LARGEST_T_NODES - 1);
}

static int is_known(const struct largest_t *largest)
{
    return largest->degrees_of_freedom > KNOWN_NOISE;
}

/* Where the density has fallen to LEAST_DENSITY of its most, which is at x = 0, between there and outer. */
static double noise_edge(const struct largest_t *largest, double outer)
{
    double inner = 0;

    for (int i = 0; i < 60; i++) {
        double middle = 0.5 * (inner + outer);
        if (noise_density(largest, middle) < LEAST_DENSITY)
            outer = middle;
        else
            inner = middle;
    }
    return outer;
}

/* The noise estimate in x = ln s, where its density is smooth and falls off on both sides at least
 * exponentially: equal steps then converge exponentially. The weights are normed to their sum, so the
 * density needs no gamma function. To the left ln density is below v (x + 1/2), to the right below -v x^2. */
static void spread_noise(struct largest_t *largest, double degrees_of_freedom)
{
    double farthest = -log(LEAST_DENSITY) / degrees_of_freedom;

    largest->degrees_of_freedom = degrees_of_freedom;
    largest->first = largest->last = 0;
    largest->norm = LARGEST_T_NODES;
    if (is_known(largest))
        return;
    largest->first = noise_edge(largest, -farthest - 0.5);
    largest->last = noise_edge(largest, sqrt(farthest));
    largest->norm = 0;
    for (size_t node = 0; node < LARGEST_T_NODES; node++)
        largest->norm += noise_density(largest, noise_node(largest, node));
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
    if (outcome != OUTCOME_OK)
        return outcome;
    largest->has_common_factor = take_common_factor(largest, correlation);
    if (!largest->has_common_factor)
        outcome = factorise(largest, correlation);
    if (outcome != OUTCOME_OK)
        return outcome;
    spread_points(largest);
    spread_noise(largest, degrees_of_freedom);
    return OUTCOME_OK;
}

static double coordinate(const struct largest_t *largest, size_t axis, size_t point)
{
    return fmod((double)point * largest->step[axis] + 0.5, 1);
}

/* Values of the factors at a point; gives the weight of the point. */
static double factors_at(const struct largest_t *largest, size_t point, double *factor)
{
    double exponent = 0;
    double weight = 1;

    for (size_t j = 0; j < largest->factors; j++) {
        double u = fmin(fmax(coordinate(largest, j + 1, point), 1e-14), 1 - 1e-14);
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
        double outside = gsl_cdf_ugaussian_Q((bound - mean) / largest->own[i]) +
                         gsl_cdf_ugaussian_P((-bound - mean) / largest->own[i]);
        all_inside *= 1 - outside;
        outside_sum += outside;
    }
    return all_inside - 1 + outside_sum;
}

/* P(|t| > limit) of one of them. */
static double outside_alone(const struct largest_t *largest, double limit)
{
    if (is_known(largest))
        return 2 * gsl_cdf_ugaussian_Q(limit);
    return 2 * gsl_cdf_tdist_Q(limit, largest->degrees_of_freedom);
}

/* A value of x = ln s drawn from a logistic distribution, whose tails are not below those of the noise's density;
 * gives the weight that makes up for it. */
static double noise_at(const struct largest_t *largest, size_t point, double *x)
{
    if (is_known(largest)) {
        *x = 0;
        return 1;
    }
    double v = largest->degrees_of_freedom;
    double width = 0.5 / sqrt(v) + 0.6 / v;
    double u = fmin(fmax(coordinate(largest, 0, point), 1e-14), 1 - 1e-14);
    *x = width * log(u / (1 - u));
    double steps = (LARGEST_T_NODES - 1) / (largest->last - largest->first);
    return noise_density(largest, *x) * steps / largest->norm * width / (u * (1 - u));
}

/* Noise and factors in one lattice. */
static double twice_on_lattice(const struct largest_t *largest, double limit)
{
    double factor[LARGEST_T_MAX];
    double x = 0, sum = 0;

    for (size_t point = 0; point < POINTS; point++) {
        double weight = noise_at(largest, point, &x);
        weight *= factors_at(largest, point, factor);
        sum += weight * counted_twice(largest, limit * exp(x), factor);
    }
    return sum / POINTS;
}

/* One factor at one noise, in steps that no product changes much between: equal steps over a normal density
 * leave exp(-2 (pi width / step)^2). */
static double twice_at_noise(const struct largest_t *largest, double bound)
{
    double width = 1, sum = 0;

    for (size_t i = 0; i < largest->n; i++)
        width = fmin(width, largest->own[i]);
    size_t steps = (size_t)ceil(FARTHEST / (0.6 * width));
    double step = FARTHEST / (double)steps;
    for (size_t k = 0; k <= 2 * steps; k++) {
        double factor = step * (double)k - FARTHEST;
        sum += exp(-0.5 * factor * factor) * counted_twice(largest, bound, &factor);
    }
    return sum * step * 0.3989422804014327; /* 1 / sqrt(2 pi) */
}

static double twice_in_steps(const struct largest_t *largest, double limit)
{
    double sum = 0;

    if (is_known(largest))
        return twice_at_noise(largest, limit);
    for (size_t node = 0; node < LARGEST_T_NODES; node++) {
        double x = noise_node(largest, node);
        sum += noise_density(largest, x) * twice_at_noise(largest, limit * exp(x));
    }
    return sum / largest->norm;
}

double largest_t_probability(const struct largest_t *largest, double limit)
{
    double twice = largest->has_common_factor ? twice_in_steps(largest, limit)
                                              : twice_on_lattice(largest, limit);
    return 1 - (double)largest->n * outside_alone(largest, limit) + twice;
}
