/* glance_strip.c - the record strip: what is beyond its limit, by channel or rule, and point.
 *
 * Rows are the channels that the numbers need, then what rules say of the point as a whole, then the
 * two limits of the main metric. A cell holds the worst ratio of value to limit; taps have a picture of
 * their own in the night's page and none here.                                                     */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/glance_parts.h"
#include "reduce/glance_verdict.h"

static int is_attitude_needed(const struct glance_work *work, enum attitude_axis axis)
{
    const struct attitudes *attitudes = &work->run.night->campaign->attitudes;
    const struct facility *facility = work->run.recipe.facility;
    if (facility != NULL && facility->tare_tolerance[axis] > 0)
        return 1;
    for (size_t i = 0; i < attitudes->n_targets; i++)
        if (attitudes->targets[i].given[axis])
            return 1;
    return 0;
}

static int is_needed(const struct glance_work *work, enum role role)
{
    enum role first = recipe_first_role(work->run.recipe.tunnel.source);
    int loads = work->run.recipe.tunnel.source == LOADS_AS_COEFFICIENTS ? COEFFICIENTS : 6;
    if (role >= first && (int)role < (int)first + loads)
        return 1;
    if (role >= ROLE_TOTAL_PRESSURE && role <= ROLE_RELATIVE_HUMIDITY)
        return 1;
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++)
        if (attitude_axis_role((enum attitude_axis)axis) == role)
            return is_attitude_needed(work, (enum attitude_axis)axis);
    return 0;
}

/* The row of this name, added when it is new; glance->n_rows without memory. */
static enum status row_named(struct glance *glance, const char *name, size_t *row,
                             struct fault *fault)
{
    void *items = glance->rows;
    for (*row = 0; *row < glance->n_rows; (*row)++)
        if (strcmp(glance->rows[*row], name) == 0)
            return OK;
    const char **added =
        glance_add(&items, &glance->n_rows, &glance->rows_capacity, sizeof *added, fault);
    if (added == NULL)
        return NO_MEMORY;
    glance->rows = items;
    *added = "";
    return glance_keep(glance, name, added, fault);
}

/* One mark a cell, the worst; the state is the worst of all. */
static enum status mark(struct glance *glance, const struct glance_mark *wanted,
                        struct fault *fault)
{
    for (size_t i = 0; i < glance->n_marks; i++) {
        struct glance_mark *there = &glance->marks[i];
        if (there->row != wanted->row || there->point != wanted->point)
            continue;
        if (wanted->state > there->state || isnan(there->ratio) || wanted->ratio > there->ratio)
            *there = *wanted;
        return OK;
    }
    void *items = glance->marks;
    struct glance_mark *added =
        glance_add(&items, &glance->n_marks, &glance->marks_capacity, sizeof *added, fault);
    if (added == NULL)
        return NO_MEMORY;
    glance->marks = items;
    *added = *wanted;
    return OK;
}

static int is_channel(const struct glance_work *work, const char *subject)
{
    for (size_t i = 0; i < work->run.data.n_channels; i++)
        if (work->run.data.channels[i].role != ROLE_TAP &&
            strcmp(work->run.data.channels[i].column, subject) == 0)
            return 1;
    return 0;
}

/* The row a flag belongs to; NULL when the strip has none for it. */
static const char *row_of(const struct glance_work *work, const struct glance_flag *flag)
{
    if (flag->state == FLAG_INFO || flag->is_of_taps)
        return NULL;
    if (flag->rule == FLAG_ZERO_DRIFT)
        return GLANCE_DRIFT_ROW;
    if (flag->rule == FLAG_OFF_TARGET)
        return "attitude";
    if (flag->rule == FLAG_TARGET_REFUSED || flag->rule == FLAG_NEAR_STALL)
        return "slope to the target";
    if (is_channel(work, flag->subject))
        return flag->subject;
    if (flag->point == GLANCE_WHOLE_RUN || flag->rule == FLAG_STANDARD_ERROR)
        return NULL; /* that one has a row of its own, add_limit() */
    return flag->subject[0] != '\0' ? flag->subject : flag_row(flag->rule)->code;
}

static enum status add_flag(struct glance_work *work, const struct glance_flag *flag,
                            struct fault *fault)
{
    const char *name = row_of(work, flag);
    if (name == NULL)
        return OK;
    struct glance_mark wanted = {0, flag->point, glance_ratio(flag->value, flag->limit),
                                 flag->state, flag_row(flag->rule)->code};
    enum status status = row_named(work->glance, name, &wanted.row, fault);
    return status == OK ? mark(work->glance, &wanted, fault) : status;
}

/* One of the two limits of the main metric: a row, and a mark where a point is beyond it. */
static enum status add_limit(struct glance *glance, int is_trend, struct fault *fault)
{
    char name[80];
    struct glance_mark wanted = {0, 0, 0, FLAG_FLAGGED, is_trend ? "trend" : "standard-error"};
    (void)snprintf(name, sizeof name, "%s of %s", is_trend ? "trend" : "standard error",
                   quantity_row(glance->metrics[0].quantity)->symbol);
    enum status status = row_named(glance, name, &wanted.row, fault);
    for (size_t i = 0; status == OK && i < glance->n_points; i++) {
        wanted.point = (int)i;
        wanted.ratio = is_trend ? glance_trend_share(glance, &glance->points[i])
                                : glance_uncertainty_share(glance, &glance->points[i]);
        if (wanted.ratio > 1)
            status = mark(glance, &wanted, fault);
    }
    return status;
}

enum status glance_strip(struct glance_work *work, struct fault *fault)
{
    struct glance *glance = work->glance;
    enum status status = OK;
    size_t row = 0;
    for (size_t i = 0; status == OK && i < work->run.data.n_channels; i++)
        if (is_needed(work, work->run.data.channels[i].role))
            status = row_named(glance, work->run.data.channels[i].column, &row, fault);
    if (status == OK && (glance->zero.before[0] != '\0' || glance->zero.after[0] != '\0'))
        status = row_named(glance, GLANCE_DRIFT_ROW, &row, fault);
    for (size_t i = 0; status == OK && i < glance->n_flags; i++)
        status = add_flag(work, &glance->flags[i], fault);
    for (int is_trend = 0; status == OK && is_trend < 2 && glance->n_metrics > 0; is_trend++)
        status = add_limit(glance, is_trend, fault);
    return status;
}
