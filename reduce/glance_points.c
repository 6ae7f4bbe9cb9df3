/* glance_points.c - the points of the run in memory: values, uncertainty, halves, targets, zeros.
 *
 * The store holds the same numbers; they are made again here because it does not hold the halves, the
 * effect of the drift, nor the uncertainty of every quantity.                                      */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/attitude_match.h"
#include "reduce/glance_parts.h"
#include "reduce/key_text.h"
#include "reduce/inputs.h"
#include "reduce/point_rows.h"
#include "reduce/point_spread.h"
#include "reduce/run_work.h"
#include "reduce/point_tares.h"
#include "reduce/rows.h"

static double uncertainty_of(const struct tunnel_uncertainty *spread, double area,
                             enum quantity quantity)
{
    switch (quantity) {
    case QUANTITY_BALANCE:
        return spread->balance;
    case QUANTITY_LD:
        return spread->lift_to_drag;
    case QUANTITY_CDA:
        return spread->coefficient[COEFFICIENT_CD] * area;
    case QUANTITY_CLA:
        return spread->coefficient[COEFFICIENT_CL] * area;
    default:
        return spread->coefficient[quantity];
    }
}

static void take_values(struct glance_work *work, struct reduced_point *made,
                        struct glance_point *point)
{
    const struct glance *glance = work->glance;
    double area = work->run.recipe.tunnel.reference_area;
    double values[QUANTITY_COUNT];
    quantities_from_coefficients(made->result.corrected, area, values);
    if (made->balance_undefined)
        values[QUANTITY_BALANCE] = (double)NAN;
    for (size_t m = 0; m < glance->n_metrics; m++) {
        enum quantity quantity = glance->metrics[m].quantity;
        point->values[m] =
            (struct glance_value){values[quantity], uncertainty_of(&made->spread, area, quantity)};
    }
    if (glance->n_metrics > 0)
        glance_halves(&work->run, made, glance->metrics[0].quantity, point->half);
}

static void reduce_point(struct glance_work *work, const struct point_row *row,
                         struct glance_point *point)
{
    struct run_work *run = &work->run;
    struct reduced_point made;
    double logged[ATTITUDE_COUNT];
    memset(&made, 0, sizeof made);
    made.point = row;
    memcpy(made.attitude, point->attitude, sizeof made.attitude);
    inputs_fill(&run->recipe, &run->data, row, &run->zeros, &made.inputs);
    boundary_taps_fill(run, row, &made.inputs);
    memcpy(logged, made.attitude, sizeof logged); /* tares know nothing of the flow's turn */
    logged[ATTITUDE_YAW] -= run->recipe.yaw_turn;
    if (!point_tares(run, row, logged, &made.inputs, NULL, NULL))
        return;
    made.outcome = tunnel_point_reduce(&run->recipe.tunnel, &made.inputs, &made.result);
    if (made.outcome != OUTCOME_OK)
        return;
    point_spread_fill(run, &made);
    point->is_guess = made.spread_is_guess;
    made.balance_undefined = point_balance_undefined(&made);
    point->dynamic_pressure = made.result.freestream.dynamic_pressure;
    take_values(work, &made, point);
    drift_watch_add(&work->drift, run, &made);
}

static void match_target(struct glance_work *work, struct glance_point *point)
{
    const struct attitudes *attitudes = &work->run.night->campaign->attitudes;
    const struct facility *facility =
        campaign_facility(work->run.night->campaign, work->run.run->facility);
    struct attitude_match match = attitude_match(attitudes, point->attitude);
    int may_carry = facility != NULL && facility->to_target == TARGET_LOCAL_FIT;
    point->target = GLANCE_NO_TARGET;
    if (match.target == NULL)
        return;
    point->target = (int)(match.target - attitudes->targets);
    if (match.within_tolerance)
        point->reach = REACH_AT;
    else
        point->reach = may_carry && match.within_cap ? REACH_NO_SLOPE : REACH_OFF;
}

static enum status add_point(struct glance_work *work, const struct point_row *row, int has_numbers,
                             struct fault *fault)
{
    struct glance *glance = work->glance;
    struct glance_point *point = &glance->points[glance->n_points];
    void *array = NULL;
    enum status status = array_make(&array, glance->n_metrics, sizeof *point->values, fault);
    if (status != OK)
        return status;
    glance->n_points++;
    point->values = array;
    point->time = row->time;
    point->dynamic_pressure = (double)NAN;
    point->half[0] = point->half[1] = (double)NAN;
    for (size_t m = 0; m < glance->n_metrics; m++)
        point->values[m] = (struct glance_value){(double)NAN, (double)NAN};
    attained_attitude(work->run.night->campaign, work->run.recipe.facility, &work->run.data, row,
                      point->attitude);
    point->attitude[ATTITUDE_YAW] += work->run.recipe.yaw_turn;
    match_target(work, point);
    if (has_numbers)
        reduce_point(work, row, point);
    return glance_keep(glance, row->point, &point->label, fault);
}

