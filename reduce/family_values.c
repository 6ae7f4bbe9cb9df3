/* family_values.c - values of a run; see family_values.h. */
#include "reduce/family_values.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/point_rows.h"
#include "reduce/rows.h"

static const char values_sql[] =
    "SELECT t.target, p.time_s, t.drag_coefficient, t.side_coefficient, t.downforce_coefficient, "
    "t.downforce_front_coefficient, t.downforce_rear_coefficient, t.roll_coefficient, "
    "t.pitch_coefficient, t.yaw_coefficient "
    "FROM reduction AS d JOIN target_result AS t ON t.reduction = d.reduction "
    "JOIN point AS p ON p.run = t.run AND p.point = t.point "
    "WHERE d.stage = 'target' AND d.subject = ?1 AND d.is_current = 1 AND t.run = ?2 "
    "AND t.is_used = 1 ORDER BY p.sequence, t.point";

/* Sums over the used points at one target. */
struct target_sum {
    double coefficient[COEFFICIENTS];
    double time;
    size_t n;
};

static size_t target_index(const struct attitudes *attitudes, const char *name)
{
    size_t i = 0;
    while (i < attitudes->n_targets && strcmp(attitudes->targets[i].name, name) != 0)
        i++;
    return i;
}

static enum status sum_points(const struct night *night, const struct run_row *run,
                              struct target_sum *sums, struct fault *fault)
{
    const struct attitudes *attitudes = &night->campaign->attitudes;
    struct statement *statement = NULL;
    char *subject = NULL;
    int row = 0;
    enum status status = group_subject(run, run->configuration, &subject, fault);
    if (status == OK)
        status = rows_open(night->store, values_sql, (const char *const[]){subject, run->run}, 2,
                           &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        const char *target = statement_text(statement, 0);
        size_t index = target_index(attitudes, target == NULL ? "" : target);
        if (index == attitudes->n_targets)
            continue;
        sums[index].n++;
        sums[index].time += statement_real(statement, 1);
        for (int i = 0; i < COEFFICIENTS; i++)
            sums[index].coefficient[i] += statement_real(statement, 2 + i);
    }
    statement_free(statement);
    free(subject);
    return status;
}

/* Mean coefficients of one target; NAN when the run has no used point there. */
static void set_target(const struct target_sum *sum, double area, double *value, double *time)
{
    double mean[COEFFICIENTS];
    double n = sum->n == 0 ? (double)NAN : (double)sum->n;
    for (int i = 0; i < COEFFICIENTS; i++)
        mean[i] = sum->coefficient[i] / n;
    quantities_from_coefficients(mean, area, value);
    *time = sum->time / n;
}

/* sum w_i C_i over the weighted targets; NAN when the run misses one of them. The time is the mean of
 * the targets' times, by weight. */
static void set_weighted(const struct attitudes *attitudes, double area, struct family_run *run)
{
    double total[COEFFICIENTS] = {0};
    double time = 0;
    double weights = 0;
    for (size_t k = 0; k < attitudes->n_targets; k++) {
        double weight = attitudes->targets[k].weight;
        if (!(weight > 0))
            continue;
        for (int i = 0; i < COEFFICIENTS; i++)
            total[i] += weight * run->value[k * QUANTITY_COUNT + (size_t)i];
        time += weight * run->time[k];
        weights += weight;
    }
    quantities_from_coefficients(total, area, run->value + attitudes->n_targets * QUANTITY_COUNT);
    run->time[attitudes->n_targets] = time / weights;
}

enum status family_values_read(const struct night *night, struct family_run *run, int has_weighted,
                               struct fault *fault)
{
    const struct attitudes *attitudes = &night->campaign->attitudes;
    double area = night->campaign->car.reference_area;
    void *array = NULL;
    enum status status = array_make(&array, attitudes->n_targets, sizeof(struct target_sum), fault);
    struct target_sum *sums = array;
    if (status == OK)
        status = sum_points(night, run->run, sums, fault);
    for (size_t k = 0; status == OK && k < attitudes->n_targets; k++)
        set_target(&sums[k], area, run->value + k * QUANTITY_COUNT, &run->time[k]);
    if (status == OK && has_weighted)
        set_weighted(attitudes, area, run);
    free(sums);
    return status;
}
