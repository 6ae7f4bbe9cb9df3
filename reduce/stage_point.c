/* stage_point.c - the point stage of one run; see stage_point.h. */
#include "reduce/stage_point.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/calibration_validity.h"
#include "reduce/decision_flags.h"
#include "reduce/flagging.h"
#include "reduce/inputs.h"
#include "reduce/plausibility.h"
#include "reduce/point_checks.h"
#include "reduce/point_key.h"
#include "reduce/point_rows.h"
#include "reduce/point_spread.h"
#include "reduce/point_taps.h"
#include "reduce/point_tares.h"
#include "reduce/record_state.h"
#include "reduce/run_work.h"
#include "reduce/tare_flags.h"
#include "reduce/tare_rows.h"
#include "reduce/wind_floor.h"
#include "reduce/zero_flags.h"
#include "reduce/run_contents.h"
#include "reduce/yaw_offset.h"
#include "schema/store.h"

/* Where the rows of a run go. */
struct output {
    struct point_writer rows;
    struct flagger flagger;
    struct tap_work *taps;
    struct drift_watch drift;
    struct plausibility_watch plausibility;
    struct yaw_watch yaw;
    struct wind_floor wind;
    enum flag_state *records; /* of each point, by the rules on its records */
};

static enum status flag_run(struct output *output, const struct run_work *work, enum flag_rule rule,
                            const char *subject, const char *detail, struct fault *fault)
{
    struct flag_note note = flag_note_make(rule, work->run->run, "", subject);
    (void)snprintf(note.detail, sizeof note.detail, "%s", detail);
    return flagger_write(&output->flagger, &note, fault);
}

/* The cell names a zero that cannot be one; of ready-made coefficients only the taps need it. */
static enum status flag_refused_zero(struct output *output, const struct run_work *work,
                                     struct fault *fault)
{
    struct flag_note note = flag_note_make(FLAG_ZERO_MISSING, work->run->run, "", "taps");
    note.state = FLAG_FLAGGED;
    (void)snprintf(note.detail, sizeof note.detail, "%s", work->zeros.choice.missing);
    return flagger_write(&output->flagger, &note, fault);
}

static enum status flag_missing(struct output *output, const struct run_work *work,
                                struct fault *fault)
{
    const struct zero_choice *zero = &work->zeros.choice;
    enum status status = OK;
    if (run_work_zero_is_missing(work))
        status = flag_run(output, work, FLAG_ZERO_MISSING, "", zero->missing, fault);
    else if (zero->kind == ZERO_KIND_MISSING && work->run->zero[0] != '\0')
        status = flag_refused_zero(output, work, fault);
    if (status == OK && work->tare.choice.kind == TARE_KIND_MISSING)
        status =
            flag_run(output, work, FLAG_TARE_NOT_AT_ATTITUDE, "", work->tare.choice.missing, fault);
    return status;
}

/* A moment without its lever, and cells whose weight is not tared: once a run. */
static enum status flag_cells(struct output *output, const struct run_work *work,
                              struct fault *fault)
{
    const struct tunnel_recipe *recipe = &work->recipe.tunnel;
    int roll = wheel_cells_lack_roll(recipe->cell_added, &recipe->cells);
    int yaw = wheel_cells_lack_yaw(recipe->cell_added, &recipe->cells);
    char detail[200];
    enum status status = OK;
    if (roll || yaw) {
        const char *what = roll && yaw ? "CRM and CYM are" : roll ? "CRM is" : "CYM is";
        (void)snprintf(detail, sizeof detail,
                       "%s not given: cells are added, and the car's tracks are not declared",
                       what);
        status = flag_run(output, work, FLAG_TRACK_MISSING, "cells", detail, fault);
    }
    if (status != OK || !work->tare.lacks_cells)
        return status;
    (void)snprintf(detail, sizeof detail, "weight tare %.80s does not log all cells that are added",
                   work->tare.choice.run->run);
    return flag_run(output, work, FLAG_CELLS_WITHOUT_TARE, "cells", detail, fault);
}

static enum status flag_declared(struct output *output, const struct run_work *work,
                                 struct fault *fault)
{
    const struct zero_choice *zero = &work->zeros.choice;
    enum status status = OK;
    if (zero->kind == ZERO_KIND_CONSTANT && zero->after_missing) {
        char detail[200];
        (void)snprintf(detail, sizeof detail,
                       "zero %.80s is the only one near the run; it is held constant",
                       zero->before.run->run);
        status =
            flag_run(output, work, FLAG_ZERO_AFTER_MISSING, zero->before.run->run, detail, fault);
    }
    char absent[120];
    if (status == OK && recipe_absent_words(&work->recipe.tunnel, absent, sizeof absent))
        status = flag_run(output, work, FLAG_LOADS_PARTIAL, "", absent, fault);
    if (status == OK && work->recipe.facility->corrected == CORRECTED_UNKNOWN)
        status = flag_run(output, work, FLAG_CORRECTIONS_UNKNOWN, "",
                          "already_corrected is unknown: no wall correction is applied", fault);
    return status;
}

