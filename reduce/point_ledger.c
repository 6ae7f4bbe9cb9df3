/* point_ledger.c - every step of a point as rows; see point_rows.h. */
#include "reduce/point_rows.h"

#include <math.h>
#include <string.h>

enum { STEPS = 9, ROWS_MAX = 12 };

/* One step: its name and the rows it has. */
struct ledger_step {
    const char *step;
    const char *quantity[ROWS_MAX];
    const char *unit[ROWS_MAX];
    double value[ROWS_MAX];
    size_t n;
    int happened;
};

static void add_row(struct ledger_step *step, const char *quantity, const char *unit, double value)
{
    step->quantity[step->n] = quantity;
    step->unit[step->n] = unit;
    step->value[step->n] = value;
    step->n++;
}

static void add_outputs(struct ledger_step *step, const char *unit, const double value[6])
{
    static const char *const names[] = {"R1", "R2", "R3", "R4", "R5", "R6"};
    for (int i = 0; i < 6; i++)
        add_row(step, names[i], unit, value[i]);
}

static void add_loads(struct ledger_step *step, const double value[6])
{
    static const char *const names[] = {"Fx", "Fy", "Fz", "Mx", "My", "Mz"};
    for (int i = 0; i < 6; i++)
        add_row(step, names[i], i < 3 ? "N" : "N m", value[i]);
}

static void add_coefficients(struct ledger_step *step, const double *value, int n)
{
    for (int i = 0; i < n; i++) {
        const struct quantity_row *row = quantity_row((enum quantity)i);
        add_row(step, row->symbol, row->unit, value[i]);
    }
}

static void add_wind(struct ledger_step *step, const struct tunnel_freestream *wind)
{
    add_row(step, "q", "Pa", wind->dynamic_pressure);
    add_row(step, "M", "1", wind->mach);
    add_row(step, "V", "m/s", wind->speed);
    add_row(step, "rho", "kg/m3", wind->density);
    add_row(step, "p", "Pa", wind->static_pressure);
    add_row(step, "T", "K", wind->static_temperature);
}

static void fill_load_steps(const struct run_work *work, const struct reduced_point *made,
                            struct ledger_step *steps)
{
    const struct tunnel_result *result = &made->result;
    enum load_source source = work->recipe.tunnel.source;
    const struct balance *balance = work->recipe.balance;
    const char *unit = balance == NULL || balance->output_unit == NULL ? "" : balance->output_unit;
    if (source == LOADS_FROM_OUTPUTS)
        add_outputs(&steps[0], unit, result->zero);
    else
        add_loads(&steps[0], result->zero);
    add_loads(&steps[1], result->balance);
    add_loads(&steps[2], result->tared);
    add_loads(&steps[3], result->transferred);
    int has_loads = recipe_has_loads(&work->recipe.tunnel);
    steps[0].happened = has_loads && work->zeros.choice.kind >= ZERO_KIND_CONSTANT;
    steps[1].happened = source == LOADS_FROM_OUTPUTS;
    steps[2].happened = has_loads && work->tare.choice.kind == TARE_KIND_LOOKUP;
    steps[3].happened = has_loads;
}

static void fill_coefficient_steps(const struct run_work *work, const struct reduced_point *made,
                                   struct ledger_step *steps)
{
    const struct tunnel_result *result = &made->result;
    const struct tunnel_recipe *recipe = &work->recipe.tunnel;
    double corrected[QUANTITY_COUNT];
    quantities_from_coefficients(result->corrected, recipe->reference_area, corrected);
    if (made->balance_undefined)
        corrected[QUANTITY_BALANCE] = (double)NAN;
    add_wind(&steps[4], &result->freestream);
    add_coefficients(&steps[5], result->raw, COEFFICIENTS);
    add_coefficients(&steps[6], result->buoyancy, COEFFICIENTS);
    add_coefficients(&steps[7], result->blocked, COEFFICIENTS);
    add_coefficients(&steps[8], corrected, QUANTITY_COUNT);
    steps[4].happened = 1;
    steps[5].happened = 1;
    steps[6].happened = recipe->buoyancy;
    steps[7].happened = recipe->blockage != NULL && strcmp(recipe->blockage, "none") != 0;
    steps[8].happened = 1;
}

static enum status write_row(struct point_writer *writer, const char *point, int sequence,
                             const struct ledger_step *step, size_t row, struct fault *fault)
{
    const char *const texts[] = {step->step, step->quantity[row], step->unit[row]};
    enum status status = statement_bind_integer(writer->ledger, 1, writer->reduction, fault);
    if (status == OK)
        status = statement_bind_text(writer->ledger, 2, point, fault);
    if (status == OK)
        status = statement_bind_integer(writer->ledger, 3, sequence, fault);
    for (int i = 0; status == OK && i < 3; i++)
        status = statement_bind_text(writer->ledger, i + 4, texts[i], fault);
    if (status == OK)
        status = statement_bind_real(
            writer->ledger, 7, isfinite(step->value[row]) ? step->value[row] : (double)NAN, fault);
    return status == OK ? statement_run(writer->ledger, fault) : status;
}

/* A step that could not be done has no finite value: it did not happen. */
static int has_values(const struct ledger_step *step)
{
    for (size_t i = 0; i < step->n; i++)
        if (isfinite(step->value[i]))
            return step->happened;
    return 0;
}

enum status point_ledger_write(struct point_writer *writer, const struct run_work *work,
                               const struct reduced_point *made, struct fault *fault)
{
    static const char *const names[STEPS] = {"zero",     "balance",    "weight tare",
                                             "transfer", "freestream", "raw",
                                             "buoyancy", "blockage",   "corrected"};
    struct ledger_step steps[STEPS];
    enum status status = OK;
    memset(steps, 0, sizeof steps);
    for (int i = 0; i < STEPS; i++)
        steps[i].step = names[i];
    fill_load_steps(work, made, steps);
    fill_coefficient_steps(work, made, steps);
    for (int i = 0; i < STEPS; i++) {
        if (!has_values(&steps[i]))
            continue;
        for (size_t row = 0; status == OK && row < steps[i].n; row++)
            status = write_row(writer, made->point->point, i + 1, &steps[i], row, fault);
    }
    return status;
}
