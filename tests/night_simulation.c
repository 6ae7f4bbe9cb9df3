/* night_simulation.c - see night_simulation.h. */
#include "tests/night_simulation.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/statistics/bracket.h"
#include "reduce/statistics/mixed_model.h"
#include "reduce/statistics/night_model.h"
#include "reduce/statistics/student.h"
#include "tests/noise.h"

enum { RUNS_MAX = 128, FAMILY_MAX = 16, REMEMBERED_MAX = 4096 };

struct remembered {
    int freedom, walk;
    double multiplier;
};

struct simulation {
    const struct night_design *design;
    enum simulated_drift drift;
    enum night_method method;
    size_t mountings; /* of all configurations */
    size_t runs;      /* points */
    size_t configuration[RUNS_MAX];
    struct night_observation night[RUNS_MAX];
    struct remembered remembered[REMEMBERED_MAX];
    size_t n_remembered;
    double *half; /* nights x deltas */
    double *freedom;
    size_t intervals;
    struct night_score score;
};

/* What one method makes of one night, in one shape. */
struct estimates {
    double delta[FAMILY_MAX], error[FAMILY_MAX], freedom[FAMILY_MAX];
    double correlation[FAMILY_MAX * FAMILY_MAX]; /* of the deltas */
    double walk;
};

const char *simulated_drift_name(enum simulated_drift drift)
{
    static const char *const names[] = {"none", "straight", "bent", "walk"};
    return names[drift];
}

static void shuffle(size_t *values, size_t n, uint64_t *random)
{
    for (size_t i = n; i > 1; i--) {
        size_t j = (size_t)(noise_uniform(random) * (double)i);
        size_t kept = values[i - 1];
        values[i - 1] = values[j];
        values[j] = kept;
    }
}

/* Rounds of all configurations in random order, returns spread evenly among them. */
static void draw_order(struct simulation *simulation, uint64_t *random)
{
    const struct night_design *design = simulation->design;
    size_t parts = design->configurations - 1, others = parts * design->mountings;
    size_t round[FAMILY_MAX] = {0};
    size_t in_round = parts, placed = 0;

    for (size_t returned = 0; returned < design->returns || placed < others;) {
        size_t *configuration = &simulation->configuration[simulation->mountings++];
        *configuration = 0;
        if (placed == others || returned * others <= placed * (design->returns - 1)) {
            returned++;
            continue;
        }
        if (in_round == parts) {
            for (size_t c = 0; c < parts; c++)
                round[c] = c + 1;
            shuffle(round, parts, random);
            in_round = 0;
        }
        *configuration = round[in_round++];
        placed++;
    }
}

static void lay_out(struct simulation *simulation, uint64_t *random)
{
    const struct night_design *design = simulation->design;
    size_t points = design->points > 1 ? design->points : 1;

    simulation->mountings = 0;
    for (size_t i = 0; design->order != NULL && i < design->runs; i++)
        simulation->configuration[simulation->mountings++] = design->order[i];
    if (design->order == NULL)
        draw_order(simulation, random);
    simulation->runs = simulation->mountings * points;
    for (size_t i = 0; i < simulation->runs; i++) {
        size_t mounting = i / points;
        simulation->night[i] =
            (struct night_observation){simulation->configuration[mounting], 0,
                                       simulation->method == METHOD_NO_REFIT ? i : mounting,
                                       1000 * (double)mounting + (double)(i % points), 0};
    }
}

/* One standard deviation a bracket, straight, or on average up and down a parabola; or steps of half
 * a standard deviation from run to run. */
static void drift_along(const struct simulation *simulation, double *drifted, uint64_t *random)
{
    double brackets = (double)simulation->design->returns - 1;
    double walked = 0;

    for (size_t i = 0; i < simulation->mountings; i++) {
        double share = (double)i / (double)(simulation->mountings - 1);
        walked += i > 0 ? 0.5 * noise_normal(random) : 0;
        const double along[] = {0, brackets * share,
                                brackets / 2 * (2 * share - 1) * (2 * share - 1), walked};
        drifted[i] = along[simulation->drift];
    }
}

