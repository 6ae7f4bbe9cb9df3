/* wall_signature.c - see wall_signature.h. */
#include "reduce/physics/wall_signature.h"

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_matrix.h>
#include <gsl/gsl_vector.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/finite.h"

static const double least_ratio = 1e-6; /* of singular values */

void wall_signature_end(struct wall_signature *signature)
{
    free(signature->design);
    free(signature->solve);
    memset(signature, 0, sizeof *signature);
}

static struct duct_place source_at(const struct wall_layout *layout, size_t station)
{
    return (struct duct_place){layout->station[station], 0.0, layout->axis_height};
}

static enum outcome check_layout(const struct wall_layout *layout)
{
    const struct duct *duct = &layout->duct;
    if (layout->stations < 1 || layout->stations > SIGNATURE_STATIONS_MAX)
        return OUTCOME_GEOMETRY;
    if (!(duct->width > 0.0) || !(duct->height > 0.0) || !(layout->axis_height >= 0.0) ||
        !(layout->axis_height < duct->height))
        return OUTCOME_GEOMETRY;
    if (!all_finite(layout->station, layout->stations))
        return OUTCOME_GEOMETRY;
    return layout->n < layout->stations + 2 ? OUTCOME_TOO_FEW : OUTCOME_OK;
}

static enum outcome fill_design(const struct wall_layout *layout, struct wall_signature *made)
{
    for (size_t i = 0; i < made->n; i++)
        for (size_t j = 0; j < made->stations; j++) {
            struct duct_place source = source_at(layout, j);
            made->design[i * made->stations + j] =
                duct_source_speed(&layout->duct, &source, &layout->tap[i], DUCT_ALL);
        }
    return all_finite(made->design, made->n * made->stations) ? OUTCOME_OK : OUTCOME_GEOMETRY;
}

static void fill_place(const struct wall_layout *layout, double x,
                       double speed[SIGNATURE_STATIONS_MAX])
{
    enum duct_part part = layout->floor_image ? DUCT_WITHOUT_PAIR : DUCT_WITHOUT_SELF;
    const struct duct_place at = {x, 0.0, layout->axis_height};
    for (size_t j = 0; j < layout->stations; j++) {
        struct duct_place source = source_at(layout, j);
        speed[j] = duct_source_speed(&layout->duct, &source, &at, part);
    }
}

static void fill_places(const struct wall_layout *layout, struct wall_signature *made)
{
    fill_place(layout, layout->nose, made->at_nose);
    fill_place(layout, layout->middle, made->at_middle);
    fill_place(layout, layout->tail, made->at_tail);
}

struct decomposition {
    gsl_matrix *u, *v; /* of the design */
    gsl_vector *s, *work;
};

static void end(struct decomposition *made)
{
    gsl_matrix_free(made->u);
    gsl_matrix_free(made->v);
    gsl_vector_free(made->s);
    gsl_vector_free(made->work);
}

static int begin(struct decomposition *made, const struct wall_signature *signature)
{
    size_t n = signature->n, p = signature->stations;
    *made = (struct decomposition){gsl_matrix_alloc(n, p), gsl_matrix_alloc(p, p),
                                   gsl_vector_alloc(p), gsl_vector_alloc(p)};
    if (made->u == NULL || made->v == NULL || made->s == NULL || made->work == NULL)
        return 0;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < p; j++)
            gsl_matrix_set(made->u, i, j, signature->design[i * p + j]);
    return 1;
}

/* strengths = V S^-1 U' speeds */
static void fill_solve(const struct decomposition *made, struct wall_signature *signature)
{
    size_t n = signature->n, p = signature->stations;
    for (size_t j = 0; j < p; j++)
        for (size_t i = 0; i < n; i++) {
            double sum = 0.0;
            for (size_t k = 0; k < p; k++)
                sum += gsl_matrix_get(made->v, j, k) * gsl_matrix_get(made->u, i, k) /
                       gsl_vector_get(made->s, k);
            signature->solve[j * n + i] = sum;
        }
}

