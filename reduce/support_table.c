/* support_table.c - see support_table.h. */
#include "reduce/support_table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/convex_weights.h"
#include "reduce/rows.h"

enum { LOADS = 6, QUANTITIES = COEFFICIENTS + LOADS + 1, WIND = QUANTITIES - 1 };

/* Of a row: coefficients in their order, loads, the dynamic pressure; NAN where it names none. */
struct raw_row {
    double axis[ATTITUDE_COUNT];
    double quantity[QUANTITIES];
};

static const char *const names[QUANTITIES] = {
    [COEFFICIENT_CD] = "CD",   [COEFFICIENT_CY] = "CY",   [COEFFICIENT_CL] = "CL",
    [COEFFICIENT_CLF] = "",    [COEFFICIENT_CLR] = "",    [COEFFICIENT_CRM] = "CRM",
    [COEFFICIENT_CPM] = "CPM", [COEFFICIENT_CYM] = "CYM", [COEFFICIENTS] = "Fx",
    [COEFFICIENTS + 1] = "Fy", [COEFFICIENTS + 2] = "Fz", [COEFFICIENTS + 3] = "Mx",
    [COEFFICIENTS + 4] = "My", [COEFFICIENTS + 5] = "Mz", [WIND] = "dynamic_pressure"};

static void begin_row(struct raw_row *row)
{
    for (int i = 0; i < ATTITUDE_COUNT; i++)
        row->axis[i] = (double)NAN;
    for (int i = 0; i < QUANTITIES; i++)
        row->quantity[i] = (double)NAN;
}

static void take_number(struct raw_row *row, const char *quantity, double value)
{
    for (int i = 0; i < ATTITUDE_COUNT; i++)
        if (strcmp(attitude_axis_name((enum attitude_axis)i), quantity) == 0)
            row->axis[i] = value;
    for (int i = 0; i < QUANTITIES; i++)
        if (strcmp(names[i], quantity) == 0)
            row->quantity[i] = value;
}

static double or_nothing(double value)
{
    return isnan(value) ? 0 : value;
}

/* The row's coefficients; what it does not name is 0. */
static void make_value(const struct raw_row *row, const struct car *car, double value[COEFFICIENTS])
{
    double load[LOADS];
    memset(value, 0, COEFFICIENTS * sizeof *value);
    for (int i = 0; i < LOADS; i++)
        load[i] = or_nothing(row->quantity[COEFFICIENTS + i]);
    if (!isnan(row->quantity[WIND])) {
        (void)coefficients_from_loads(load, row->quantity[WIND], car->reference_area,
                                      car->wheelbase, value);
        return;
    }
    for (int i = 0; i < COEFFICIENTS; i++)
        value[i] = or_nothing(row->quantity[i]);
    value[COEFFICIENT_CLF] = value[COEFFICIENT_CL] / 2 - value[COEFFICIENT_CPM];
    value[COEFFICIENT_CLR] = value[COEFFICIENT_CL] / 2 + value[COEFFICIENT_CPM];
}

static enum status read_rows(struct store *store, const struct facility *facility,
                             enum table_kind kind, struct raw_row **rows, size_t *n,
                             struct fault *fault)
{
    const char *const texts[] = {facility->name, table_kind_name(kind)};
    struct statement *statement = NULL;
    void *array = NULL;
    size_t capacity = 0;
    int64_t line = -1;
    int more = 0;
    enum status status =
        rows_open(store,
                  "SELECT row, quantity, value FROM support_table WHERE facility = "
                  "?1 AND kind = ?2 ORDER BY row, quantity",
                  texts, 2, &statement, fault);
    while (status == OK && (status = statement_step(statement, &more, fault)) == OK && more) {
        if (*rows == NULL || statement_integer(statement, 0) != line) {
            status = array_reserve(&array, &capacity, *n + 1, sizeof **rows, fault);
            *rows = array;
            if (status != OK)
                break;
            line = statement_integer(statement, 0);
            begin_row(&(*rows)[(*n)++]);
        }
        take_number(&(*rows)[*n - 1], statement_text(statement, 1), statement_real(statement, 2));
    }
    statement_free(statement);
    return status;
}

static void find_axes(const struct raw_row *rows, struct support_table *table)
{
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++) {
        double least = rows[0].axis[axis];
        double most = least;
        if (isnan(least))
            continue;
        for (size_t i = 1; i < table->n; i++) {
            least = fmin(least, rows[i].axis[axis]);
            most = fmax(most, rows[i].axis[axis]);
        }
        table->range[table->n_axes] = most > least ? most - least : 1;
        table->axis[table->n_axes++] = axis;
    }
}