static void draw_night(struct simulation *simulation, uint64_t *random)
{
    double drifted[RUNS_MAX];
    size_t points = simulation->design->points > 1 ? simulation->design->points : 1;

    drift_along(simulation, drifted, random);
    for (size_t m = 0; m < simulation->mountings; m++) {
        double mounted = drifted[m] + noise_normal(random);
        for (size_t k = 0; k < points; k++)
            simulation->night[m * points + k].value =
                mounted + (points > 1 ? 0.5 * noise_normal(random) : 0);
    }
}

static int estimate_by_model(const struct simulation *simulation, struct estimates *estimates)
{
    struct night_result result;
    double correlation[(FAMILY_MAX + 1) * (FAMILY_MAX + 1)] = {0};
    size_t n = simulation->design->configurations;

    if (night_deltas(simulation->night, simulation->runs, n, &result, correlation) != OUTCOME_OK)
        return 0;
    for (size_t a = 0; a + 1 < n; a++) {
        estimates->delta[a] = result.deltas[a + 1].delta;
        estimates->error[a] = result.deltas[a + 1].standard_error;
        estimates->freedom[a] = result.deltas[a + 1].degrees_of_freedom;
        for (size_t b = 0; b + 1 < n; b++)
            estimates->correlation[a * (n - 1) + b] = correlation[(a + 1) * n + b + 1];
    }
    estimates->walk = result.walk_variance / result.error_variance;
    return 1;
}

static int estimate_by_bracket(const struct simulation *simulation, struct estimates *estimates)
{
    struct observation night[RUNS_MAX];
    struct bracket_result result;
    double correlation[(FAMILY_MAX + 1) * (FAMILY_MAX + 1)] = {0};
    size_t n = simulation->design->configurations;

    for (size_t i = 0; i < simulation->runs; i++)
        night[i] = (struct observation){simulation->night[i].configuration,
                                        simulation->night[i].time, simulation->night[i].value};
    if (bracket_deltas(night, simulation->runs, n, &result, correlation) != OUTCOME_OK)
        return 0;
    for (size_t a = 0; a + 1 < n; a++) {
        estimates->delta[a] = result.deltas[a + 1].delta;
        estimates->error[a] =
            result.noise.standard_deviation * sqrt(result.deltas[a + 1].variance_factor);
        estimates->freedom[a] = result.noise.degrees_of_freedom;
        for (size_t b = 0; b + 1 < n; b++)
            estimates->correlation[a * (n - 1) + b] = correlation[(a + 1) * n + b + 1];
    }
    estimates->walk = 0;
    return 1;
}

static double family_multiplier(struct simulation *simulation, const struct estimates *estimates)
{
    size_t n = simulation->design->configurations - 1;
    double least = estimates->freedom[0];

    for (size_t a = 1; a < n; a++)
        least = fmin(least, estimates->freedom[a]);
    int freedom = (int)lround(log(least) / simulation->design->freedom_step);
    int walk = estimates->walk > 0
                   ? (int)lround(log(estimates->walk) / simulation->design->walk_step)
                   : -1000;
    for (size_t i = 0; i < simulation->n_remembered; i++)
        if (simulation->remembered[i].freedom == freedom && simulation->remembered[i].walk == walk)
            return simulation->remembered[i].multiplier;
    double multiplier = (double)NAN;
    (void)simultaneous_multiplier(estimates->correlation, n, 0.95, least, &multiplier);
    if (simulation->n_remembered < REMEMBERED_MAX)
        simulation->remembered[simulation->n_remembered++] =
            (struct remembered){freedom, walk, multiplier};
    return multiplier;
}

