/* glance_earlier.c - the main metric of earlier runs of the configuration, at the same targets.
 *
 * Only runs of the same entry that started before: another booking has another car build and another
 * state of the tunnel. A run as a whole may sit higher or lower than those before it; that shift is
 * the median over its points, so that one wrong point does not make it.                            */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/glance_parts.h"
#include "reduce/key_text.h"
#include "reduce/rows.h"

static int target_index(const struct glance *glance, const char *name)
{
    for (size_t i = 0; name != NULL && i < glance->n_targets; i++)
        if (strcmp(glance->targets[i].name, name) == 0)
            return (int)i;
    return GLANCE_NO_TARGET;
}

static void add_value(struct glance_earlier *earlier, double value)
{
    earlier->low = earlier->n == 0 ? value : fmin(earlier->low, value);
    earlier->high = earlier->n == 0 ? value : fmax(earlier->high, value);
    earlier->mean += (value - earlier->mean) / (double)(earlier->n + 1);
    earlier->n++;
}

static void take_row(struct glance *glance, struct statement *row)
{
    int target = target_index(glance, statement_text(row, 0));
    double value = statement_real(row, 1);
    if (target == GLANCE_NO_TARGET || !isfinite(value))
        return;
    for (size_t i = 0; i < glance->n_points; i++)
        if (glance->points[i].target == target)
            add_value(&glance->points[i].earlier, value);
}

static enum status read_run(struct glance_work *work, const struct run_row *run,
                            struct fault *fault)
{
    struct key_text sql = {NULL, 0, 0, 0};
    struct statement *statement = NULL;
    int row = 0;
    key_text_say(&sql,
                 "SELECT t.target, t.%s FROM target_result AS t "
                 "JOIN reduction AS d ON d.reduction = t.reduction WHERE d.stage = 'target' AND "
                 "d.subject = ?1 AND d.is_current = 1 AND t.run = ?2 AND t.is_used = 1",
                 quantity_row(work->glance->metrics[0].quantity)->column);
    enum status status = key_text_status(&sql, fault);
    if (status == OK)
        status =
            rows_open(work->run.night->store, sql.text,
                      (const char *const[]){work->group->subject, run->run}, 2, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row)
        take_row(work->glance, statement);
    statement_free(statement);
    key_text_end(&sql);
    return status;
}

static int by_size(const void *a, const void *b)
{
    const double *x = a;
    const double *y = b;
    return (*x > *y) - (*x < *y);
}

static enum status find_shift(struct glance *glance, struct fault *fault)
{
    void *array = NULL;
    size_t n = 0;
    enum status status = array_make(&array, glance->n_points, sizeof(double), fault);
    double *shifts = array;
    for (size_t i = 0; status == OK && i < glance->n_points; i++) {
        const struct glance_point *point = &glance->points[i];
        if (point->earlier.n > 0 && isfinite(point->values[0].value) &&
            (point->reach == REACH_AT || point->reach == REACH_CARRIED))
            shifts[n++] = point->values[0].value - point->earlier.mean;
    }
    if (n > 0) {
        qsort(shifts, n, sizeof *shifts, by_size);
        glance->earlier_shift = (shifts[(n - 1) / 2] + shifts[n / 2]) / 2;
    }
    free(shifts);
    return status;
}

enum status glance_earlier(struct glance_work *work, struct fault *fault)
{
    struct glance *glance = work->glance;
    enum status status = OK;
    glance->earlier_shift = (double)NAN;
    if (glance->n_metrics == 0)
        return OK;
    for (size_t i = 0; status == OK && i < work->group->n_runs; i++) {
        const struct run_row *run = work->group->runs[i];
        if (run == work->run.run || run->start >= work->run.run->start)
            continue;
        glance->n_earlier++;
        status = read_run(work, run, fault);
    }
    return status == OK ? find_shift(glance, fault) : status;
}
