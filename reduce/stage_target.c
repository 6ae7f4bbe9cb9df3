/* stage_target.c - the target stage of one configuration; see stage_target.h. */
#include "reduce/stage_target.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/flagging.h"
#include "reduce/physics/constants.h"
#include "reduce/point_rows.h"
#include "reduce/reductions.h"
#include "reduce/rows.h"
#include "reduce/target_carry.h"

static const char method_version[] = "local fit about the target, within its points v2";

static const char target_sql[] =
    "INSERT INTO target_result (reduction, run, point, target, method, is_used, drag_coefficient, "
    "side_coefficient, downforce_coefficient, downforce_front_coefficient, "
    "downforce_rear_coefficient, roll_coefficient, pitch_coefficient, yaw_coefficient, "
    "balance_percent, lift_to_drag, drag_area_m2, downforce_area_m2, drag_coefficient_u, "
    "side_coefficient_u, downforce_coefficient_u, downforce_front_coefficient_u, "
    "downforce_rear_coefficient_u, roll_coefficient_u, pitch_coefficient_u, yaw_coefficient_u, "
    "balance_percent_u, fit_degrees_of_freedom) VALUES "
    "(?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)";

/* One point as it goes into the store. */
struct target_row {
    const struct attained_point *point;
    const char *target, *method;
    int is_used;
    struct carried_value value;
};

struct target_work {
    const struct night *night;
    const struct run_group *group;
    const struct facility *facility;
    struct attained_list list;
    struct target_fits *fits; /* one a target, made when first needed */
    struct flagger flagger;
    struct statement *insert;
    int64_t reduction;
    const struct run_row *unlogged_run; /* last run flagged for a coordinate that was not logged */
};

static void add_attitudes(const struct attitudes *attitudes, struct key_text *key)
{
    key_text_numbers(key, "tolerance [m, rad]", attitudes->tolerance, ATTITUDE_COUNT);
    key_text_numbers(key, "cap [m, rad]", attitudes->cap, ATTITUDE_COUNT);
    key_text_numbers(key, "capture [m, rad]", attitudes->capture, ATTITUDE_COUNT);
    for (size_t i = 0; i < attitudes->n_targets; i++) {
        const struct target *target = &attitudes->targets[i];
        double coordinate[ATTITUDE_COUNT];
        for (int k = 0; k < ATTITUDE_COUNT; k++)
            coordinate[k] = target->given[k] ? target->coordinate[k] : (double)NAN;
        key_text_word(key, "target", target->name);
        key_text_numbers(key, "  coordinates [m, rad]", coordinate, ATTITUDE_COUNT);
    }
}

static enum status make_key(const struct target_work *work, struct key_text *key,
                            struct fault *fault)
{
    enum status status = OK;
    memset(key, 0, sizeof *key);
    key_text_word(key, "configuration", work->group->name);
    for (size_t i = 0; status == OK && i < work->group->n_runs; i++)
        status =
            reduction_key_add(work->night->store, "point", work->group->runs[i]->run, key, fault);
    add_attitudes(&work->night->campaign->attitudes, key);
    key_text_number(key, "reference area [m2]", work->night->campaign->car.reference_area);
    key_text_number(key, "to target", work->facility == NULL ? 0 : work->facility->to_target);
    key_text_word(key, "method to target", method_version);
    return status == OK ? key_text_status(key, fault) : status;
}

static enum status flag_point(struct target_work *work, enum flag_rule rule,
                              const struct attained_point *point, const char *subject,
                              const struct attitude_match *match, const char *detail,
                              struct fault *fault)
{
    struct flag_note note = flag_note_make(rule, point->run->run, point->point, subject);
    if (match != NULL && match->worst_axis >= 0) {
        note.value = match->offset[match->worst_axis];
        note.limit = work->night->campaign->attitudes.cap[match->worst_axis];
        note.unit = attitude_axis_unit((enum attitude_axis)match->worst_axis);
    }
    (void)snprintf(note.detail, sizeof note.detail, "%s", detail);
    return flagger_write(&work->flagger, &note, fault);
}