/* An interval wholly on one side of the truth: a delta at that edge of a wide strip reads "no change". */
static void score_night(struct simulation *simulation, const struct estimates *estimates)
{
    struct night_score *score = &simulation->score;
    double family = family_multiplier(simulation, estimates);
    int is_false = 0, is_gain = 0, is_single = 0;

    for (size_t a = 0; a + 1 < simulation->design->configurations; a++) {
        double half = student_multiplier(0.95, estimates->freedom[a]) * estimates->error[a];
        double wide = family * estimates->error[a];
        score->coverage += fabs(estimates->delta[a]) <= half;
        score->no_change_low += estimates->delta[a] - wide > 0;
        score->no_change_high += estimates->delta[a] + wide < 0;
        is_gain |= estimates->delta[a] - wide > 0;
        if (simulation->design->least != NULL)
            score->found += estimates->delta[a] + simulation->design->least[a] - wide > 0;
        is_single |= fabs(estimates->delta[a]) > half;
        is_false |= fabs(estimates->delta[a]) > wide;
        simulation->freedom[simulation->intervals] = estimates->freedom[a];
        simulation->half[simulation->intervals++] = half;
    }
    score->false_family += is_false;
    score->false_gain += is_gain;
    score->single_family += is_single;
    score->walkless += !(estimates->walk > 0);
}

/* Columns of what is estimated when the drift's form is known. */
static size_t known_columns(const struct simulation *simulation, double *x)
{
    size_t configurations = simulation->design->configurations;
    size_t powers = simulation->drift == DRIFT_STRAIGHT ? 1
                    : simulation->drift == DRIFT_BENT   ? 2
                                                        : 0;
    size_t p = configurations + powers;

    for (size_t i = 0; i < simulation->runs; i++) {
        double share = 2 * (double)i / (double)(simulation->runs - 1) - 1;
        for (size_t j = 0; j < p; j++)
            x[i * p + j] = j == 0 || j == simulation->night[i].configuration;
        for (size_t d = 0; d < powers; d++)
            x[i * p + configurations + d] = d == 0 ? share : share * share;
    }
    return p;
}

/* Median half-width of the best estimate over the deltas, by elimination in X'V^-1 X. V is the
 * identity, or that of a walk, whose inverse is found the same way. */
static int invert(double *matrix, double *inverse, size_t n)
{
    for (size_t i = 0; i < n * n; i++)
        inverse[i] = i / n == i % n;
    for (size_t k = 0; k < n; k++) {
        double pivot = matrix[k * n + k];
        if (!(fabs(pivot) > 0))
            return 0;
        for (size_t j = 0; j < n; j++) {
            matrix[k * n + j] /= pivot;
            inverse[k * n + j] /= pivot;
        }
        for (size_t i = 0; i < n; i++) {
            double factor = i == k ? 0 : matrix[i * n + k];
            for (size_t j = 0; j < n; j++) {
                matrix[i * n + j] -= factor * matrix[k * n + j];
                inverse[i * n + j] -= factor * inverse[k * n + j];
            }
        }
    }
    return 1;
}

static double best_half_width(const struct simulation *simulation)
{
    static double x[RUNS_MAX * RUNS_MAX], v[RUNS_MAX * RUNS_MAX], w[RUNS_MAX * RUNS_MAX];
    static double m[FAMILY_MAX * FAMILY_MAX * 4], c[FAMILY_MAX * FAMILY_MAX * 4];
    size_t n = simulation->runs, p = known_columns(simulation, x);
    double half[FAMILY_MAX];

    if (n > simulation->mountings)
        return (double)NAN;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++)
            v[i * n + j] =
                (i == j) +
                (simulation->drift == DRIFT_WALK ? 0.25 * fmin((double)i, (double)j) : 0);
    if (!invert(v, w, n))
        return (double)NAN;
    memset(m, 0, sizeof m);
    for (size_t a = 0; a < p; a++)
        for (size_t b = 0; b < p; b++)
            for (size_t i = 0; i < n; i++)
                for (size_t j = 0; j < n; j++)
                    m[a * p + b] += x[i * p + a] * w[i * n + j] * x[j * p + b];
    if (!invert(m, c, p))
        return (double)NAN;
    for (size_t a = 1; a < simulation->design->configurations; a++)
        half[a - 1] = student_multiplier(0.95, (double)(n - p)) * sqrt(c[a * p + a]);
    gsl_sort(half, 1, simulation->design->configurations - 1);
    return gsl_stats_median_from_sorted_data(half, 1, simulation->design->configurations - 1);
}

