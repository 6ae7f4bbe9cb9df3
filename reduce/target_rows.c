/* target_rows.c - writing a target pass; see target_rows.h. */
#include "reduce/target_rows.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/point_rows.h"

/* Both tables have the same columns; target_other has the basis besides. */
static void insert_sql(enum basis basis, char *sql, size_t size)
{
    int is_other = basis != BASIS_STANDS;
    (void)snprintf(
        sql, size,
        "INSERT INTO %s (run, point, target, method, reason, reduction, is_used, "
        "drag_coefficient, side_coefficient, downforce_coefficient, downforce_front_coefficient, "
        "downforce_rear_coefficient, roll_coefficient, pitch_coefficient, yaw_coefficient, "
        "balance_percent, lift_to_drag, drag_area_m2, downforce_area_m2, drag_coefficient_u, "
        "side_coefficient_u, downforce_coefficient_u, downforce_front_coefficient_u, "
        "downforce_rear_coefficient_u, roll_coefficient_u, pitch_coefficient_u, "
        "yaw_coefficient_u, balance_percent_u, fit_degrees_of_freedom%s) VALUES "
        "(?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?%s)",
        is_other ? "target_other" : "target_result", is_other ? ", basis" : "",
        is_other ? ",?" : "");
}

enum { TEXTS = 5, REALS = QUANTITY_COUNT + CARRIED_VALUES + 1, REALS_AT = TEXTS + 3 };

static void collect(const struct target_row *row, double area, double reals[REALS])
{
    quantities_from_coefficients(row->value.coefficient, area, reals);
    if (isnan(row->point->value[CARRIED_BALANCE]))
        reals[QUANTITY_BALANCE] = (double)NAN; /* undefined at the point, undefined at the target */
    memcpy(reals + QUANTITY_COUNT, row->value.uncertainty, sizeof row->value.uncertainty);
    reals[QUANTITY_COUNT + CARRIED_VALUES] = row->value.degrees_of_freedom;
}

static enum status write_row(struct statement *insert, int64_t reduction, enum basis basis,
                             double area, const struct target_row *row, struct fault *fault)
{
    const char *const texts[TEXTS] = {row->point->run->run, row->point->point,
                                      row->match.target->name, row->method, row->reason};
    double reals[REALS];
    collect(row, area, reals);
    enum status status = OK;
    for (int i = 0; status == OK && i < TEXTS; i++)
        status = statement_bind_text(insert, i + 1, texts[i], fault);
    if (status == OK)
        status = statement_bind_integer(insert, TEXTS + 1, reduction, fault);
    if (status == OK)
        status = statement_bind_integer(insert, TEXTS + 2, row->is_used, fault);
    for (int i = 0; status == OK && i < REALS; i++)
        status = statement_bind_real(insert, REALS_AT + i,
                                     isfinite(reals[i]) ? reals[i] : (double)NAN, fault);
    if (status == OK && basis != BASIS_STANDS)
        status = statement_bind_text(insert, REALS_AT + REALS, basis_name(basis), fault);
    return status == OK ? statement_run(insert, fault) : status;
}

enum status target_rows_write(struct store *store, int64_t reduction, enum basis basis, double area,
                              const struct target_pass *pass, struct fault *fault)
{
    struct statement *insert = NULL;
    char sql[1200];
    insert_sql(basis, sql, sizeof sql);
    enum status status = statement_prepare(store, sql, &insert, fault);
    for (size_t i = 0; status == OK && i < pass->n; i++)
        if (pass->rows[i].match.target != NULL)
            status = write_row(insert, reduction, basis, area, &pass->rows[i], fault);
    statement_free(insert);
    return status;
}