static void forget(struct reduced_point *made)
{
    /* A point that is refused before its reduction has the NAN of one that has no inputs. */
    struct tunnel_recipe nothing;
    memset(&nothing, 0, sizeof nothing);
    memset(&made->inputs, 0, sizeof made->inputs);
    made->inputs.output[0] = (double)NAN;
    (void)tunnel_point_reduce(&nothing, &made->inputs, &made->result);
    for (int i = 0; i < COEFFICIENTS; i++)
        made->spread.coefficient[i] = (double)NAN;
    made->spread.balance = (double)NAN;
    made->spread.lift_to_drag = (double)NAN;
}

static enum status write_note(struct output *output, struct reduced_point *made,
                              const struct flag_note *note, struct fault *fault)
{
    made->state = flag_state_worse(made->state, note->state);
    return flagger_write(&output->flagger, note, fault);
}

static enum status finish_point(struct output *output, const struct run_work *work,
                                struct reduced_point *made, struct fault *fault)
{
    struct flag_note note;
    enum status status = OK;
    enum flag_state record = output->records[made->point - work->data.points];
    made->state = flag_state_worse(made->state, record);
    point_spread_fill(work, made);
    made->balance_undefined = point_balance_undefined(made);
    drift_watch_add(&output->drift, work, made);
    plausibility_add(&output->plausibility, work, made);
    yaw_watch_add(&output->yaw, made);
    for (size_t i = 0; status == OK && point_checks[i] != NULL; i++)
        if (point_checks[i](work, made, &note))
            status = write_note(output, made, &note, fault);
    return status;
}

static enum status reduce_point(struct output *output, const struct run_work *work,
                                struct reduced_point *made, struct fault *fault)
{
    struct flag_note note;
    double logged[ATTITUDE_COUNT];
    inputs_fill(&work->recipe, &work->data, made->point, &work->zeros, &made->inputs);
    boundary_taps_fill(work, made->point, &made->inputs);
    memcpy(logged, made->attitude, sizeof logged); /* tares know nothing of the flow's turn */
    logged[ATTITUDE_YAW] -= work->recipe.yaw_turn;
    if (!point_tares(work, made->point, logged, &made->inputs, made->tare_model, &note)) {
        forget(made);
        return write_note(output, made, &note, fault);
    }
    made->outcome = tunnel_point_reduce(&work->recipe.tunnel, &made->inputs, &made->result);
    if (made->outcome == OUTCOME_OK && wind_floor_refuses(&output->wind, work, made, &note)) {
        forget(made);
        made->outcome = OUTCOME_NO_WIND;
        return write_note(output, made, &note, fault);
    }
    if (made->outcome == OUTCOME_OK)
        return finish_point(output, work, made, fault);
    point_refusal(work, made, &note);
    return write_note(output, made, &note, fault);
}

static enum status write_point(struct output *output, const struct run_work *work,
                               const struct point_row *point, int refused, struct fault *fault)
{
    struct reduced_point made;
    memset(&made, 0, sizeof made);
    made.point = point;
    made.outcome = OUTCOME_NOT_FINITE;
    made.state = refused ? FLAG_REFUSED : FLAG_INFO;
    made.decision = decision_of(&work->night->decisions, work->run->run, point->point);
    sensed_heights_make(work->night->campaign, work->recipe.facility, &work->data, point,
                        &made.heights);
    attitude_by_heights(work->recipe.facility, &made.heights, &work->data, point, made.attitude);
    made.attitude[ATTITUDE_YAW] += work->recipe.yaw_turn;
    forget(&made);
    enum status status = refused ? OK : reduce_point(output, work, &made, fault);
    if (status == OK)
        status = decision_flag_point(&output->flagger, work, &made, fault);
    if (status == OK)
        status = point_result_write(&output->rows, work, &made, fault);
    if (status == OK)
        status = point_ledger_write(&output->rows, work, &made, fault);
    if (status == OK && made.outcome == OUTCOME_OK)
        status = tap_work_point(output->taps, &made, fault);
    if (status != OK)
        fault_where(fault, "run %s point %s", work->run->run, point->point);
    return status;
}