static enum status flag_off_target(struct target_work *work, const struct attained_point *point,
                                   const struct attitude_match *match, int by_tolerance,
                                   struct fault *fault)
{
    char detail[300];
    int axis = match->worst_axis;
    const struct attitudes *attitudes = &work->night->campaign->attitudes;
    /* In the units people set attitudes in: mm and degrees. */
    int is_length = strcmp(attitude_axis_unit((enum attitude_axis)axis), "m") == 0;
    double scale = is_length ? 1e3 : 180 / PI;
    const char *unit = is_length ? "mm" : "deg";
    (void)snprintf(
        detail, sizeof detail, "%s is %+.2f %s from target %s, %s %.4g %s",
        attitude_axis_words((enum attitude_axis)axis), scale * match->offset[axis], unit,
        match->target->name, by_tolerance ? "to_target is none and the tolerance is" : "cap",
        scale * (by_tolerance ? attitudes->tolerance[axis] : attitudes->cap[axis]), unit);
    return flag_point(work, FLAG_OFF_TARGET, point, match->target->name, match, detail, fault);
}

static enum status fits_of(struct target_work *work, const struct target *target,
                           const struct target_fits **fits, struct fault *fault)
{
    const struct attitudes *attitudes = &work->night->campaign->attitudes;
    struct target_fits *made = &work->fits[target - attitudes->targets];
    *fits = made;
    if (made->target != NULL)
        return OK;
    return target_fits_make(&work->list, attitudes, target, made, fault);
}

static enum status flag_beyond(struct target_work *work, const struct attained_point *point,
                               const struct attitude_match *match,
                               const struct carry_beyond *beyond, struct fault *fault)
{
    char detail[300];
    (void)snprintf(detail, sizeof detail,
                   "target %.80s lies outside the points that its fit rests on, in %s by %.2g of "
                   "their span; at most a tenth is carried",
                   match->target->name, attitude_axis_words((enum attitude_axis)beyond->axis),
                   beyond->share);
    return flag_point(work, FLAG_TARGET_REFUSED, point, match->target->name, match, detail, fault);
}

static enum status carry_point(struct target_work *work, const struct attitude_match *match,
                               struct target_row *row, struct fault *fault)
{
    const struct target_fits *fits = NULL;
    struct carried_value carried;
    char detail[300];
    enum status status = fits_of(work, match->target, &fits, fault);
    if (status != OK)
        return status;
    enum outcome outcome = target_carry(fits, row->point, match, &carried);
    struct carry_beyond beyond = target_carry_beyond(fits, row->point, match);
    if (outcome == OUTCOME_OK && beyond.axis >= 0)
        return flag_beyond(work, row->point, match, &beyond, fault);
    if (outcome == OUTCOME_OK) {
        row->method = "local fit";
        row->is_used = 1;
        row->value = carried;
        return OK;
    }
    (void)snprintf(detail, sizeof detail, "no local fit about target %.80s: %s",
                   match->target->name, outcome_sentence(outcome));
    return flag_point(work, FLAG_TARGET_REFUSED, row->point, match->target->name, match, detail,
                      fault);
}

/* Sets method, is_used and value of a point that belongs to a target; attained values at first. */
static enum status bring_to_target(struct target_work *work, const struct attitude_match *match,
                                   struct target_row *row, struct fault *fault)
{
    int may_carry = work->facility != NULL && work->facility->to_target == TARGET_LOCAL_FIT;
    double added = match->within_tolerance ? 0 : (double)NAN;
    memcpy(row->value.coefficient, row->point->value, sizeof row->value.coefficient);
    for (int i = 0; i < CARRIED_VALUES; i++)
        row->value.uncertainty[i] = isnan(row->point->value[i]) ? (double)NAN : added;
    row->value.degrees_of_freedom = (double)NAN;
    row->target = match->target->name;
    row->method = match->within_tolerance ? "at target" : "left at attained";
    row->is_used = match->within_tolerance;
    if (match->within_tolerance)
        return OK;
    if (!may_carry || !match->within_cap)
        return flag_off_target(work, row->point, match, !may_carry, fault);
    return carry_point(work, match, row, fault);
}

