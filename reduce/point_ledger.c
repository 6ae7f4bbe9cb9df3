/* point_ledger.c - every step of a point as rows; see point_rows.h. */
#include "reduce/point_rows.h"

#include <math.h>
#include <string.h>

#include "reduce/point_spread.h"

enum step {
    STEP_HEIGHTS,
    STEP_ZERO,
    STEP_BALANCE,
    STEP_WEIGHT,
    STEP_TARE,
    STEP_BELT,
    STEP_TRANSFER,
    STEP_CELLS,
    STEP_FREESTREAM,
    STEP_RAW,
    STEP_SUPPORT,
    STEP_INTERFERENCE,
    STEP_BUOYANCY,
    STEP_BLOCKAGE,
    STEP_ANGULARITY,
    STEP_REYNOLDS,
    STEP_CORRECTED,
    STEP_FULL_SIZE,
    STEPS
};

enum { ROWS_MAX = 16 };

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

/* q_c/q and the parts of it, as the family names them. */
static void add_pieces(struct ledger_step *step, const char *name,
                       const struct tunnel_result *result)
{
    const struct blockage_family *family = blockage_family(name);
    add_row(step, "q_c/q", "1", result->q_ratio);
    for (int i = 0; family != NULL && i < BLOCKAGE_PIECES && family->piece[i] != NULL; i++)
        add_row(step, family->piece[i], "1", result->blockage_piece[i]);
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

/* Heights at the sensors, then what the plane through them says, with standard uncertainties. */
static void fill_heights(const struct run_work *work, const struct reduced_point *made,
                         struct ledger_step *step)
{
    static const enum attitude_axis axes[] = {ATTITUDE_FRONT_RIDE_HEIGHT, ATTITUDE_REAR_RIDE_HEIGHT,
                                              ATTITUDE_ROLL, ATTITUDE_PITCH};
    static const char *const errors[] = {"front_ride_height_u", "rear_ride_height_u", "roll_u",
                                         "pitch_u"};
    const struct sensed_heights *heights = &made->heights;
    for (size_t i = 0; i < heights->n; i++)
        add_row(step, role_name(heights->role[i]), "m", heights->height[i]);
    for (size_t i = 0; i < sizeof axes / sizeof axes[0]; i++) {
        const double *form = NULL;
        double value = sensed_coordinate(heights, axes[i], &form);
        if (form == NULL)
            continue;
        add_row(step, attitude_axis_name(axes[i]), attitude_axis_unit(axes[i]), value);
        add_row(step, errors[i], attitude_axis_unit(axes[i]),
                point_sum_error(work, made->point, heights->channel, form, heights->n));
    }
    step->happened = heights->n > 0;
}

static void fill_cells(const struct run_work *work, const struct reduced_point *made,
                       struct ledger_step *step)
{
    const struct tunnel_recipe *recipe = &work->recipe.tunnel;
    add_loads(step, made->result.with_cells);
    for (int i = 0; i < WHEEL_CELLS; i++) {
        if (!recipe->cell_added[i])
            continue;
        add_row(step, role_name(recipe_cell_role((enum wheel_cell)i)), "N", made->result.cell[i]);
        step->happened = 1;
    }
}

/* Loads less the rigid weight alone, then the weight itself as far as the sweep tells it. */
static void fill_weight(const struct run_work *work, const struct reduced_point *made,
                        struct ledger_step *step)
{
    static const char *const places[] = {"x_cg", "y_cg", "z_cg"};
    const struct tare_model *model = &work->tare.model;
    double load[6];
    for (int i = 0; i < 6; i++)
        load[i] = made->result.balance[i] - made->tare_model[i];
    add_loads(step, load);
    add_row(step, "W", "N", model->fit.weight);
    for (int i = 0; i < 3; i++)
        add_row(step, places[i], "m", model->fit.position[i]);
    add_row(step, "condition", "1", model->fit.condition);
    step->happened = model->is_wanted && model->outcome == OUTCOME_OK;
}

static void fill_load_steps(const struct run_work *work, const struct reduced_point *made,
                            struct ledger_step *steps)
{
    const struct tunnel_result *result = &made->result;
    enum load_source source = work->recipe.tunnel.source;
    const struct balance *balance = work->recipe.balance;
    const char *unit = balance == NULL || balance->output_unit == NULL ? "" : balance->output_unit;
    if (source == LOADS_FROM_OUTPUTS)
        add_outputs(&steps[STEP_ZERO], unit, result->zero);
    else
        add_loads(&steps[STEP_ZERO], result->zero);
    add_loads(&steps[STEP_BALANCE], result->balance);
    fill_weight(work, made, &steps[STEP_WEIGHT]);
    add_loads(&steps[STEP_TARE], result->tared);
    add_loads(&steps[STEP_BELT], result->belt_tared);
    add_loads(&steps[STEP_TRANSFER], result->transferred);
    int has_loads = recipe_has_loads(&work->recipe.tunnel);
    steps[STEP_ZERO].happened = has_loads && work->zeros.choice.kind >= ZERO_KIND_CONSTANT;
    steps[STEP_BALANCE].happened = source == LOADS_FROM_OUTPUTS;
    steps[STEP_TARE].happened = has_loads && work->tare.choice.kind == TARE_KIND_LOOKUP;
    steps[STEP_BELT].happened = has_loads && work->belt.kind == TARE_KIND_LOOKUP;
    steps[STEP_TRANSFER].happened = has_loads;
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
    add_wind(&steps[STEP_FREESTREAM], &result->freestream);
    add_coefficients(&steps[STEP_RAW], result->raw, COEFFICIENTS);
    add_coefficients(&steps[STEP_SUPPORT], result->unsupported, COEFFICIENTS);
    add_coefficients(&steps[STEP_INTERFERENCE], result->undisturbed, COEFFICIENTS);
    add_coefficients(&steps[STEP_BUOYANCY], result->buoyancy, COEFFICIENTS);
    add_coefficients(&steps[STEP_BLOCKAGE], result->blocked, COEFFICIENTS);
    add_pieces(&steps[STEP_BLOCKAGE], recipe->blockage, result);
    add_coefficients(&steps[STEP_REYNOLDS], result->at_reynolds, COEFFICIENTS);
    add_row(&steps[STEP_REYNOLDS], "Re", "1", result->freestream.reynolds);
    add_row(&steps[STEP_ANGULARITY], attitude_axis_name(ATTITUDE_YAW),
            attitude_axis_unit(ATTITUDE_YAW), made->attitude[ATTITUDE_YAW]);
    add_coefficients(&steps[STEP_CORRECTED], corrected, QUANTITY_COUNT);
    steps[STEP_FREESTREAM].happened = 1;
    steps[STEP_RAW].happened = 1;
    steps[STEP_SUPPORT].happened = work->tables[TABLE_SUPPORT].is_declared;
    steps[STEP_INTERFERENCE].happened = work->tables[TABLE_INTERFERENCE].is_declared;
    steps[STEP_BUOYANCY].happened = recipe->buoyancy || recipe->two_gradients;
    steps[STEP_ANGULARITY].happened = work->recipe.yaw_turn != 0;
    steps[STEP_REYNOLDS].happened = recipe->reynolds.to != 0 && !result->reynolds_unmeasured;
    steps[STEP_BLOCKAGE].happened =
        recipe->blockage != NULL && strcmp(recipe->blockage, "none") != 0;
    steps[STEP_CORRECTED].happened = 1;
}

/* A model's areas at full size: C A / s^2, s its scale. */
static void fill_full_size(const struct run_work *work, const struct reduced_point *made,
                           struct ledger_step *step)
{
    double scale = work->night->campaign->car.model_scale;
    const struct derived_quantities *derived = &made->result.derived;
    step->happened = scale > 0 && scale < 1;
    if (!step->happened)
        return;
    add_row(step, "CDA_full_size", "m2", derived->drag_area / (scale * scale));
    add_row(step, "CLA_full_size", "m2", derived->downforce_area / (scale * scale));
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
    static const char *const names[STEPS] = {[STEP_HEIGHTS] = "ride heights",
                                             [STEP_ZERO] = "zero",
                                             [STEP_BALANCE] = "balance",
                                             [STEP_WEIGHT] = "weight model",
                                             [STEP_TARE] = "weight tare",
                                             [STEP_BELT] = "belt tare",
                                             [STEP_TRANSFER] = "transfer",
                                             [STEP_CELLS] = "cells",
                                             [STEP_FREESTREAM] = "freestream",
                                             [STEP_RAW] = "raw",
                                             [STEP_SUPPORT] = "support tare",
                                             [STEP_INTERFERENCE] = "interference",
                                             [STEP_BUOYANCY] = "buoyancy",
                                             [STEP_BLOCKAGE] = "blockage",
                                             [STEP_ANGULARITY] = "flow angularity",
                                             [STEP_REYNOLDS] = "Reynolds",
                                             [STEP_CORRECTED] = "corrected",
                                             [STEP_FULL_SIZE] = "full size"};
    struct ledger_step steps[STEPS];
    enum status status = OK;
    memset(steps, 0, sizeof steps);
    for (int i = 0; i < STEPS; i++)
        steps[i].step = names[i];
    fill_heights(work, made, &steps[STEP_HEIGHTS]);
    fill_cells(work, made, &steps[STEP_CELLS]);
    fill_load_steps(work, made, steps);
    fill_coefficient_steps(work, made, steps);
    fill_full_size(work, made, &steps[STEP_FULL_SIZE]);
    for (int i = 0; i < STEPS; i++) {
        if (!has_values(&steps[i]))
            continue;
        for (size_t row = 0; status == OK && row < steps[i].n; row++)
            status = write_row(writer, made->point->point, i + 1, &steps[i], row, fault);
    }
    return status;
}