static struct glance_point *find_point(struct glance *glance, const char *label)
{
    for (size_t i = 0; label != NULL && i < glance->n_points; i++)
        if (strcmp(glance->points[i].label, label) == 0)
            return &glance->points[i];
    return NULL;
}

/* A carried point: its values are those at the target, and its halves move with them. */
static void carry(const struct glance *glance, struct statement *row, struct glance_point *point)
{
    for (size_t m = 0; m < glance->n_metrics; m++) {
        double value = statement_real(row, 2 + (int)glance->metrics[m].quantity);
        double change = value - point->values[m].value;
        for (int i = 0; m == 0 && i < 2; i++)
            point->half[i] += isfinite(change) ? change : 0;
        point->values[m].value = value;
    }
}

static enum status take_targets(struct glance_work *work, struct fault *fault)
{
    struct key_text sql = {NULL, 0, 0, 0};
    struct statement *statement = NULL;
    int row = 0;
    key_text_say(&sql, "SELECT t.point, t.method");
    for (unsigned i = 0; i < QUANTITY_COUNT; i++)
        key_text_say(&sql, ", t.%s", quantity_row((enum quantity)i)->column);
    key_text_say(&sql, " FROM target_result AS t JOIN reduction AS d ON d.reduction = t.reduction "
                       "WHERE d.is_current = 1 AND t.is_used = 1 AND t.run = ?1");
    enum status status = key_text_status(&sql, fault);
    if (status == OK)
        status =
            rows_open(work->run.night->store, sql.text, &work->glance->run, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        struct glance_point *point = find_point(work->glance, statement_text(statement, 0));
        const char *method = statement_text(statement, 1);
        if (point == NULL || method == NULL || strcmp(method, "local fit") != 0)
            continue;
        point->reach = REACH_CARRIED;
        carry(work->glance, statement, point);
    }
    statement_free(statement);
    key_text_end(&sql);
    return status;
}

static enum status take_zeros(struct glance_work *work, struct fault *fault)
{
    const struct zero_choice *choice = &work->run.zeros.choice;
    struct glance_zero *zero = &work->glance->zero;
    const struct run_row *before = choice->before.run;
    int is_after = before != NULL && choice->kind == ZERO_KIND_CONSTANT &&
                   before->earliest > work->run.run->latest;
    enum status status = OK;
    zero->is_one_sided =
        choice->kind == ZERO_KIND_CONSTANT && (choice->after_missing || work->zero_to_come);
    if (before != NULL)
        status =
            glance_keep(work->glance, before->run, is_after ? &zero->after : &zero->before, fault);
    if (status == OK && choice->after.run != NULL)
        status = glance_keep(work->glance, choice->after.run->run, &zero->after, fault);
    const struct drift_watch *drift = &work->drift;
    if (drift->metric == NULL)
        return status;
    const struct quantity_row *row = quantity_row(quantity_from_symbol(drift->metric->quantity));
    const struct campaign *campaign = work->run.night->campaign;
    int counted = row->in_counts && campaign->count > 0;
    zero->quantity = row->symbol;
    zero->drift = drift->delta;
    zero->limit = campaign->limits.zero_drift * drift->metric->worthwhile;
    zero->unit_size = counted ? campaign->count : 1;
    zero->unit = counted ? "counts" : strcmp(row->unit, "1") == 0 ? "" : row->unit;
    return status;
}

/* Why the run as a whole has no number; "" when it has. */
static enum status read_work(struct glance_work *work, struct fault *refusal, struct fault *fault)
{
    struct run_work *run = &work->run;
    refusal->text[0] = '\0';
    enum status status = run_data_read(run->night, run->run->run, &run->data, fault);
    if (status != OK)
        return status;
    status = run_work_complete(run, refusal);
    if (status == NO_RESULT)
        return OK;
    if (status != OK) {
        if (fault != NULL)
            *fault = *refusal;
        return status;
    }
    refusal->text[0] = '\0';
    if (run->zeros.choice.kind == ZERO_KIND_MISSING &&
        run->recipe.tunnel.source != LOADS_AS_COEFFICIENTS)
        (void)snprintf(refusal->text, sizeof refusal->text, "%s", run->zeros.choice.missing);
    else if (run->tare.choice.kind == TARE_KIND_MISSING)
        (void)snprintf(refusal->text, sizeof refusal->text, "%s", run->tare.choice.missing);
    return OK;
}

enum status glance_points(struct glance_work *work, struct fault *fault)
{
    struct glance *glance = work->glance;
    struct run_data *data = &work->run.data;
    struct fault refusal = {.status = OK, .where = "", .text = "", .source = ""};
    void *array = NULL;
    enum status status = read_work(work, &refusal, fault);
    if (status == OK)
        status = glance_keep(glance, refusal.text, &glance->refused, fault);
    if (status == OK)
        status = array_make(&array, data->n_points, sizeof *glance->points, fault);
    glance->points = array;
    for (size_t i = 0; status == OK && i < data->n_points; i++)
        status = add_point(work, &data->points[i], refusal.text[0] == '\0', fault);
    if (status == OK)
        status = take_targets(work, fault);
    if (status == OK)
        status = take_zeros(work, fault);
    return status;
}
