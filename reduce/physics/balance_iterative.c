/* balance_iterative.c - see balance_iterative.h. */
#include "reduce/physics/balance_iterative.h"

#include <gsl/gsl_eigen.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>

#include "reduce/physics/finite.h"

enum { LOADS = BALANCE_LOADS, STEPS = 100, PLACES = 729 };

static const double smallest_singular_share = 1e-9;
static const double stop = 1e-6;        /* of the rated load */
static const double carried_on = 1e-12; /* of the rated load */
static const double farthest = 10.0;    /* times the rated load */

static enum outcome check_numbers(const struct balance_iterative *balance)
{
    if (!all_finite(balance->coefficient[0], (size_t)LOADS * BALANCE_TERMS) ||
        !all_finite(balance->rated, LOADS) || !all_finite(balance->lowest, LOADS) ||
        !all_finite(balance->highest, LOADS))
        return OUTCOME_NOT_FINITE;
    for (int i = 0; i < LOADS; i++)
        if (!(balance->rated[i] > 0) || balance->lowest[i] > balance->highest[i])
            return OUTCOME_GEOMETRY;
    return OUTCOME_OK;
}

static double row_scale(const struct balance_iterative *balance, int i)
{
    double largest = 0;
    for (int j = 0; j < LOADS; j++)
        largest = fmax(largest, fabs(balance->coefficient[i][j]));
    return largest;
}

/* inverse = V S^-1 U' of the scaled rows, the scale taken back. */
static enum outcome invert(struct balance_iterative *balance)
{
    double left[LOADS * LOADS], right[LOADS * LOADS], singular[LOADS], work[LOADS], scale[LOADS];
    gsl_matrix_view u = gsl_matrix_view_array(left, LOADS, LOADS);
    gsl_matrix_view v = gsl_matrix_view_array(right, LOADS, LOADS);
    gsl_vector_view s = gsl_vector_view_array(singular, LOADS);
    gsl_vector_view w = gsl_vector_view_array(work, LOADS);
    for (int i = 0; i < LOADS; i++) {
        scale[i] = row_scale(balance, i);
        if (!(scale[i] > 0))
            return OUTCOME_SINGULAR;
        for (int j = 0; j < LOADS; j++)
            left[LOADS * i + j] = balance->coefficient[i][j] / scale[i];
    }
    if (gsl_linalg_SV_decomp(&u.matrix, &v.matrix, &s.vector, &w.vector) != GSL_SUCCESS ||
        !(singular[LOADS - 1] > smallest_singular_share * singular[0]))
        return OUTCOME_SINGULAR;
    for (int i = 0; i < LOADS; i++) {
        for (int j = 0; j < LOADS; j++) {
            double sum = 0;
            for (int k = 0; k < LOADS; k++)
                sum += right[LOADS * i + k] * left[LOADS * j + k] / singular[k];
            balance->inverse[i][j] = sum / scale[j];
        }
    }
    return OUTCOME_OK;
}

enum outcome balance_iterative_prepare(struct balance_iterative *balance)
{
    enum outcome outcome = check_numbers(balance);
    return outcome == OUTCOME_OK ? invert(balance) : outcome;
}

/* C1^-1 C2 dH/dF at the shares. */
static void iteration_matrix(const struct balance_iterative *balance, const double share[LOADS],
                             double matrix[LOADS * LOADS])
{
    double slope[BALANCE_TERMS][LOADS], bend[LOADS][LOADS];
    balance_term_slopes(share, slope);
    for (int i = 0; i < LOADS; i++) {
        for (int j = 0; j < LOADS; j++) {
            bend[i][j] = 0;
            for (int t = LOADS; t < BALANCE_TERMS; t++)
                bend[i][j] += balance->coefficient[i][t] * slope[t][j];
        }
    }
    for (int i = 0; i < LOADS; i++) {
        for (int j = 0; j < LOADS; j++) {
            matrix[LOADS * i + j] = 0;
            for (int k = 0; k < LOADS; k++)
                matrix[LOADS * i + j] += balance->inverse[i][k] * bend[k][j];
        }
    }
}

/* Largest sum of sizes in a row. */
static double row_norm(const double matrix[LOADS * LOADS])
{
    double largest = 0;
    for (int i = 0; i < LOADS; i++) {
        double sum = 0;
        for (int j = 0; j < LOADS; j++)
            sum += fabs(matrix[LOADS * i + j]);
        largest = sum > largest || isnan(sum) ? sum : largest;
    }
    return largest;
}

