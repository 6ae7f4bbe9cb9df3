/* weight_model.c - see weight_model.h. */
#include "reduce/physics/weight_model.h"

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_matrix.h>
#include <gsl/gsl_vector.h>
#include <math.h>
#include <string.h>

#include "reduce/physics/finite.h"

enum { AXES = 3, LOADS = 6 };

static const double least_turn = 1e-6;   /* 1, rms over the sweep */
static const double weight_share = 0.05; /* of W, its standard uncertainty */

/* Rows are the components in the tunnel's level axes; columns the turned axes. */
struct turn {
    double at[AXES][AXES];
};

/* Yaw about z, then pitch (nose down: the aft axis rises), then roll (right side down). */
static struct turn turn_of(const struct weight_attitude *attitude)
{
    double cp = cos(attitude->pitch), sp = sin(attitude->pitch);
    double cr = cos(attitude->roll), sr = sin(attitude->roll);
    double cy = cos(attitude->yaw), sy = sin(attitude->yaw);
    struct turn turn = {{{cy * cp, -sy * cr + cy * sp * sr, -sy * sr - cy * sp * cr},
                         {sy * cp, cy * cr + sy * sp * sr, cy * sr - sy * sp * cr},
                         {sp, -cp * sr, cp * cr}}};
    return turn;
}

/* The part of the attitude that the balance has. */
static struct weight_attitude followed(unsigned follows, const struct weight_attitude *attitude)
{
    return (struct weight_attitude){follows & FOLLOWS_PITCH ? attitude->pitch : 0,
                                    follows & FOLLOWS_ROLL ? attitude->roll : 0,
                                    follows & FOLLOWS_YAW ? attitude->yaw : 0};
}

void weight_direction(unsigned follows, const struct weight_attitude *attitude, double direction[3])
{
    struct weight_attitude own = followed(follows, attitude);
    struct turn balance = turn_of(&own);
    for (int i = 0; i < AXES; i++)
        direction[i] = -balance.at[2][i];
}

/* Q: from car axes to balance axes. */
static struct turn car_to_balance(unsigned follows, const struct weight_attitude *attitude)
{
    struct weight_attitude own = followed(follows, attitude);
    struct turn balance = turn_of(&own), car = turn_of(attitude), turn;
    for (int i = 0; i < AXES; i++)
        for (int j = 0; j < AXES; j++) {
            turn.at[i][j] = 0;
            for (int k = 0; k < AXES; k++)
                turn.at[i][j] += balance.at[k][i] * car.at[k][j];
        }
    return turn;
}

static void cross(const double a[AXES], const double b[AXES], double out[AXES])
{
    out[0] = a[1] * b[2] - a[2] * b[1];
    out[1] = a[2] * b[0] - a[0] * b[2];
    out[2] = a[0] * b[1] - a[1] * b[0];
}

/* (Q m) x g as a matrix times m. */
static struct turn lever_of(unsigned follows, const struct weight_attitude *attitude)
{
    double g[AXES];
    struct turn turn = car_to_balance(follows, attitude), lever;
    weight_direction(follows, attitude, g);
    for (int j = 0; j < AXES; j++) {
        const double column[AXES] = {turn.at[0][j], turn.at[1][j], turn.at[2][j]};
        double made[AXES];
        cross(column, g, made);
        for (int i = 0; i < AXES; i++)
            lever.at[i][j] = made[i];
    }
    return lever;
}

/* What the weight's forces alone do about the reference point: -o x W g. */
static void force_moment(const struct weight_setup *setup, double weight, const double g[AXES],
                         double moment[AXES])
{
    const double force[AXES] = {weight * g[0], weight * g[1], weight * g[2]};
    cross(force, setup->origin, moment);
}

static void widen(struct weight_attitude *least, struct weight_attitude *most,
                  const struct weight_attitude *attitude)
{
    least->pitch = fmin(least->pitch, attitude->pitch);
    least->roll = fmin(least->roll, attitude->roll);
    least->yaw = fmin(least->yaw, attitude->yaw);
    most->pitch = fmax(most->pitch, attitude->pitch);
    most->roll = fmax(most->roll, attitude->roll);
    most->yaw = fmax(most->yaw, attitude->yaw);
}

static int all_given(const struct weight_setup *setup, const struct weight_sample *sample, size_t n)
{
    const double scales[] = {setup->scales_weight, setup->position_limit};
    if (!all_finite(setup->origin, AXES) || !all_finite(scales, 2))
        return 0;
    for (size_t i = 0; i < n; i++) {
        const struct weight_attitude *at = &sample[i].attitude;
        const double angles[] = {at->pitch, at->roll, at->yaw};
        if (!all_finite(angles, AXES) || !all_finite(sample[i].load, LOADS))
            return 0;
    }
    return 1;
}