static enum outcome decompose(struct wall_signature *signature)
{
    struct decomposition made;
    enum outcome outcome = OUTCOME_OK;
    size_t p = signature->stations;
    if (!begin(&made, signature))
        outcome = OUTCOME_NO_MEMORY;
    else if (gsl_linalg_SV_decomp(made.u, made.v, made.s, made.work) != 0)
        outcome = OUTCOME_SINGULAR;
    if (outcome == OUTCOME_OK) {
        signature->condition_limit = gsl_vector_get(made.s, p - 1) / gsl_vector_get(made.s, 0);
        if (!(signature->condition_limit > least_ratio))
            outcome = OUTCOME_SINGULAR;
        else
            fill_solve(&made, signature);
    }
    end(&made);
    return outcome;
}

enum outcome wall_signature_make(const struct wall_layout *layout, struct wall_signature *signature)
{
    enum outcome outcome = check_layout(layout);
    if (outcome != OUTCOME_OK)
        return outcome;
    size_t cells = layout->n * layout->stations;
    struct wall_signature made = {.design = calloc(cells, sizeof(double)),
                                  .solve = calloc(cells, sizeof(double)),
                                  .n = layout->n,
                                  .stations = layout->stations,
                                  .section = layout->duct.width * layout->duct.height};
    if (made.design == NULL || made.solve == NULL)
        outcome = OUTCOME_NO_MEMORY;
    if (outcome == OUTCOME_OK)
        outcome = fill_design(layout, &made);
    if (outcome == OUTCOME_OK) {
        fill_places(layout, &made);
        if (!all_finite(made.at_nose, made.stations) ||
            !all_finite(made.at_middle, made.stations) || !all_finite(made.at_tail, made.stations))
            outcome = OUTCOME_GEOMETRY;
    }
    if (outcome == OUTCOME_OK)
        outcome = decompose(&made);
    if (outcome != OUTCOME_OK) {
        wall_signature_end(&made);
        return outcome;
    }
    *signature = made;
    return OUTCOME_OK;
}

static double speed_of(double cp, double empty)
{
    return sqrt(1.0 - (cp - empty)) - 1.0;
}

static double dot(const double *a, const double *b, size_t n)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
}

static void find_strengths(const struct wall_signature *signature, const double *value,
                           double pressure, const double *empty, struct wall_increment *found)
{
    for (size_t j = 0; j < signature->stations; j++)
        for (size_t i = 0; i < signature->n; i++)
            found->strength[j] +=
                signature->solve[j * signature->n + i] * speed_of(value[i] / pressure, empty[i]);
}

/* Residual, the largest speed, and what the residual does to the increment at the middle. */
static void judge(const struct wall_signature *signature, const double *value, double pressure,
                  const double *empty, struct wall_increment *found)
{
    size_t n = signature->n, p = signature->stations;
    double squares = 0.0, weights = 0.0;
    for (size_t i = 0; i < n; i++) {
        double u = speed_of(value[i] / pressure, empty[i]), weight = 0.0;
        double residual = u - dot(&signature->design[i * p], found->strength, p);
        squares += residual * residual;
        found->largest = fmax(found->largest, fabs(u));
        for (size_t j = 0; j < p; j++)
            weight += signature->at_middle[j] * signature->solve[j * n + i];
        weights += weight * weight;
    }
    found->residual_sd = sqrt(squares / (double)(n - p));
    found->middle_u = found->residual_sd * sqrt(weights);
}

enum outcome wall_signature_read(const struct wall_signature *signature, const double *value,
                                 double pressure, const double *empty,
                                 struct wall_increment *increment)
{
    struct wall_increment found = {0};
    size_t p = signature->stations;
    double net = 0.0;
    if (!isfinite(pressure) || !all_finite(value, signature->n) || !all_finite(empty, signature->n))
        return OUTCOME_NOT_FINITE;
    if (pressure <= 0.0)
        return OUTCOME_NO_WIND;
    for (size_t i = 0; i < signature->n; i++)
        if (value[i] / pressure - empty[i] > 1.0)
            return OUTCOME_NO_ROOT;
    find_strengths(signature, value, pressure, empty, &found);
    judge(signature, value, pressure, empty, &found);
    for (size_t j = 0; j < p; j++)
        net += found.strength[j];
    found.nose = dot(signature->at_nose, found.strength, p);
    found.middle = dot(signature->at_middle, found.strength, p);
    found.tail = dot(signature->at_tail, found.strength, p);
    found.wake = net / (2.0 * signature->section);
    found.solid = found.middle - found.wake;
    *increment = found;
    return OUTCOME_OK;
}
