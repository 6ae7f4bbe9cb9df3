/* budget_sources.c - see budget_sources.h. */
#include "reduce/budget_sources.h"

#include <math.h>
#include <string.h>

#include "reduce/boundary_made.h"
#include "reduce/rows.h"
#include "schema/calibration.h"

enum { LOADS = 6 };

static const struct budget_source unused = {"", "", UNCERTAIN_INPUTS, 0,
                                            0,  0,  REACH_POINT,      SHAPE_NORMAL};

static void set(struct budget_list *list, size_t place, const char *name, const char *evidence,
                enum uncertain_input input, enum error_reach reach, enum error_shape shape)
{
    struct budget_source *source = &list->source[place];
    *source = (struct budget_source){name, evidence, input, 0, 0, (double)INFINITY, reach, shape};
}

/* In the order of their places from BUDGET_CONSTANT. */
static const struct {
    const char *name;
    enum uncertain_input input;
} constants[] = {
    {"slotted factor", UNCERTAIN_SLOTTED_FACTOR},
    {"vortex drag factor", UNCERTAIN_VORTEX_DRAG},
    {"flow angularity", UNCERTAIN_ATTITUDE_1 + ATTITUDE_YAW},
    {"Reynolds slope", UNCERTAIN_REYNOLDS_1},
    {"Reynolds slope", UNCERTAIN_REYNOLDS_1 + 1},
    {"Reynolds slope", UNCERTAIN_REYNOLDS_1 + 2},
};

static void set_own(struct budget_list *list)
{
    for (size_t i = 0; i < BUDGET_STEP; i++) {
        set(list, BUDGET_SCATTER + i, "scatter within the point",
            "standard errors of the channels' means", UNCERTAIN_INPUTS, REACH_POINT, SHAPE_NORMAL);
        list->term[i] = (struct budget_term){0, 1};
    }
    set(list, BUDGET_STEP, "step to the target", "slopes through the configuration's own points",
        UNCERTAIN_INPUTS, REACH_RUN, SHAPE_NORMAL);
    for (size_t i = 0; i < LOADS; i++) {
        set(list, BUDGET_ZERO + i, "zero drift", "change between the zeros before and after",
            UNCERTAIN_OUTPUT_1 + (int)i, REACH_RUN, SHAPE_RECTANGULAR);
        set(list, BUDGET_RESIDUAL + i, "balance calibration residual", "balance file",
            UNCERTAIN_LOAD_1 + (int)i, REACH_ALWAYS, SHAPE_NORMAL);
    }
    for (size_t i = 0; i < sizeof constants / sizeof constants[0]; i++)
        set(list, BUDGET_CONSTANT + i, constants[i].name, "fit to the declared measurements",
            constants[i].input, REACH_ALWAYS, SHAPE_NORMAL);
}

static void set_declared(const struct declared_uncertainty *item, struct budget_source *source)
{
    static const enum error_reach reaches[] = {[DECLARED_POINT] = REACH_POINT,
                                               [DECLARED_RUN] = REACH_RUN,
                                               [DECLARED_ENTRY] = REACH_ENTRY,
                                               [DECLARED_ALWAYS] = REACH_ALWAYS};
    static const enum error_shape shapes[] = {[DECLARED_NORMAL] = SHAPE_NORMAL,
                                              [DECLARED_RECTANGULAR] = SHAPE_RECTANGULAR,
                                              [DECLARED_TRIANGULAR] = SHAPE_TRIANGULAR,
                                              [DECLARED_ARCSINE] = SHAPE_ARCSINE};
    *source = (struct budget_source){item->source,         item->evidence,     item->of,
                                     item->standard,       item->is_relative,  item->freedom,
                                     reaches[item->reach], shapes[item->shape]};
}

/* Correlated sources get the group of the first of them. */
static void join_groups(struct budget_list *list, size_t i, size_t j)
{
    size_t kept = list->term[i].group, lost = list->term[j].group;
    if (kept > lost) {
        kept = lost;
        lost = list->term[i].group;
    }
    for (size_t k = 0; k < BUDGET_PLACES; k++)
        if (list->term[k].group == lost)
            list->term[k].group = kept;
}

static void correlate(const struct facility_uncertainties *declared, struct budget_list *list)
{
    double between[DECLARED_UNCERTAINTIES_MAX * DECLARED_UNCERTAINTIES_MAX];
    (void)declared_correlations(declared, between); /* looked at when the campaign was read */
    for (size_t i = 0; i < declared->n; i++)
        for (size_t j = 0; j < declared->n; j++) {
            double r = between[i * declared->n + j];
            if (i == j || r == 0)
                continue;
            list->has_correlation = 1;
            list->correlation[(BUDGET_DECLARED + i) * BUDGET_PLACES + BUDGET_DECLARED + j] = r;
            join_groups(list, BUDGET_DECLARED + i, BUDGET_DECLARED + j);
        }
}