static enum status write_points(struct output *output, const struct run_work *work, int refused,
                                struct fault *fault)
{
    struct flag_note note;
    enum status status = OK;
    for (size_t i = 0; status == OK && i < work->data.n_points; i++)
        status = write_point(output, work, &work->data.points[i], refused, fault);
    if (status == OK)
        status = decision_flag_run(&output->flagger, work, fault);
    if (status == OK)
        status = tap_work_flags(output->taps, &output->flagger, fault);
    if (status == OK && !refused)
        status = tare_flags(work, &output->flagger, fault);
    if (status == OK && drift_watch_check(&output->drift, work, &note))
        status = flagger_write(&output->flagger, &note, fault);
    if (status == OK && yaw_watch_check(&output->yaw, work, &note))
        status = flagger_write(&output->flagger, &note, fault);
    for (size_t i = 0; status == OK && i < PLAUSIBILITY_GATES; i++)
        if (plausibility_check(&output->plausibility, i, work, &note))
            status = flagger_write(&output->flagger, &note, fault);
    return status;
}

static enum status flag_expired(struct output *output, const struct run_work *work, int *expired,
                                struct fault *fault)
{
    struct flag_note note;
    enum status status = calibration_validity(work->night, work->run, expired, &note, fault);
    return status == OK && *expired ? flagger_write(&output->flagger, &note, fault) : status;
}

/* *refused is set when the run as a whole has no numbers; the reason is flagged. */
static enum status prepare_work(struct output *output, struct run_work *work, int *refused,
                                struct fault *fault)
{
    struct fault reason;
    enum status status = run_data_read(work->night, work->run->run, &work->data, fault);
    if (status != OK)
        return status;
    status = run_work_complete(work, &reason);
    if (status == NO_RESULT) {
        *refused = 1;
        return flag_run(output, work, FLAG_RUN_QUARANTINED, "", reason.text, fault);
    }
    if (status != OK) {
        if (fault != NULL)
            *fault = reason;
        return status;
    }
    status = flag_expired(output, work, refused, fault);
    *refused = *refused || run_work_zero_is_missing(work) ||
               work->tare.choice.kind == TARE_KIND_MISSING || work->belt.kind == TARE_KIND_MISSING;
    if (status == OK)
        status = flag_missing(output, work, fault);
    if (status == OK)
        status = wind_floor_make(work, &output->wind, fault);
    if (status == OK)
        status = zero_flags(work, output->wind.median, &output->flagger, fault);
    if (status == OK)
        status = flag_declared(output, work, fault);
    if (status == OK)
        status = belt_tare_flags(work, &output->flagger, fault);
    return status == OK ? flag_cells(output, work, fault) : status;
}

static enum status reduce_run(const struct night *night, const struct run_row *run,
                              int64_t reduction, int *refused, struct fault *fault)
{
    struct run_work work;
    struct output output;
    memset(&work, 0, sizeof work);
    memset(&output, 0, sizeof output);
    work.night = night;
    work.run = run;
    enum status status = flagger_open(night->store, reduction, &output.flagger, fault);
    if (status == OK)
        status = point_writer_open(night->store, reduction, &output.rows, fault);
    if (status == OK)
        status = prepare_work(&output, &work, refused, fault);
    if (status == OK)
        status = tare_fit_write(&work, reduction, fault);
    if (status == OK && work.recipe.contents.drag[0] != '\0')
        status = run_contents_write(night->store, reduction, &work.recipe.contents, fault);
    if (status == OK)
        status = record_states(&work, &output.records, fault);
    if (status == OK)
        status = tap_work_open(&work, reduction, &output.taps, fault);
    if (status == OK)
        status = yaw_watch_open(&work, &output.yaw, fault);
    if (status == OK)
        status = write_points(&output, &work, *refused, fault);
    yaw_watch_end(&output.yaw);
    tap_work_end(output.taps);
    free(output.records);
    point_writer_end(&output.rows);
    flagger_end(&output.flagger);
    run_work_end(&work);
    return status;
}

enum status stage_point(const struct night *night, const struct run_row *run,
                        enum run_ending *ending, struct fault *fault)
{
    struct key_text key;
    int64_t reduction = 0;
    int fresh = 0;
    int refused = 0;
    *ending = RUN_UP_TO_DATE;
    enum status status = point_key_make(night, run, &key, fault);
    if (status == OK)
        status =
            store_reduction(night->store, "point", run->run, key.text, &reduction, &fresh, fault);
    key_text_end(&key);
    if (status != OK || !fresh)
        return status;
    status = reduce_run(night, run, reduction, &refused, fault);
    *ending = refused ? RUN_REFUSED : RUN_REDUCED;
    return status;
}
