/* explain_words.c - numbers and formulas in words; see explain.h. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/explain.h"
#include "reduce/physics/blockage.h"
#include "reduce/physics/constants.h"
#include "reduce/sensed_heights.h"
#include "schema/contents.h"

void explain_say_number(struct key_text *text, double value, int digits, const char *unit)
{
    if (!isfinite(value)) {
        key_text_say(text, "n/a");
        return;
    }
    int is_plain = unit[0] == '\0' || strcmp(unit, "1") == 0;
    key_text_say(text, "%.*g%s%s", digits, value == 0 ? 0.0 : value, is_plain ? "" : " ",
                 is_plain ? "" : unit);
}

static void say_zero(const struct explanation *explanation, char *out, size_t size)
{
    int is_linear = explanation->work.zeros.choice.kind == ZERO_KIND_LINEAR;
    int is_ready = explanation->work.recipe.tunnel.source == LOADS_READY;
    (void)snprintf(out, size, "%s minus its zero, %s", is_ready ? "load" : "output",
                   is_linear ? "the zero linear in time between before and after"
                             : "one zero held constant");
}

static void say_balance(const struct explanation *explanation, char *out, size_t size)
{
    const struct balance_calibration *calibration = &explanation->work.recipe.tunnel.calibration;
    const char *form = "F_i = sum A_ij R_j";
    if (calibration->is_iterative)
        form = "F = C1^-1 [R - C2 H(F)] by iteration to 1e-6 of the rated load";
    else if (calibration->second_order)
        form = "F_i = sum A_ij R_j + sum B_ijk R_j R_k";
    (void)snprintf(out, size, "loads from outputs, %s, balance axes", form);
}

static void say_tare(const struct explanation *explanation, char *out, size_t size)
{
    (void)snprintf(out, size, "%s",
                   explanation->work.tare.model.is_wanted
                       ? "minus also what the rigid weight leaves of the weight tare, interpolated "
                         "between its points"
                       : "minus the loads of the weight tare at this attitude");
}

static void say_weight(const struct explanation *explanation, char *out, size_t size)
{
    (void)explanation;
    (void)snprintf(out, size,
                   "minus a rigid weight's loads, F = F_c + W g, M = M_c + r x W g, "
                   "fitted to the weight tare");
}

static void say_belt(const struct explanation *explanation, char *out, size_t size)
{
    (void)snprintf(
        out, size,
        "minus the loads of belt tare %.60s at this belt speed and attitude, belt on, wind "
        "off, weight off",
        explanation->work.belt.run->run);
}

static void say_table(const struct explanation *explanation, enum table_kind kind, char *out,
                      size_t size)
{
    const struct declared_table *table = &explanation->work.recipe.facility->tables[kind];
    (void)snprintf(out, size,
                   "minus the coefficients of %.120s, interpolated between its rows%s%.60s",
                   table->file, table->contains == NULL ? "" : "; the rest is without ",
                   table->contains == NULL ? "" : table->contains);
}

static void say_support(const struct explanation *explanation, char *out, size_t size)
{
    say_table(explanation, TABLE_SUPPORT, out, size);
}

static void say_interference(const struct explanation *explanation, char *out, size_t size)
{
    say_table(explanation, TABLE_INTERFERENCE, out, size);
}

static void say_transfer(const struct explanation *explanation, char *out, size_t size)
{
    (void)snprintf(out, size, "%sto the ground at mid-wheelbase, M_O = M_P + r x F%s",
                   explanation->work.recipe.balance == NULL ? "" : "from balance to car axes and ",
                   explanation->work.recipe.tunnel.stays_with_tunnel
                       ? ", turned by the yaw, which the balance does not follow"
                       : "");
}

static void say_heights(const struct explanation *explanation, char *out, size_t size)
{
    const struct facility *facility = explanation->work.recipe.facility;
    int is_plane = facility != NULL && height_model_of(facility) == HEIGHT_PLANE;
    int is_taken = facility != NULL && facility->ride_height == HEIGHT_FROM_SENSORS;
    (void)snprintf(out, size,
                   "reading + offset of each sensor; h = a + b x%s by least squares, front at "
                   "x = -W/2, rear at W/2, y = 0%s",
                   is_plane ? " + c y" : "",
                   is_taken ? "" : "; a check only, the attitude is the log's");
}

static void say_cells(const struct explanation *explanation, char *out, size_t size)
{
    char contents[2 * CONTENTS_ROOM + 40];
    contents_say(&explanation->work.recipe.contents, contents, sizeof contents);
    (void)snprintf(out, size,
                   "plus what the cells carry, zero and tare off, at the wheels' contacts and the "
                   "belt, z = 0, axes of the car; it now contains %.300s",
                   contents);
}

static void say_freestream(const struct explanation *explanation, char *out, size_t size)
{
    static const char *const words[] = {
        [Q_FROM_TOTAL_AND_STATIC] = "M^2 = 5 [(p0/p)^(2/7) - 1], q = 0.7 p M^2",
        [Q_FROM_DROP] = "M^2 = q/(0.7 p)",
        [Q_GIVEN] = "q as the log gives it, M^2 = q/(0.7 p)",
        [Q_FROM_SPEED] = "", /* of a declared density only */
    };
    static const char *const of_density[] = {
        [Q_FROM_TOTAL_AND_STATIC] = "q = p0 - p",
        [Q_FROM_DROP] = "",
        [Q_GIVEN] = "q as the log gives it",
        [Q_FROM_SPEED] = "q = rho V^2/2",
    };
    const struct tunnel_recipe *recipe = &explanation->work.recipe.tunnel;
    char drop[80] = "";
    if (recipe->q_source == Q_FROM_DROP)
        (void)snprintf(drop, sizeof drop, "q = sum c_k dp^k of the %s drop%s",
                       campaign_drop_method(explanation->work.recipe.facility->freestream)->name,
                       recipe->density > 0 ? "" : ", ");
    if (recipe->density > 0) {
        (void)snprintf(out, size, "%s%s, rho %g kg/m3 as declared", drop,
                       of_density[recipe->q_source], recipe->density);
        return;
    }
    (void)snprintf(out, size, "%s%s, rho of %s air (CIPM-2007)", drop, words[recipe->q_source],
                   recipe->dry_air ? "dry" : "moist");
}

