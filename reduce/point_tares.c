/* point_tares.c - see point_tares.h. */
#include "reduce/point_tares.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The tare at the point's attitude; gives 0 when there is none, with the note filled. */
static int take_weight(const struct run_work *work, const struct point_row *point,
                       const double attitude[ATTITUDE_COUNT], struct tunnel_inputs *inputs,
                       double model[6], struct flag_note *note)
{
    int axis = -1;
    double miss = 0;
    for (int i = 0; i < 6; i++)
        model[i] = (double)NAN;
    if (work->tare.choice.kind == TARE_KIND_NONE)
        return 1;
    const double *tolerance = work->recipe.facility->tare_tolerance;
    struct tare_found tare;
    enum outcome outcome = tare_at(&work->tare, tolerance, attitude, &tare, &axis, &miss);
    if (outcome == OUTCOME_OK) {
        tare_apply(&tare, inputs);
        memcpy(model, tare.model, sizeof tare.model);
        return 1;
    }
    *note = flag_note_make(FLAG_TARE_NOT_AT_ATTITUDE, work->run->run, point->point, "");
    if (axis < 0 || outcome != OUTCOME_OUTSIDE) {
        (void)snprintf(note->detail, sizeof note->detail, "%s",
                       axis < 0 ? "the weight tare has no points" : outcome_sentence(outcome));
        return 0;
    }
    note->subject = attitude_axis_name((enum attitude_axis)axis);
    note->value = miss;
    note->limit = tolerance[axis];
    note->unit = attitude_axis_unit((enum attitude_axis)axis);
    const char *words = attitude_axis_words((enum attitude_axis)axis);
    if (isfinite(miss))
        (void)snprintf(
            note->detail, sizeof note->detail,
            "the nearest point of weight tare %.80s is %g %s away in %s, tolerance %g %s%s",
            work->tare.choice.run->run, miss, note->unit, words, note->limit, note->unit,
            work->tare.model.is_wanted ? "; the attitude is outside what the tare swept" : "");
    else
        (void)snprintf(note->detail, sizeof note->detail,
                       "the point or weight tare %.80s has no %s, by which tares are looked up",
                       work->tare.choice.run->run, words);
    return 0;
}

static int take_belt(const struct run_work *work, const struct point_row *point,
                     const double attitude[ATTITUDE_COUNT], struct tunnel_inputs *inputs,
                     struct flag_note *note)
{
    const struct facility *facility = work->recipe.facility;
    double speed = run_data_mean(&work->data, point, ROLE_BELT_SPEED);
    if (work->belt.kind == TARE_KIND_NONE || fabs(speed) <= facility->belt_tolerance)
        return 1;
    const struct belt_point *belt = belt_tare_at(&work->belt, facility, attitude, speed);
    if (belt != NULL) {
        memcpy(inputs->belt_tare, belt->load, sizeof inputs->belt_tare);
        return 1;
    }
    *note = flag_note_make(FLAG_BELT_TARE_MISSING, work->run->run, point->point, "belt_speed");
    note->value = speed;
    note->limit = facility->belt_tolerance;
    note->unit = "m/s";
    if (work->belt.kind == TARE_KIND_MISSING) /* also without a run to name */
        (void)snprintf(note->detail, sizeof note->detail, "%s", work->belt.missing);
    else if (isnan(speed))
        (void)snprintf(note->detail, sizeof note->detail, "the belt's speed has no samples");
    else
        (void)snprintf(note->detail, sizeof note->detail,
                       "belt tare %.80s has no point with loads within %g m/s of %.3f m/s at this "
                       "attitude",
                       work->belt.run->run, facility->belt_tolerance, speed);
    return 0;
}

static int take_table(const struct run_work *work, const struct point_row *point,
                      const double attitude[ATTITUDE_COUNT], enum table_kind kind, double *into,
                      struct flag_note *note)
{
    const struct support_table *table = &work->tables[kind];
    int axis = -1;
    enum outcome outcome =
        support_table_at(table, work->recipe.facility->tare_tolerance, attitude, into, &axis);
    if (outcome == OUTCOME_OK)
        return 1;
    const char *words = axis < 0 ? "" : attitude_axis_words((enum attitude_axis)axis);
    *note = flag_note_make(FLAG_OUTSIDE_TABLE, work->run->run, point->point, table_kind_name(kind));
    if (axis >= 0) {
        note->value = attitude[axis];
        note->unit = attitude_axis_unit((enum attitude_axis)axis);
    }
    if (outcome != OUTCOME_OUTSIDE || axis < 0)
        (void)snprintf(note->detail, sizeof note->detail, "the table of %s: %s",
                       table_kind_name(kind),
                       outcome == OUTCOME_OUTSIDE ? "it holds no rows" : outcome_sentence(outcome));
    else if (isnan(note->value))
        (void)snprintf(note->detail, sizeof note->detail,
                       "the table of %s goes by the %s, which the point does not have",
                       table_kind_name(kind), words);
    else
        (void)snprintf(note->detail, sizeof note->detail,
                       "the table of %s does not reach the point's attitude, %s %g %s",
                       table_kind_name(kind), words, note->value, note->unit);
    return 0;
}

int point_tares(const struct run_work *work, const struct point_row *point,
                const double attitude[ATTITUDE_COUNT], struct tunnel_inputs *inputs,
                double model[6], struct flag_note *note)
{
    struct flag_note unread = flag_note_make(FLAG_TARE_NOT_AT_ATTITUDE, "", "", "");
    double unused[6];
    struct flag_note *told = note != NULL ? note : &unread;
    return take_weight(work, point, attitude, inputs, model != NULL ? model : unused, told) &&
           take_belt(work, point, attitude, inputs, told) &&
           take_table(work, point, attitude, TABLE_SUPPORT, inputs->support, told) &&
           take_table(work, point, attitude, TABLE_INTERFERENCE, inputs->interference, told);
}

enum status belt_tare_flags(const struct run_work *work, struct flagger *flagger,
                            struct fault *fault)
{
    if (work->belt.kind == TARE_KIND_NONE)
        return OK;
    int is_missing = work->belt.kind == TARE_KIND_MISSING;
    struct flag_note note =
        flag_note_make(is_missing ? FLAG_BELT_TARE_MISSING : FLAG_BELT_WHEEL_LOAD, work->run->run,
                       "", is_missing ? "" : work->belt.run->run);
    if (is_missing)
        (void)snprintf(note.detail, sizeof note.detail, "%s", work->belt.missing);
    else
        (void)snprintf(note.detail, sizeof note.detail,
                       "belt tare %.80s has %zu points; the wheels rolled under the car's weight "
                       "alone",
                       work->belt.run->run, work->belt.n_points);
    return flagger_write(flagger, &note, fault);
}