static enum status fill(const struct raw_row *rows, const struct car *car,
                        struct support_table *table, struct fault *fault)
{
    void *place = NULL;
    void *value = NULL;
    void *weight = NULL;
    if (rows == NULL) /* a table without rows answers nothing */
        return OK;
    find_axes(rows, table);
    enum status status = array_make(&place, table->n * table->n_axes, sizeof *table->place, fault);
    if (status == OK)
        status = array_make(&value, table->n, sizeof *table->value, fault);
    if (status == OK)
        status = array_make(&weight, table->n, sizeof *table->weight, fault);
    table->place = place;
    table->value = value;
    table->weight = weight;
    for (size_t i = 0; status == OK && i < table->n; i++) {
        for (size_t k = 0; k < table->n_axes; k++)
            table->place[i * table->n_axes + k] = rows[i].axis[table->axis[k]] / table->range[k];
        make_value(&rows[i], car, table->value[i]);
    }
    return status;
}

enum status support_table_read(struct store *store, const struct facility *facility,
                               enum table_kind kind, const struct car *car,
                               struct support_table *table, struct fault *fault)
{
    struct raw_row *rows = NULL;
    memset(table, 0, sizeof *table);
    if (facility->tables[kind].file == NULL)
        return OK;
    table->is_declared = 1;
    enum status status = read_rows(store, facility, kind, &rows, &table->n, fault);
    if (status == OK)
        status = fill(rows, car, table, fault);
    free(rows);
    if (status != OK)
        support_table_end(table);
    return status;
}

void support_table_end(struct support_table *table)
{
    free(table->place);
    free(table->value);
    free(table->weight);
    memset(table, 0, sizeof *table);
}

/* The nearest row within tolerance on all axes takes all the weight; 0 when there is none. */
static int weigh_nearest(const struct support_table *table, const double *tolerance,
                         const double at[ATTITUDE_COUNT])
{
    size_t nearest = table->n;
    double least = (double)INFINITY;
    for (size_t i = 0; i < table->n; i++) {
        double sum = 0;
        for (size_t k = 0; k < table->n_axes; k++) {
            double far = fabs(table->place[i * table->n_axes + k] - at[k]) * table->range[k] /
                         tolerance[table->axis[k]];
            sum = far <= 1 ? fmax(sum, far) : (double)INFINITY;
        }
        if (sum < least) {
            least = sum;
            nearest = i;
        }
    }
    for (size_t i = 0; i < table->n; i++)
        table->weight[i] = i == nearest ? 1 : 0;
    return nearest < table->n;
}

/* The axis on which an attitude is farthest from the table's range; -1 when it names none. */
static int farthest_axis(const struct support_table *table, const double at[ATTITUDE_COUNT])
{
    int worst = -1;
    double most = -1;
    for (size_t k = 0; k < table->n_axes; k++) {
        double least = (double)INFINITY;
        double highest = (double)-INFINITY;
        for (size_t i = 0; i < table->n; i++) {
            least = fmin(least, table->place[i * table->n_axes + k]);
            highest = fmax(highest, table->place[i * table->n_axes + k]);
        }
        double out = fmax(0, fmax(least - at[k], at[k] - highest));
        if (isnan(at[k]))
            out = (double)INFINITY;
        if (out > most) {
            most = out;
            worst = table->axis[k];
        }
    }
    return worst;
}

enum outcome support_table_at(const struct support_table *table, const double *tolerance,
                              const double attitude[ATTITUDE_COUNT],
                              double coefficient[COEFFICIENTS], int *worst_axis)
{
    double at[ATTITUDE_COUNT] = {0};
    memset(coefficient, 0, COEFFICIENTS * sizeof *coefficient);
    *worst_axis = -1;
    if (!table->is_declared)
        return OUTCOME_OK;
    for (size_t k = 0; k < table->n_axes; k++)
        at[k] = attitude[table->axis[k]] / table->range[k];
    enum outcome outcome = convex_weights(table->place, table->n, table->n_axes, at, table->weight);
    if (outcome == OUTCOME_NO_MEMORY)
        return outcome;
    if (outcome != OUTCOME_OK && !weigh_nearest(table, tolerance, at)) {
        *worst_axis = farthest_axis(table, at);
        return OUTCOME_OUTSIDE;
    }
    for (size_t i = 0; i < table->n; i++)
        for (int k = 0; k < COEFFICIENTS; k++)
            coefficient[k] += table->weight[i] * table->value[i][k];
    return OUTCOME_OK;
}

enum status support_tables_key(struct store *store, const char *facility, struct key_text *key,
                               struct fault *fault)
{
    struct statement *statement = NULL;
    int more = 0;
    enum status status = rows_open(store,
                                   "SELECT kind, row, quantity, value FROM support_table WHERE "
                                   "facility = ?1 ORDER BY kind, row, quantity",
                                   &facility, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &more, fault)) == OK && more) {
        char name[96];
        (void)snprintf(name, sizeof name, "table of %.20s, row %lld, %.20s",
                       statement_text(statement, 0), (long long)statement_integer(statement, 1),
                       statement_text(statement, 2));
        key_text_number(key, name, statement_real(statement, 3));
    }
    statement_free(statement);
    return status;
}
