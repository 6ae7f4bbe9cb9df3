/* family_values.c - values of a run; see family_values.h. */
#include "reduce/family_values.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/point_rows.h"
#include "reduce/rows.h"

/* The points that a basis uses; ?1 subject of the target reduction, ?2 run. */
static void values_sql(enum basis basis, int without_flagged, char *sql, size_t size)
{
    char which[64] = "";
    const char *unflagged =
        "AND NOT EXISTS (SELECT 1 FROM point_result AS r JOIN reduction AS k ON k.reduction = "
        "r.reduction AND k.is_current = 1 WHERE k.stage = 'point' AND k.subject = t.run AND "
        "r.point = t.point AND r.state = 'flagged') ";
    if (basis != BASIS_STANDS)
        (void)snprintf(which, sizeof which, " AND t.basis = '%s'", basis_name(basis));
    (void)snprintf(
        sql, size,
        "SELECT t.target, p.time_s, t.drag_coefficient, t.side_coefficient, "
        "t.downforce_coefficient, t.downforce_front_coefficient, t.downforce_rear_coefficient, "
        "t.roll_coefficient, t.pitch_coefficient, t.yaw_coefficient, t.balance_percent, "
        "t.lift_to_drag, t.drag_coefficient_u, t.side_coefficient_u, t.downforce_coefficient_u, "
        "t.downforce_front_coefficient_u, t.downforce_rear_coefficient_u, t.roll_coefficient_u, "
        "t.pitch_coefficient_u, t.yaw_coefficient_u, t.balance_percent_u, "
        "t.fit_degrees_of_freedom, t.is_used, t.reason IN ('excluded', 'failed') "
        "FROM reduction AS d JOIN %s AS t ON t.reduction = d.reduction%s "
        "JOIN point AS p ON p.run = t.run AND p.point = t.point "
        "WHERE d.stage = 'target' AND d.subject = ?1 AND d.is_current = 1 AND t.run = ?2 %s"
        "ORDER BY p.sequence, t.point",
        basis == BASIS_STANDS ? "target_result" : "target_other", which,
        without_flagged ? unflagged : "");
}

enum {
    RATIOS_AT = 2 + COEFFICIENTS,        /* column of the balance, then L/D */
    ADDED_AT = RATIOS_AT + 2,            /* of the first added uncertainty */
    ADDED_VALUES = QUANTITY_BALANCE + 1, /* the eight coefficients, then the balance */
    FREEDOM_AT = ADDED_AT + ADDED_VALUES,
    IS_USED_AT,
    IS_LEFT_OUT_AT
};

/* Sums over the used points at one target. The ratios are summed only to know whether each point has
 * one: a NAN stays. */
struct target_sum {
    double coefficient[COEFFICIENTS];
    double balance, lift_to_drag;
    double added[ADDED_VALUES];
    double freedom; /* the least */
    double time;
    size_t n;
    size_t left_out;
};

static size_t target_index(const struct attitudes *attitudes, const char *name)
{
    size_t i = 0;
    while (i < attitudes->n_targets && strcmp(attitudes->targets[i].name, name) != 0)
        i++;
    return i;
}

enum status family_basis_differs(const struct night *night, const struct run_row *run,
                                 enum basis basis, int *differs, struct fault *fault)
{
    struct statement *statement = NULL;
    char *subject = NULL;
    *differs = 0;
    enum status status = group_subject(run, run->configuration, &subject, fault);
    if (status == OK)
        status = rows_open(night->store,
                           "SELECT 1 FROM reduction AS d JOIN target_other AS t ON t.reduction = "
                           "d.reduction AND t.basis = ?2 WHERE d.stage = 'target' AND d.subject = "
                           "?1 AND d.is_current = 1 LIMIT 1",
                           (const char *const[]){subject, basis_name(basis)}, 2, &statement, fault);
    if (status == OK)
        status = statement_step(statement, differs, fault);
    statement_free(statement);
    free(subject);
    return status;
}

static enum status sum_points(const struct night *night, const struct run_row *run,
                              struct points_taken taken, struct target_sum *sums,
                              struct fault *fault)
{
    const struct attitudes *attitudes = &night->campaign->attitudes;
    struct statement *statement = NULL;
    char *subject = NULL;
    char sql[1800];
    int row = 0;
    int differs = 0;
    enum status status = group_subject(run, run->configuration, &subject, fault);
    if (status == OK && taken.basis != BASIS_STANDS)
        status = family_basis_differs(night, run, taken.basis, &differs, fault);
    values_sql(differs ? taken.basis : BASIS_STANDS, taken.without_flagged, sql, sizeof sql);
    if (status == OK)
        status = rows_open(night->store, sql, (const char *const[]){subject, run->run}, 2,
                           &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        const char *target = statement_text(statement, 0);
        size_t index = target_index(attitudes, target == NULL ? "" : target);
        if (index == attitudes->n_targets)
            continue;
        sums[index].left_out += statement_integer(statement, IS_LEFT_OUT_AT) != 0;
        if (!statement_integer(statement, IS_USED_AT))
            continue;
        sums[index].n++;
        sums[index].time += statement_real(statement, 1);
        for (int i = 0; i < COEFFICIENTS; i++)
            sums[index].coefficient[i] += statement_real(statement, 2 + i);
        sums[index].balance += statement_real(statement, RATIOS_AT);
        sums[index].lift_to_drag += statement_real(statement, RATIOS_AT + 1);
        for (int i = 0; i < ADDED_VALUES; i++)
            sums[index].added[i] += statement_real(statement, ADDED_AT + i);
        sums[index].freedom = fmin(sums[index].freedom, statement_real(statement, FREEDOM_AT));
    }
    statement_free(statement);
    free(subject);
    return status;
}

