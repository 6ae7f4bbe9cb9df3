/* target_flags.c - flags of the target stage; see target_flags.h. */
#include "reduce/target_flags.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/decision_flags.h"
#include "reduce/decisions.h"
#include "reduce/physics/constants.h"

/* The amounts of a note: those of the offset, or of what a stall makes of the carry. */
static void put_amounts(const struct target_flagging *flagging, enum flag_rule rule,
                        const struct target_row *row, struct flag_note *note)
{
    const struct attitude_match *match = &row->match;
    if (rule == FLAG_NEAR_STALL) {
        note->value = fabs(row->stall.change);
        note->limit = row->stall.limit;
        note->unit = "1";
    } else if (match->target != NULL && match->worst_axis >= 0) {
        note->value = match->offset[match->worst_axis];
        note->limit = flagging->night->campaign->attitudes.cap[match->worst_axis];
        note->unit = attitude_axis_unit((enum attitude_axis)match->worst_axis);
    }
}

static enum status flag_point(struct target_flagging *flagging, enum flag_rule rule,
                              const struct target_row *row, const char *detail, struct fault *fault)
{
    const struct attitude_match *match = &row->match;
    const char *subject = match->target == NULL ? "" : match->target->name;
    struct flag_note note = flag_note_make(rule, row->point->run->run, row->point->point, subject);
    put_amounts(flagging, rule, row, &note);
    (void)snprintf(note.detail, sizeof note.detail, "%s", detail);
    return flagger_write(&flagging->flagger, &note, fault);
}

static enum status flag_off_target(struct target_flagging *flagging, const struct target_row *row,
                                   struct fault *fault)
{
    char detail[300];
    int axis = row->match.worst_axis;
    int by_tolerance = !flagging->may_carry;
    const struct attitudes *attitudes = &flagging->night->campaign->attitudes;
    /* In the units people set attitudes in: mm and degrees. */
    int is_length = strcmp(attitude_axis_unit((enum attitude_axis)axis), "m") == 0;
    double scale = is_length ? 1e3 : 180 / PI;
    const char *unit = is_length ? "mm" : "deg";
    (void)snprintf(
        detail, sizeof detail, "%s is %+.2f %s from target %s, %s %.4g %s",
        attitude_axis_words((enum attitude_axis)axis), scale * row->match.offset[axis], unit,
        row->match.target->name, by_tolerance ? "to_target is none and the tolerance is" : "cap",
        scale * (by_tolerance ? attitudes->tolerance[axis] : attitudes->cap[axis]), unit);
    return flag_point(flagging, FLAG_OFF_TARGET, row, detail, fault);
}

/* Why the point has no value at its target, as a sentence without its end. */
static void say_trouble(const struct target_row *row, char *out, size_t size)
{
    const char *name = row->match.target->name;
    if (row->trouble == TROUBLE_BEYOND)
        (void)snprintf(out, size,
                       "target %.80s lies outside the points that its fit rests on, in %s by %.2g "
                       "of their span; at most a tenth is carried",
                       name, attitude_axis_words((enum attitude_axis)row->beyond.axis),
                       row->beyond.share);
    else
        (void)snprintf(out, size, "no local fit about target %.80s: %s", name,
                       outcome_sentence(row->outcome));
}

/* A point that is left out anyway needs no word on slopes; one whose cap was lifted in vain has it from
 * the decision's flag. */
static enum status flag_trouble(struct target_flagging *flagging, const struct target_row *row,
                                struct fault *fault)
{
    char detail[300];
    if (row->trouble == TROUBLE_NONE || row->is_off || strcmp(row->reason, "target-refused") != 0)
        return OK;
    say_trouble(row, detail, sizeof detail);
    return flag_point(flagging, FLAG_TARGET_REFUSED, row, detail, fault);
}

static enum status flag_stall(struct target_flagging *flagging, const struct target_row *row,
                              struct fault *fault)
{
    char detail[300];
    if (row->stall.kind == STALL_NONE)
        return OK;
    target_stall_say(&row->stall, row->match.target->name, detail, sizeof detail);
    return flag_point(flagging, FLAG_NEAR_STALL, row, detail, fault);
}