static enum status write_row(struct target_work *work, const struct target_row *row,
                             struct fault *fault)
{
    const char *const texts[] = {row->point->run->run, row->point->point, row->target, row->method};
    double reals[QUANTITY_COUNT + CARRIED_VALUES + 1];
    quantities_from_coefficients(row->value.coefficient, work->night->campaign->car.reference_area,
                                 reals);
    if (isnan(row->point->value[CARRIED_BALANCE]))
        reals[QUANTITY_BALANCE] = (double)NAN; /* undefined at the point, undefined at the target */
    memcpy(reals + QUANTITY_COUNT, row->value.uncertainty, sizeof row->value.uncertainty);
    reals[QUANTITY_COUNT + CARRIED_VALUES] = row->value.degrees_of_freedom;
    enum status status = statement_bind_integer(work->insert, 1, work->reduction, fault);
    for (int i = 0; status == OK && i < 4; i++)
        status = statement_bind_text(work->insert, i + 2, texts[i], fault);
    if (status == OK)
        status = statement_bind_integer(work->insert, 6, row->is_used, fault);
    for (size_t i = 0; status == OK && i < sizeof reals / sizeof reals[0]; i++)
        status = statement_bind_real(work->insert, (int)i + 7,
                                     isfinite(reals[i]) ? reals[i] : (double)NAN, fault);
    return status == OK ? statement_run(work->insert, fault) : status;
}

/* Once a run: every point of it lacks the same channels. */
static enum status flag_unlogged(struct target_work *work, const struct attained_point *point,
                                 const struct attitude_match *match, struct fault *fault)
{
    enum status status = OK;
    if (match->unlogged_axis < 0 || work->unlogged_run == point->run)
        return OK;
    work->unlogged_run = point->run;
    for (int i = 0; status == OK && i < ATTITUDE_COUNT; i++) {
        if (!match->target->given[i] || !isnan(point->attitude[i]))
            continue;
        const char *axis = attitude_axis_name((enum attitude_axis)i);
        struct flag_note note =
            flag_note_make(FLAG_ATTITUDE_NOT_MEASURED, point->run->run, "", axis);
        (void)snprintf(note.detail, sizeof note.detail,
                       "%s is named by the targets but was not logged: the attitude is taken as "
                       "set, and the run is compared as if it had been",
                       attitude_axis_words((enum attitude_axis)i));
        status = flagger_write(&work->flagger, &note, fault);
    }
    return status;
}

static enum status reduce_point(struct target_work *work, const struct attained_point *point,
                                struct fault *fault)
{
    struct target_row row;
    memset(&row, 0, sizeof row);
    row.point = point;
    struct attitude_match match =
        attitude_match(&work->night->campaign->attitudes, point->attitude);
    if (match.target == NULL)
        return flag_point(work, FLAG_NO_TARGET, point, "", NULL,
                          "no declared target is within capture of the attained attitude", fault);
    enum status status = flag_unlogged(work, point, &match, fault);
    if (status == OK)
        status = bring_to_target(work, &match, &row, fault);
    return status == OK ? write_row(work, &row, fault) : status;
}

static enum status reduce_points(struct target_work *work, struct fault *fault)
{
    void *array = NULL;
    struct store *store = work->night->store;
    enum status status =
        array_make(&array, work->night->campaign->attitudes.n_targets, sizeof *work->fits, fault);
    work->fits = array;
    if (status == OK)
        status = flagger_open(store, work->reduction, &work->flagger, fault);
    if (status == OK)
        status = statement_prepare(store, target_sql, &work->insert, fault);
    if (status == OK)
        status = attained_read(work->night, work->group, &work->list, fault);
    for (size_t i = 0; status == OK && i < work->list.n; i++)
        status = reduce_point(work, &work->list.points[i], fault);
    attained_end(&work->list);
    statement_free(work->insert);
    flagger_end(&work->flagger);
    free(work->fits);
    return status;
}

enum status stage_target(const struct night *night, const struct run_group *group, int *fresh,
                         struct fault *fault)
{
    struct key_text key;
    struct target_work work;
    memset(&work, 0, sizeof work);
    work.night = night;
    work.group = group;
    work.facility = campaign_facility(night->campaign, group->runs[0]->facility);
    *fresh = 0;
    enum status status = make_key(&work, &key, fault);
    if (status == OK)
        status = store_reduction(night->store, "target", group->subject, key.text, &work.reduction,
                                 fresh, fault);
    key_text_end(&key);
    if (status != OK || !*fresh)
        return status;
    return reduce_points(&work, fault);
}
