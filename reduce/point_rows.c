/* point_rows.c - writing a point's result; see point_rows.h. The ledger is in point_ledger.c. */
#include "reduce/point_rows.h"

#include <math.h>
#include <string.h>

#include "reduce/point_state.h"

static const char result_sql[] =
    "INSERT INTO point_result (reduction, run, point, state, rule_state, front_ride_height_m, "
    "rear_ride_height_m, yaw_rad, roll_rad, pitch_rad, steer_rad, static_pressure_pa, "
    "static_temperature_k, density_kg_m3, dynamic_pressure_pa, mach, speed_m_s, reynolds, q_ratio, "
    "drag_coefficient, side_coefficient, downforce_coefficient, downforce_front_coefficient, "
    "downforce_rear_coefficient, roll_coefficient, pitch_coefficient, yaw_coefficient, "
    "balance_percent, lift_to_drag, drag_area_m2, downforce_area_m2, drag_coefficient_u, "
    "side_coefficient_u, downforce_coefficient_u, downforce_front_coefficient_u, "
    "downforce_rear_coefficient_u, balance_percent_u) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,"
    "?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)";

static const char ledger_sql[] =
    "INSERT INTO ledger_row (reduction, point, sequence, step, quantity, unit, value) "
    "VALUES (?,?,?,?,?,?,?)";

enum { RESULT_TEXTS = 5, RESULT_REALS = 32 };

enum status point_writer_open(struct store *store, int64_t reduction, struct point_writer *writer,
                              struct fault *fault)
{
    *writer = (struct point_writer){NULL, NULL, reduction};
    enum status status = statement_prepare(store, result_sql, &writer->result, fault);
    if (status == OK)
        status = statement_prepare(store, ledger_sql, &writer->ledger, fault);
    if (status != OK)
        point_writer_end(writer);
    return status;
}

void point_writer_end(struct point_writer *writer)
{
    statement_free(writer->result);
    statement_free(writer->ledger);
    writer->result = NULL;
    writer->ledger = NULL;
}

void quantities_from_coefficients(const double coefficient[COEFFICIENTS], double area,
                                  double quantity[QUANTITY_COUNT])
{
    struct derived_quantities derived = coefficients_derived(coefficient, area);
    memcpy(quantity, coefficient, COEFFICIENTS * sizeof *quantity);
    quantity[QUANTITY_BALANCE] = derived.balance;
    quantity[QUANTITY_LD] = derived.lift_to_drag;
    quantity[QUANTITY_CDA] = derived.drag_area;
    quantity[QUANTITY_CLA] = derived.downforce_area;
}

static double *put(double *next, const double *values, size_t n)
{
    memcpy(next, values, n * sizeof *values);
    return next + n;
}

/* The real columns in the order of the statement. Refused points keep their attitude and what is
 * known of the wind. */
static void collect(const struct reduced_point *made, double area, double reals[RESULT_REALS])
{
    const struct tunnel_freestream *wind = &made->result.freestream;
    const struct tunnel_uncertainty *spread = &made->spread;
    const double winds[] = {wind->static_pressure,
                            wind->static_temperature,
                            wind->density,
                            wind->dynamic_pressure,
                            wind->mach,
                            wind->speed,
                            wind->reynolds,
                            made->result.q_ratio};
    double quantity[QUANTITY_COUNT];
    quantities_from_coefficients(made->result.corrected, area, quantity);
    double balance_u = spread->balance;
    if (made->balance_undefined) {
        quantity[QUANTITY_BALANCE] = (double)NAN;
        balance_u = (double)NAN;
    }
    double *next = put(reals, made->attitude, ATTITUDE_COUNT);
    next = put(next, winds, sizeof winds / sizeof winds[0]);
    next = put(next, quantity, QUANTITY_COUNT);
    next = put(next, spread->coefficient, COEFFICIENT_CLR + 1);
    (void)put(next, &balance_u, 1);
}

static double finite_or_missing(double value)
{
    return isfinite(value) ? value : (double)NAN;
}

enum status point_result_write(struct point_writer *writer, const struct run_work *work,
                               const struct reduced_point *made, struct fault *fault)
{
    enum point_state rules = point_state_of_rules(made->state);
    enum point_state state = point_state_decided(rules, made->decision);
    const char *const texts[] = {work->run->run, made->point->point, point_state_name(state),
                                 point_state_name(rules)};
    double reals[RESULT_REALS];
    collect(made, work->recipe.tunnel.reference_area, reals);
    enum status status = statement_bind_integer(writer->result, 1, writer->reduction, fault);
    for (int i = 0; status == OK && i < 4; i++)
        status = statement_bind_text(writer->result, i + 2, texts[i], fault);
    for (int i = 0; status == OK && i < RESULT_REALS; i++)
        status = statement_bind_real(writer->result, RESULT_TEXTS + 1 + i,
                                     finite_or_missing(reals[i]), fault);
    return status == OK ? statement_run(writer->result, fault) : status;
}