/* Every point of a run lacks the same channels. */
static enum status flag_unlogged(struct target_flagging *flagging, const struct target_row *row,
                                 struct fault *fault)
{
    enum status status = OK;
    for (int i = 0; status == OK && i < ATTITUDE_COUNT; i++) {
        if (!row->match.target->given[i] || !isnan(row->point->attitude[i]))
            continue;
        const char *axis = attitude_axis_name((enum attitude_axis)i);
        struct flag_note note =
            flag_note_make(FLAG_ATTITUDE_NOT_MEASURED, row->point->run->run, "", axis);
        (void)snprintf(note.detail, sizeof note.detail,
                       "%s is named by the targets but was not logged: the attitude is taken as "
                       "set, and the run is compared as if it had been",
                       attitude_axis_words((enum attitude_axis)i));
        status = flagger_write(&flagging->flagger, &note, fault);
    }
    return status;
}

static enum status flag_restored_held(struct target_flagging *flagging,
                                      const struct target_row *row,
                                      const struct decision_row *decision, struct fault *fault)
{
    char reason[300];
    if (row->is_used)
        return decision_flag_restored(&flagging->flagger, decision, row->point->point,
                                      row->is_off ? "it is off target" : "a stall lies on its way",
                                      fault);
    if (flagging->may_carry)
        say_trouble(row, reason, sizeof reason);
    else
        (void)snprintf(reason, sizeof reason,
                       "to_target is none, so nothing brings it to target %.80s",
                       row->match.target->name);
    return decision_flag_idle(&flagging->flagger, decision, row->point->point, reason, fault);
}

/* What became of a decision to restore the point, where the point stage has not said so. */
static enum status flag_restore(struct target_flagging *flagging, const struct target_row *row,
                                struct fault *fault)
{
    const struct decision_list *list = &flagging->night->decisions;
    const char *run = row->point->run->run;
    if (row->point->decision != DECISION_RESTORE)
        return OK;
    if (target_row_is_held(row))
        return flag_restored_held(flagging, row, decision_for(list, run, row->point->point), fault);
    const struct decision_row *own = decision_on(list, run, row->point->point);
    const struct decision_row *whole = decision_on(list, run, "");
    int is_kept_in = whole != NULL && whole->decision == DECISION_EXCLUDE;
    if (own == NULL || is_kept_in || row->point->rules == POINT_FAILED)
        return OK;
    return decision_flag_idle(&flagging->flagger, own, row->point->point, "no rule failed it",
                              fault);
}

static enum status flag_row_of(struct target_flagging *flagging, const struct target_row *row,
                               const struct run_row **unlogged, struct fault *fault)
{
    enum status status = flag_restore(flagging, row, fault);
    if (status != OK)
        return status;
    if (row->match.target == NULL)
        return flag_point(flagging, FLAG_NO_TARGET, row,
                          "no declared target is within capture of the attained attitude", fault);
    if (row->match.unlogged_axis >= 0 && *unlogged != row->point->run) {
        *unlogged = row->point->run;
        status = flag_unlogged(flagging, row, fault);
    }
    if (status == OK && row->is_off)
        status = flag_off_target(flagging, row, fault);
    if (status == OK)
        status = flag_stall(flagging, row, fault);
    return status == OK ? flag_trouble(flagging, row, fault) : status;
}

/* A run is restored in vain when no point of it was failed. */
static enum status flag_restored_runs(struct target_flagging *flagging,
                                      const struct target_pass *pass, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < flagging->group->n_runs; i++) {
        const struct run_row *run = flagging->group->runs[i];
        const struct decision_row *whole = decision_on(&flagging->night->decisions, run->run, "");
        int has_failed = 0;
        if (whole == NULL || whole->decision != DECISION_RESTORE)
            continue;
        for (size_t k = 0; k < pass->n; k++)
            has_failed |=
                pass->rows[k].point->run == run &&
                (target_row_is_held(&pass->rows[k]) || pass->rows[k].point->rules == POINT_FAILED);
        if (!has_failed)
            status =
                decision_flag_idle(&flagging->flagger, whole, "",
                                   "no rule failed any of its points that has a number", fault);
    }
    return status;
}

enum status target_flags_write(struct target_flagging *flagging, const struct target_pass *pass,
                               struct fault *fault)
{
    const struct run_row *unlogged = NULL; /* last run flagged for a coordinate not logged */
    enum status status = OK;
    for (size_t i = 0; status == OK && i < pass->n; i++)
        status = flag_row_of(flagging, &pass->rows[i], &unlogged, fault);
    return status == OK ? flag_restored_runs(flagging, pass, fault) : status;
}
