/* sniff_points.c - see sniff_points.h. */
#include "ingest/sniff_points.h"

#include <math.h>
#include <stdint.h>

#include "ingest/sniff_cell.h"
#include "ingest/sniff_patterns.h"

static void drop(struct sniff_column *column, const char *why, const char *beside)
{
    column->role = ROLE_COUNT;
    column->confidence = CONFIDENCE_NONE;
    (void)snprintf(column->why, sizeof column->why, "%s%s%.60s%s", why, beside != NULL ? " '" : "",
                   beside != NULL ? beside : "", beside != NULL ? "'" : "");
}

void sniff_settle_points(struct sniff *sniff)
{
    size_t point = sniff_find_role(sniff, ROLE_POINT, COLUMN_VALUE);
    size_t flag = sniff_find_role(sniff, ROLE_RECORDING, COLUMN_VALUE);
    if (point == SIZE_MAX || flag == SIZE_MAX)
        return;
    struct sniff_column *labels = &sniff->columns[point];
    struct sniff_column *recording = &sniff->columns[flag];
    if (labels->confidence >= recording->confidence)
        drop(recording, "a recording flag; a map takes that or labels, and the labels are in",
             labels->name);
    else
        drop(labels, "may be labels; a map takes those or a recording flag, and the flag is",
             recording->name);
}

/* Written in every k-th row, k > 1, but for a tenth of the times. */
static int has_regular_blanks(const struct sniff_column *column)
{
    return column->n_empty > 0 && column->n_numbers >= 4 && column->n_other == 0 &&
           column->spacing >= 2 && 10 * column->n_spaced >= 9 * (column->n_numbers - 1);
}

void sniff_find_holds(struct sniff *sniff)
{
    int is_samples = sniff->rows.kind == ROWS_SAMPLES;
    for (size_t i = 0; i < sniff->shape.n; i++) {
        struct sniff_column *column = &sniff->columns[i];
        if (!is_samples && column->role == ROLE_RECORDING)
            drop(column, "a recording flag, but the rows are averages", NULL);
        if (is_samples && role_is_channel(column->role) && column->statistic == COLUMN_VALUE &&
            has_regular_blanks(column))
            column->hold = HOLD_BLANK;
    }
}

int sniff_lacks_points(const struct sniff *sniff)
{
    return sniff->rows.kind == ROWS_SAMPLES &&
           sniff_find_role(sniff, ROLE_POINT, COLUMN_VALUE) == SIZE_MAX &&
           sniff_find_role(sniff, ROLE_RECORDING, COLUMN_VALUE) == SIZE_MAX;
}

int sniff_empty_is_missing(const struct sniff *sniff)
{
    for (size_t i = 0; i < sniff->shape.n; i++)
        if (sniff->columns[i].n_empty > 0 && sniff->columns[i].hold == HOLD_NONE)
            return 1;
    return 0;
}

static int is_length(enum attitude_axis axis)
{
    return axis == ATTITUDE_FRONT_RIDE_HEIGHT || axis == ATTITUDE_REAR_RIDE_HEIGHT;
}

/* Windows of the proposed width that the column passes; -1 when it cannot be told. */
static double windows_passed(struct units *units, const struct sniff_column *column,
                             enum attitude_axis axis)
{
    const double width = is_length(axis) ? 0.0005 : 0.0017; /* m, rad: 0.5 mm, 0.1 deg */
    const char *unit = column->unit != NULL ? column->unit : column->proposed_unit;
    struct unit_conversion conversion = {1, 0};
    if (sniff_unit_fit(units, unit, attitude_axis_unit(axis), &conversion) != UNIT_FITS)
        return -1;
    return fabs(conversion.factor) * (column->max - column->min) / width;
}

/* The attitude that moves most; the front ride height when none is known. */
static enum attitude_axis find_mover(const struct sniff *sniff)
{
    enum attitude_axis mover = ATTITUDE_FRONT_RIDE_HEIGHT;
    double most = -2;
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++) {
        size_t at =
            sniff_find_role(sniff, attitude_axis_role((enum attitude_axis)axis), COLUMN_VALUE);
        if (at == SIZE_MAX)
            continue;
        double passed = windows_passed(sniff->units, &sniff->columns[at], (enum attitude_axis)axis);
        if (passed > most) {
            most = passed;
            mover = (enum attitude_axis)axis;
        }
    }
    return mover;
}

void sniff_print_sweep(const struct sniff *sniff, FILE *out)
{
    enum attitude_axis axis = find_mover(sniff);
    int is_mapped = sniff_find_role(sniff, attitude_axis_role(axis), COLUMN_VALUE) != SIZE_MAX;
    (void)fprintf(
        out,
        "    # No column says which rows are a point. If points are the stretches that stay "
        "at one\n    # attitude, take the sign off and choose all four numbers%s:\n"
        "    # sweep: {of: %s, window: %s, settle: 0.5 s, least_rows: 20}\n",
        is_mapped ? "" : "; the coordinate needs a column", attitude_axis_name(axis),
        is_length(axis) ? "0.5 mm" : "0.1 deg");
}