/* Stage (a): one unknown, its line through the means. */
static void fit_weight(const struct weight_setup *setup, const struct weight_sample *sample,
                       size_t n, struct weight_fit *fit)
{
    double mean_g[AXES] = {0}, mean_f[AXES] = {0};
    double gg = 0, gf = 0, ff = 0, g[AXES];
    for (size_t i = 0; i < n; i++) {
        weight_direction(setup->follows, &sample[i].attitude, g);
        for (int k = 0; k < AXES; k++) {
            mean_g[k] += g[k] / (double)n;
            mean_f[k] += sample[i].load[k] / (double)n;
        }
    }
    for (size_t i = 0; i < n; i++) {
        weight_direction(setup->follows, &sample[i].attitude, g);
        for (int k = 0; k < AXES; k++) {
            double dg = g[k] - mean_g[k], df = sample[i].load[k] - mean_f[k];
            gg += dg * dg;
            gf += dg * df;
            ff += df * df;
        }
    }
    double spare = 3.0 * (double)n - 4;
    fit->tilt = sqrt(gg / (double)n);
    int is_reached = fit->tilt > least_turn;
    double weight = is_reached ? gf / gg : 0;
    fit->weight_u = is_reached ? sqrt(fmax(0, ff - weight * gf) / spare / gg) : (double)NAN;
    int is_told = is_reached && fit->weight_u <= weight_share * fabs(weight);
    fit->weight = is_told ? weight : (double)NAN;
    fit->weight_used = weight;
    if (!is_told && setup->scales_weight > 0)
        fit->weight_used = setup->scales_weight;
    for (int k = 0; k < AXES; k++)
        fit->constant[k] = mean_f[k] - fit->weight_used * mean_g[k];
}

/* What stage (b) works in: rows of all samples about their means. */
struct levers {
    gsl_matrix *design, *direction; /* design becomes the left singular vectors */
    gsl_vector *moment, *singular, *solution;
    double mean[AXES][AXES], mean_moment[AXES];
};

static void end(struct levers *levers)
{
    gsl_matrix_free(levers->design);
    gsl_matrix_free(levers->direction);
    gsl_vector_free(levers->moment);
    gsl_vector_free(levers->singular);
    gsl_vector_free(levers->solution);
}

static int begin(struct levers *levers, size_t n)
{
    *levers = (struct levers){gsl_matrix_alloc(AXES * n, AXES),
                              gsl_matrix_alloc(AXES, AXES),
                              gsl_vector_alloc(AXES * n),
                              gsl_vector_alloc(AXES),
                              gsl_vector_alloc(AXES),
                              {{0}},
                              {0}};
    return levers->design != NULL && levers->direction != NULL && levers->moment != NULL &&
           levers->singular != NULL && levers->solution != NULL;
}

static void fill(struct levers *levers, const struct weight_setup *setup, double weight,
                 const struct weight_sample *sample, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        double g[AXES], known[AXES];
        struct turn lever = lever_of(setup->follows, &sample[i].attitude);
        weight_direction(setup->follows, &sample[i].attitude, g);
        force_moment(setup, weight, g, known);
        for (size_t k = 0; k < AXES; k++) {
            double moment = sample[i].load[AXES + k] - known[k];
            levers->mean_moment[k] += moment / (double)n;
            gsl_vector_set(levers->moment, AXES * i + k, moment);
            for (size_t j = 0; j < AXES; j++) {
                levers->mean[k][j] += lever.at[k][j] / (double)n;
                gsl_matrix_set(levers->design, AXES * i + k, j, lever.at[k][j]);
            }
        }
    }
    for (size_t i = 0; i < AXES * n; i++) {
        *gsl_vector_ptr(levers->moment, i) -= levers->mean_moment[i % AXES];
        for (size_t j = 0; j < AXES; j++)
            *gsl_matrix_ptr(levers->design, i, j) -= levers->mean[i % AXES][j];
    }
}

/* Smallest norm solution; gives the number of directions that are reached. */
static int solve(struct levers *levers, size_t n)
{
    double floor = least_turn * sqrt((double)n);
    int rank = 0;
    for (size_t j = 0; j < AXES; j++) {
        double s = gsl_vector_get(levers->singular, j);
        double sum = 0;
        if (s <= floor) {
            gsl_vector_set(levers->singular, j, 0);
            continue;
        }
        rank++;
        for (size_t i = 0; i < AXES * n; i++)
            sum += gsl_matrix_get(levers->design, i, j) * gsl_vector_get(levers->moment, i);
        for (size_t k = 0; k < AXES; k++)
            *gsl_vector_ptr(levers->solution, k) +=
                gsl_matrix_get(levers->direction, k, j) * sum / s;
    }
    return rank;
}