static double median_of(double *values, size_t n)
{
    gsl_sort(values, 1, n);
    return n > 0 ? gsl_stats_median_from_sorted_data(values, 1, n) : (double)NAN;
}

static void finish(struct simulation *simulation)
{
    struct night_score *score = &simulation->score;
    double nights = (double)(score->nights - score->failed);
    double intervals = (double)simulation->intervals;

    score->coverage /= intervals;
    score->found /= intervals;
    score->no_change_low /= intervals;
    score->no_change_high /= intervals;
    score->false_family /= nights;
    score->false_gain /= nights;
    score->single_family /= nights;
    score->walkless /= nights;
    score->half_width = median_of(simulation->half, simulation->intervals);
    score->freedom = median_of(simulation->freedom, simulation->intervals);
    score->best = best_half_width(simulation);
}

struct night_score night_simulate(const struct night_design *design, enum simulated_drift drift,
                                  enum night_method method, size_t nights, uint64_t seed)
{
    struct simulation *simulation = calloc(1, sizeof *simulation);
    struct night_score score = {.nights = nights, .failed = nights};
    size_t deltas = design->configurations - 1;
    uint64_t random = seed;

    if (simulation == NULL)
        return score;
    simulation->design = design;
    simulation->drift = drift;
    simulation->method = method;
    simulation->half = calloc(nights * deltas, sizeof *simulation->half);
    simulation->freedom = calloc(nights * deltas, sizeof *simulation->freedom);
    simulation->score.nights = nights;
    lay_out(simulation, &random);
    for (size_t k = 0; k < nights && simulation->half != NULL && simulation->freedom != NULL; k++) {
        struct estimates estimates = {.walk = 0};
        draw_night(simulation, &random);
        if (method == METHOD_BRACKET ? estimate_by_bracket(simulation, &estimates)
                                     : estimate_by_model(simulation, &estimates))
            score_night(simulation, &estimates);
        else
            simulation->score.failed++;
    }
    if (simulation->half != NULL && simulation->freedom != NULL) {
        finish(simulation);
        score = simulation->score;
    }
    free(simulation->freedom);
    free(simulation->half);
    free(simulation);
    return score;
}

double night_best_half_width(const struct night_design *design, enum simulated_drift drift,
                             uint64_t seed)
{
    static struct simulation simulation;
    uint64_t random = seed;

    simulation.design = design;
    simulation.drift = drift;
    lay_out(&simulation, &random);
    return best_half_width(&simulation);
}

static double largest_difference(const struct estimates *one, const struct estimates *other,
                                 size_t deltas)
{
    double largest = 0;

    for (size_t a = 0; a < deltas; a++) {
        if (!(one->error[a] > 0 && one->freedom[a] > 0))
            return INFINITY;
        largest = fmax(largest, fabs(one->delta[a] - other->delta[a]) / one->error[a]);
        largest = fmax(largest, fabs(other->error[a] / one->error[a] - 1));
        largest = fmax(largest, fabs(other->freedom[a] / one->freedom[a] - 1));
    }
    return largest;
}

double night_drift_difference(const struct night_design *design, enum simulated_drift drift,
                              size_t nights, uint64_t seed)
{
    static struct simulation steady, drifting;
    struct estimates one = {.walk = 0}, other = {.walk = 0};
    uint64_t random = seed, again = seed;
    double largest = 0;

    steady.design = drifting.design = design;
    steady.drift = DRIFT_STEADY;
    drifting.drift = drift;
    lay_out(&steady, &random);
    lay_out(&drifting, &again);
    for (size_t k = 0; k < nights; k++) {
        draw_night(&steady, &random);
        draw_night(&drifting, &again);
        if (!estimate_by_model(&steady, &one) || !estimate_by_model(&drifting, &other))
            return INFINITY;
        largest = fmax(largest, largest_difference(&one, &other, design->configurations - 1));
    }
    return largest;
}