/* Where a ratio is undefined at one point, the ratio of the means is not given either. */
static void keep_undefined(double balance, double lift_to_drag, double *value)
{
    if (isnan(balance))
        value[QUANTITY_BALANCE] = (double)NAN;
    if (isnan(lift_to_drag))
        value[QUANTITY_LD] = (double)NAN;
}

/* What the step added to the quantities that are made of coefficients. */
static void derive_added(const double *value, double area, double *added)
{
    double drag = fabs(value[QUANTITY_CD]);
    double downforce = fabs(value[QUANTITY_CL]);
    added[QUANTITY_LD] = added[QUANTITY_CL] / drag + downforce / drag * added[QUANTITY_CD] / drag;
    added[QUANTITY_CDA] = area * added[QUANTITY_CD];
    added[QUANTITY_CLA] = area * added[QUANTITY_CL];
}

/* Mean coefficients of target k; NAN when the run has no used point there. */
static void set_target(const struct target_sum *sum, double area, size_t k, struct family_run *run)
{
    double mean[COEFFICIENTS];
    double *value = run->value + k * QUANTITY_COUNT;
    double *added = run->added + k * QUANTITY_COUNT;
    double n = sum->n == 0 ? (double)NAN : (double)sum->n;
    for (int i = 0; i < COEFFICIENTS; i++)
        mean[i] = sum->coefficient[i] / n;
    for (int i = 0; i < ADDED_VALUES; i++)
        added[i] = sum->added[i] / n;
    quantities_from_coefficients(mean, area, value);
    keep_undefined(sum->balance, sum->lift_to_drag, value);
    derive_added(value, area, added);
    run->freedom[k] = sum->freedom;
    run->time[k] = sum->time / n;
    run->left_out[k] = sum->left_out;
}

/* sum w_i C_i over the weighted targets; NAN when the run misses one of them. The time is the mean of
 * the targets' times, by weight. */
static void set_weighted(const struct attitudes *attitudes, double area, struct family_run *run)
{
    double *value = run->value + attitudes->n_targets * QUANTITY_COUNT;
    double *added = run->added + attitudes->n_targets * QUANTITY_COUNT;
    double total[QUANTITY_COUNT] = {0};
    double time = 0;
    double weights = 0;
    double freedom = (double)INFINITY;
    for (size_t k = 0; k < attitudes->n_targets; k++) {
        double weight = attitudes->targets[k].weight;
        if (!(weight > 0))
            continue;
        for (size_t i = 0; i < QUANTITY_COUNT; i++) {
            total[i] += weight * run->value[k * QUANTITY_COUNT + i];
            added[i] += weight * run->added[k * QUANTITY_COUNT + i];
        }
        freedom = fmin(freedom, run->freedom[k]);
        time += weight * run->time[k];
        weights += weight;
    }
    quantities_from_coefficients(total, area, value);
    keep_undefined(total[QUANTITY_BALANCE], total[QUANTITY_LD], value);
    derive_added(value, area, added);
    run->freedom[attitudes->n_targets] = freedom;
    run->time[attitudes->n_targets] = time / weights;
    for (size_t k = 0; k < attitudes->n_targets; k++)
        if (attitudes->targets[k].weight > 0)
            run->left_out[attitudes->n_targets] += run->left_out[k];
}

enum status family_values_read(const struct night *night, struct family_run *run, int has_weighted,
                               struct points_taken taken, struct fault *fault)
{
    const struct attitudes *attitudes = &night->campaign->attitudes;
    double area = night->campaign->car.reference_area;
    void *array = NULL;
    enum status status = array_make(&array, attitudes->n_targets, sizeof(struct target_sum), fault);
    struct target_sum *sums = array;
    for (size_t k = 0; status == OK && k < attitudes->n_targets; k++)
        sums[k].freedom = (double)INFINITY;
    if (status == OK)
        status = sum_points(night, run->run, taken, sums, fault);
    for (size_t k = 0; status == OK && k < attitudes->n_targets; k++)
        set_target(&sums[k], area, k, run);
    if (status == OK && has_weighted)
        set_weighted(attitudes, area, run);
    free(sums);
    return status;
}