static void say_raw(const struct explanation *explanation, char *out, size_t size)
{
    static const char *const formulas[QUANTITY_COUNT] = {
        [QUANTITY_CD] = "CD = Fx/(q A)",
        [QUANTITY_CY] = "CY = Fy/(q A)",
        [QUANTITY_CL] = "CL = -Fz/(q A)",
        [QUANTITY_CLF] = "CL = -Fz/(q A), CPM = My/(q A W), CLF = CL/2 - CPM",
        [QUANTITY_CLR] = "CL = -Fz/(q A), CPM = My/(q A W), CLR = CL/2 + CPM",
        [QUANTITY_CRM] = "CRM = Mx/(q A W), W the wheelbase",
        [QUANTITY_CPM] = "CPM = My/(q A W), W the wheelbase",
        [QUANTITY_CYM] = "CYM = Mz/(q A W), W the wheelbase",
        [QUANTITY_BALANCE] = "CL = -Fz/(q A), CPM = My/(q A W), CLF = CL/2 - CPM",
        [QUANTITY_LD] = "CL = -Fz/(q A), CD = Fx/(q A)",
        [QUANTITY_CDA] = "CD = Fx/(q A)",
        [QUANTITY_CLA] = "CL = -Fz/(q A)",
    };
    if (explanation->work.recipe.tunnel.source == LOADS_AS_COEFFICIENTS)
        (void)snprintf(out, size,
                       "coefficients as the facility's file gives them; what it leaves out of CL, "
                       "CLF, CLR and CPM follows from the others");
    else if (explanation->quantity < QUANTITY_COUNT)
        (void)snprintf(out, size, "%s", formulas[explanation->quantity]);
}

static void say_buoyancy(const struct explanation *explanation, char *out, size_t size)
{
    (void)snprintf(out, size, "%s",
                   explanation->work.recipe.tunnel.two_gradients
                       ? "minus what the section's pressure gradient does, s dCp/dx, s from two "
                         "gradients"
                       : "minus the drag of the section's pressure gradient, -(dCp/dx) G V/A");
}

static void say_blockage(const struct explanation *explanation, char *out, size_t size)
{
    const struct blockage_family *family =
        blockage_family(explanation->work.recipe.tunnel.blockage);
    (void)snprintf(out, size, "divided by q_c/q of the family '%s', %s",
                   family == NULL ? "" : family->name, family == NULL ? "" : family->equation);
}

static void say_angularity(const struct explanation *explanation, char *out, size_t size)
{
    (void)snprintf(
        out, size,
        "yaw, air from right positive, plus %+.4f deg that the flow is turned; tares are looked up "
        "without it",
        explanation->work.recipe.yaw_turn * 180.0 / PI);
}

static void say_reynolds(const struct explanation *explanation, char *out, size_t size)
{
    (void)snprintf(
        out, size,
        "carried to Re %.4g along the declared speed sweep, C + b log10(Re_ref/Re), Re on the "
        "wheelbase",
        explanation->work.recipe.tunnel.reynolds.to);
}

static void say_full_size(const struct explanation *explanation, char *out, size_t size)
{
    (void)snprintf(out, size, "of the car at full size, C A/s^2, model scale s = %g",
                   explanation->work.night->campaign->car.model_scale);
}

static void say_corrected(const struct explanation *explanation, char *out, size_t size)
{
    const char *formula = "the coefficient after all steps";
    if (explanation->quantity == QUANTITY_BALANCE)
        formula = "balance = 100 CLF/CL";
    else if (explanation->quantity == QUANTITY_LD)
        formula = "L/D = CL/CD";
    else if (explanation->quantity == QUANTITY_CDA)
        formula = "CDA = CD A";
    else if (explanation->quantity == QUANTITY_CLA)
        formula = "CLA = CL A";
    (void)snprintf(out, size, "%s", formula);
}

void explain_formula(const struct explanation *explanation, const char *step, char *out,
                     size_t size)
{
    static const struct {
        const char *step;
        void (*say)(const struct explanation *explanation, char *out, size_t size);
    } steps[] = {
        {"ride heights", say_heights},
        {"cells", say_cells},
        {"zero", say_zero},
        {"balance", say_balance},
        {"weight model", say_weight},
        {"weight tare", say_tare},
        {"belt tare", say_belt},
        {"support tare", say_support},
        {"interference", say_interference},
        {"transfer", say_transfer},
        {"freestream", say_freestream},
        {"raw", say_raw},
        {"buoyancy", say_buoyancy},
        {"blockage", say_blockage},
        {"flow angularity", say_angularity},
        {"Reynolds", say_reynolds},
        {"corrected", say_corrected},
        {"full size", say_full_size},
    };
    out[0] = '\0';
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++)
        if (strcmp(steps[i].step, step) == 0)
            steps[i].say(explanation, out, size);
}