/* NAN when the eigenvalues are not found. */
static double spectral_radius(double matrix[LOADS * LOADS], gsl_eigen_nonsymm_workspace *work)
{
    double packed[2 * LOADS], radius = 0;
    gsl_matrix_view m = gsl_matrix_view_array(matrix, LOADS, LOADS);
    gsl_vector_complex_view values = gsl_vector_complex_view_array(packed, LOADS);
    if (!all_finite(matrix, (size_t)LOADS * LOADS) ||
        gsl_eigen_nonsymm(&m.matrix, &values.vector, work) != GSL_SUCCESS)
        return NAN;
    for (int i = 0; i < LOADS; i++)
        radius = fmax(radius, hypot(packed[2 * (size_t)i], packed[2 * (size_t)i + 1]));
    return radius;
}

/* Place 0 .. 728: each digit to the base of 3 is lowest, middle or highest of a load. */
static void place_loads(const struct balance_iterative *balance, int place, double load[LOADS])
{
    for (int i = 0; i < LOADS; i++, place /= 3) {
        const double at[] = {balance->lowest[i], 0.5 * (balance->lowest[i] + balance->highest[i]),
                             balance->highest[i]};
        load[i] = at[place % 3];
    }
}

enum outcome balance_iterative_contraction(const struct balance_iterative *balance,
                                           struct balance_contraction *found)
{
    gsl_eigen_nonsymm_workspace *work = gsl_eigen_nonsymm_alloc(LOADS);
    *found = (struct balance_contraction){.radius = -1};
    if (work == NULL)
        return OUTCOME_NO_MEMORY;
    enum outcome outcome = OUTCOME_OK;
    for (int place = 0; place < PLACES && outcome == OUTCOME_OK; place++) {
        double load[LOADS], share[LOADS], matrix[LOADS * LOADS];
        place_loads(balance, place, load);
        for (int i = 0; i < LOADS; i++)
            share[i] = load[i] / balance->rated[i];
        iteration_matrix(balance, share, matrix);
        if (row_norm(matrix) <= found->radius) /* no eigenvalue is above a norm */
            continue;
        double radius = spectral_radius(matrix, work);
        if (isnan(radius))
            outcome = OUTCOME_NOT_FINITE;
        if (!(radius > found->radius))
            continue;
        found->radius = radius;
        for (int i = 0; i < LOADS; i++)
            found->load[i] = load[i];
    }
    gsl_eigen_nonsymm_free(work);
    return outcome == OUTCOME_OK && found->radius >= 1 ? OUTCOME_NO_CONVERGENCE : outcome;
}

double balance_iterative_step(const struct balance_iterative *balance, const double output[LOADS],
                              double share[LOADS])
{
    double value[BALANCE_TERMS], rest[LOADS], change = 0;
    balance_term_values(share, value);
    for (int i = 0; i < LOADS; i++) {
        rest[i] = output[i];
        for (int t = LOADS; t < BALANCE_TERMS; t++)
            rest[i] -= balance->coefficient[i][t] * value[t];
    }
    for (int i = 0; i < LOADS; i++) {
        double next = 0;
        for (int j = 0; j < LOADS; j++)
            next += balance->inverse[i][j] * rest[j];
        double moved = fabs(next - share[i]);
        change = moved > change || isnan(moved) ? moved : change;
        share[i] = next;
    }
    return change;
}

static int has_run_away(const double share[LOADS])
{
    for (int i = 0; i < LOADS; i++)
        if (!(fabs(share[i]) <= farthest))
            return 1;
    return 0;
}

enum outcome balance_iterative_loads(const struct balance_iterative *balance,
                                     const double output[LOADS], double load[LOADS])
{
    double share[LOADS] = {0}, change = INFINITY;
    if (!all_finite(output, LOADS))
        return OUTCOME_NOT_FINITE;
    for (int step = 0; step < STEPS && change > carried_on; step++) {
        change = balance_iterative_step(balance, output, share);
        if (has_run_away(share))
            return OUTCOME_NO_LOADS;
    }
    if (!(change < stop))
        return OUTCOME_NO_CONVERGENCE;
    for (int i = 0; i < LOADS; i++)
        load[i] = share[i] * balance->rated[i];
    return OUTCOME_OK;
}