static void tell_position(const struct weight_setup *setup, const struct levers *levers,
                          double sigma, struct weight_fit *fit)
{
    double weight = isnan(fit->weight) ? setup->scales_weight : fit->weight;
    for (size_t k = 0; k < AXES; k++) {
        double square = 0;
        int is_reached = 1;
        for (size_t j = 0; j < AXES; j++) {
            double s = gsl_vector_get(levers->singular, j);
            double v = gsl_matrix_get(levers->direction, k, j);
            if (s > 0)
                square += v * v / (s * s);
            else if (fabs(v) > 1e-6)
                is_reached = 0;
        }
        int is_told = is_reached && weight > 0;
        fit->position_u[k] = is_reached ? (double)NAN : (double)INFINITY;
        if (is_told)
            fit->position_u[k] = sigma * sqrt(square) / weight;
        if (fit->position_u[k] > setup->position_limit)
            is_told = 0;
        fit->position[k] = is_told ? fit->moment[k] / weight : (double)NAN;
    }
}

static double sum_of_residuals(const struct weight_setup *setup, const struct weight_sample *sample,
                               size_t n, struct weight_fit *fit)
{
    double sum[LOADS] = {0};
    for (size_t i = 0; i < n; i++) {
        double load[LOADS] = {0};
        (void)weight_loads(setup, fit, &sample[i].attitude, load);
        for (int k = 0; k < LOADS; k++)
            sum[k] += (sample[i].load[k] - load[k]) * (sample[i].load[k] - load[k]);
    }
    for (int k = 0; k < LOADS; k++)
        fit->rms[k] = sqrt(sum[k] / (double)n);
    return sum[3] + sum[4] + sum[5];
}

static enum outcome fit_position(const struct weight_setup *setup,
                                 const struct weight_sample *sample, size_t n,
                                 struct weight_fit *fit)
{
    struct levers levers;
    if (!begin(&levers, n)) {
        end(&levers);
        return OUTCOME_NO_MEMORY;
    }
    fill(&levers, setup, fit->weight_used, sample, n);
    gsl_vector_set_zero(levers.solution);
    if (gsl_linalg_SV_decomp_jacobi(levers.design, levers.direction, levers.singular) != 0) {
        end(&levers);
        return OUTCOME_SINGULAR;
    }
    double largest = gsl_vector_get(levers.singular, 0);
    int rank = solve(&levers, n);
    for (size_t k = 0; k < AXES; k++) {
        fit->moment[k] = gsl_vector_get(levers.solution, k);
        fit->constant[AXES + k] = levers.mean_moment[k];
    }
    for (size_t k = 0; k < AXES; k++)
        for (size_t j = 0; j < AXES; j++)
            fit->constant[AXES + k] -= levers.mean[k][j] * fit->moment[j];
    fit->condition = rank == AXES ? largest / gsl_vector_get(levers.singular, 2) : (double)INFINITY;
    double spare = 3.0 * (double)n - 3 - rank;
    double square = sum_of_residuals(setup, sample, n, fit);
    tell_position(setup, &levers, spare > 0 ? sqrt(square / spare) : (double)NAN, fit);
    end(&levers);
    return OUTCOME_OK;
}

enum outcome weight_fit_make(const struct weight_setup *setup, const struct weight_sample *sample,
                             size_t n, struct weight_fit *fit)
{
    struct weight_fit made;
    if (n < 2)
        return OUTCOME_TOO_FEW;
    if (!all_given(setup, sample, n))
        return OUTCOME_NOT_FINITE;
    memset(&made, 0, sizeof made);
    made.n = n;
    made.least = made.most = sample[0].attitude;
    for (size_t i = 1; i < n; i++)
        widen(&made.least, &made.most, &sample[i].attitude);
    fit_weight(setup, sample, n, &made);
    enum outcome outcome = fit_position(setup, sample, n, &made);
    if (outcome == OUTCOME_OK)
        *fit = made;
    return outcome;
}

enum outcome weight_loads(const struct weight_setup *setup, const struct weight_fit *fit,
                          const struct weight_attitude *attitude, double load[6])
{
    const double angles[] = {attitude->pitch, attitude->roll, attitude->yaw};
    double g[AXES], known[AXES];
    if (!all_finite(angles, AXES))
        return OUTCOME_NOT_FINITE;
    struct turn lever = lever_of(setup->follows, attitude);
    weight_direction(setup->follows, attitude, g);
    force_moment(setup, fit->weight_used, g, known);
    for (int k = 0; k < AXES; k++) {
        load[k] = fit->constant[k] + fit->weight_used * g[k];
        load[AXES + k] = fit->constant[AXES + k] + known[k];
        for (int j = 0; j < AXES; j++)
            load[AXES + k] += lever.at[k][j] * fit->moment[j];
    }
    return OUTCOME_OK;
}