void budget_list_begin(const struct campaign *campaign, const char *facility,
                       struct budget_list *list)
{
    const struct facility_uncertainties *declared = campaign_uncertainties(campaign, facility);
    memset(list, 0, sizeof *list);
    for (size_t i = 0; i < BUDGET_PLACES; i++) {
        list->source[i] = unused;
        list->term[i] = (struct budget_term){i, 0};
        list->correlation[i * BUDGET_PLACES + i] = 1;
    }
    set_own(list);
    if (declared == NULL)
        return;
    for (size_t i = 0; i < declared->n; i++)
        set_declared(&declared->items[i], &list->source[BUDGET_DECLARED + i]);
    correlate(declared, list);
}

static double mean_of(const struct zero_reading *reading, enum role role)
{
    return run_data_mean(&reading->data, reading->point, role);
}

static void take_zero_drift(const struct run_work *work, struct budget_list *list)
{
    const struct tunnel_recipe *recipe = &work->recipe.tunnel;
    int is_ready = recipe->source == LOADS_READY;
    if (!recipe_has_loads(recipe) || work->zeros.choice.kind != ZERO_KIND_LINEAR)
        return;
    for (int i = 0; i < LOADS; i++) {
        enum role role = (enum role)((int)recipe_first_role(recipe->source) + i);
        double drift = mean_of(&work->zeros.after, role) - mean_of(&work->zeros.before, role);
        struct budget_source *source = &list->source[BUDGET_ZERO + (size_t)i];
        source->standard = isfinite(drift) ? fabs(drift) / sqrt(12) : 0;
        source->input = (is_ready ? UNCERTAIN_LOAD_1 : UNCERTAIN_OUTPUT_1) + i;
    }
}

static enum status take_residual(const struct run_work *work, struct budget_list *list,
                                 struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    if (work->recipe.tunnel.source != LOADS_FROM_OUTPUTS)
        return OK;
    const char *const texts[] = {work->run->balance};
    enum status status =
        rows_open(work->night->store,
                  "SELECT load, residual_sd * rated FROM calibration_load WHERE balance = ?1",
                  texts, 1, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        const char *load = statement_text(row, 0);
        double standard = statement_real(row, 1);
        for (size_t i = 0; load != NULL && i < LOADS; i++)
            if (strcmp(calibration_load_name(i), load) == 0 && standard > 0)
                list->source[BUDGET_RESIDUAL + i].standard = standard;
    }
    statement_free(row);
    return status;
}

/* A line's slope is known with its own freedom, and only where the correction is in force. */
static void take_constants(const struct run_work *work, struct budget_list *list)
{
    const struct tunnel_recipe *recipe = &work->recipe.tunnel;
    struct budget_source *source = &list->source[BUDGET_CONSTANT];
    struct boundary_made made;
    const char *what = "";
    if (work->recipe.facility->corrected != CORRECTED_NO ||
        boundary_make(work->recipe.facility, &made, &what) != OUTCOME_OK)
        return;
    if (strcmp(recipe->blockage, "slotted") == 0 && made.slotted.degrees_of_freedom > 0) {
        source[0].standard = made.slotted.factor_u;
        source[0].freedom = made.slotted.degrees_of_freedom;
    }
    if (strcmp(recipe->blockage, "maskell split") == 0 && made.vortex.degrees_of_freedom > 0) {
        source[1].standard = made.vortex.slope_u;
        source[1].freedom = made.vortex.degrees_of_freedom;
    }
    if (work->recipe.yaw_turn != 0)
        source[2].standard = made.turn.turn_u;
    for (int i = 0; recipe->reynolds.to != 0 && i < CARRIED; i++) {
        const struct line_fit *fit = &recipe->reynolds.fit[i];
        if (!recipe->reynolds.has[i] || !(fit->degrees_of_freedom > 0))
            continue;
        source[3 + i].standard = fit->slope_u;
        source[3 + i].freedom = fit->degrees_of_freedom;
    }
}

/* An output's size is in the unit of one balance; another balance's runs know nothing of it. */
static void drop_other_balances(const struct run_work *work, struct budget_list *list)
{
    const struct facility_uncertainties *declared =
        campaign_uncertainties(work->night->campaign, work->run->facility);
    const struct balance *balance = work->recipe.balance;
    for (size_t i = 0; declared != NULL && i < declared->n; i++) {
        const char *unit = declared->items[i].output_unit;
        if (unit != NULL && (balance == NULL || strcmp(balance->output_unit, unit) != 0))
            list->source[BUDGET_DECLARED + i].standard = 0;
    }
}

enum status budget_list_of_run(const struct run_work *work, struct budget_list *list,
                               struct fault *fault)
{
    take_zero_drift(work, list);
    take_constants(work, list);
    drop_other_balances(work, list);
    return take_residual(work, list, fault);
}

const char *budget_reach_word(size_t place, enum error_reach reach)
{
    static const char *const words[] = {[REACH_POINT] = "point",
                                        [REACH_RUN] = "run",
                                        [REACH_ENTRY] = "entry",
                                        [REACH_ALWAYS] = "always"};
    return place == BUDGET_STEP ? "configuration" : words[reach];
}

const double *budget_list_correlation(const struct budget_list *list)
{
    return list->has_correlation ? list->correlation : NULL;
}
