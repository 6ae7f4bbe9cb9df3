/* sniff_rows.c - is a row a sample or a point, and how do the times go; see sniff.h. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "ingest/sniff.h"
#include "ingest/sniff_cell.h"
#include "ingest/sniff_patterns.h"
#include "ingest/sniff_points.h"

static int ascending(const void *left, const void *right)
{
    double a = *(const double *)left;
    double b = *(const double *)right;
    return (a > b) - (a < b);
}

/* Seconds in a unit of the time column: as written, as proposed, else seconds. */
static double time_factor(struct sniff *sniff, const struct sniff_column *column)
{
    struct unit_conversion conversion = {1, 0};
    const char *unit = column->unit != NULL ? column->unit : column->proposed_unit;
    if (column->role == ROLE_CLOCK || unit[0] == '\0' ||
        sniff_unit_fit(sniff->units, unit, "s", &conversion) != UNIT_FITS)
        return 1;
    return conversion.factor;
}

struct course {
    double *steps; /* of the rows, s */
    size_t n;
    double first, last;
};

/* The step to this row; the one over 1.5 medians are counted in a second pass. */
static void take_step(struct sniff_rows *rows, struct course *course, double step, size_t line,
                      int is_clock)
{
    static const double day = 86400; /* s */
    if (is_clock && step < -day / 2) {
        rows->n_wraps++;
        step += day;
    }
    rows->n_back += step < 0;
    rows->n_same += step == 0;
    if (step > rows->largest_gap) {
        rows->largest_gap = step;
        rows->largest_line = line + 1;
    }
    if (step > 0)
        course->steps[course->n++] = step;
}

static void read_times(struct sniff *sniff, struct course *course)
{
    size_t cell = sniff->rows.time_column;
    double factor = time_factor(sniff, &sniff->columns[cell]);
    double previous = NAN;
    for (size_t i = sniff->shape.first_data; i < sniff->text.n_lines; i++) {
        double value = 0;
        if (sniff_line_is_empty(sniff, i) || !sniff_cut(sniff, i, sniff->shape.delimiter) ||
            sniff->cells.n != sniff->shape.n)
            continue;
        enum sniff_kind kind =
            sniff_cell_kind(&sniff->cells.cells[cell], sniff->shape.decimal_mark, &value);
        if (kind != SNIFF_NUMBER && kind != SNIFF_CLOCK)
            continue;
        value *= factor;
        if (!isnan(previous))
            take_step(&sniff->rows, course, value - previous, i,
                      sniff->columns[cell].role == ROLE_CLOCK);
        else
            course->first = value;
        course->last = previous = value;
    }
}

static void judge_times(struct sniff_rows *rows, struct course *course)
{
    if (course->n == 0)
        return;
    qsort(course->steps, course->n, sizeof course->steps[0], ascending);
    rows->step = course->steps[course->n / 2];
    /* A clock of whole seconds repeats itself: then only the mean rate is known. */
    if (rows->n_same > course->n)
        rows->step = (course->last - course->first) / (double)(course->n + rows->n_same);
    if (rows->step > 0)
        rows->rate = 1 / rows->step;
    for (size_t i = 0; i < course->n && rows->n_same <= course->n; i++)
        rows->n_gaps += course->steps[i] > 1.5 * rows->step;
}

static void decide(struct sniff_rows *rows, enum map_rows kind, enum confidence confidence,
                   const char *why)
{
    rows->kind = kind;
    rows->confidence = confidence;
    rows->why = why;
}

static void judge_rows(struct sniff *sniff, int has_sd)
{
    enum { FEW = 500 };
    static const double slow = 2; /* s: no logger of loads samples as slowly */
    struct sniff_rows *rows = &sniff->rows;
    size_t point = sniff_find_role(sniff, ROLE_POINT, COLUMN_VALUE);
    size_t changes = point != SIZE_MAX ? sniff->columns[point].n_changes : 0;
    int is_slow = rows->step > slow;
    if (has_sd)
        decide(rows, ROWS_POINTS, CONFIDENCE_SURE, "columns of scatter: the rows are averages");
    else if (sniff_find_role(sniff, ROLE_RECORDING, COLUMN_VALUE) != SIZE_MAX)
        decide(rows, ROWS_SAMPLES, CONFIDENCE_LIKELY, "a flag says which rows are recorded");
    else if (point != SIZE_MAX && rows->n > 1 && changes + 1 == rows->n)
        decide(rows, ROWS_POINTS, CONFIDENCE_LIKELY, "the point's label changes in every row");
    else if (is_slow && changes + 1 < rows->n && rows->n < FEW)
        decide(rows, ROWS_POINTS, CONFIDENCE_GUESS, "the rows are seconds apart");
    else if (point == SIZE_MAX && isnan(rows->rate) && rows->n < FEW)
        decide(rows, ROWS_POINTS, CONFIDENCE_GUESS, "there is no time, and few rows");
    else
        decide(rows, ROWS_SAMPLES, isnan(rows->rate) ? CONFIDENCE_GUESS : CONFIDENCE_LIKELY,
               isnan(rows->rate) ? "many rows of one point, though without a time"
                                 : "the rows follow each other quickly");
    rows->point_by_row =
        rows->kind == ROWS_POINTS && (point == SIZE_MAX || changes == 0) && rows->n > 1;
    if (rows->kind == ROWS_POINTS && point == SIZE_MAX)
        rows->point_by_row = 1;
}

/* A label that never changes names no averaged rows. */
static void drop_dead_label(struct sniff *sniff)
{
    size_t point = sniff_find_role(sniff, ROLE_POINT, COLUMN_VALUE);
    static const char why[] = "named like a point, but it never changes; rows are numbered instead";
    if (!sniff->rows.point_by_row || point == SIZE_MAX)
        return;
    struct sniff_column *column = &sniff->columns[point];
    column->role = ROLE_COUNT;
    column->confidence = CONFIDENCE_NONE;
    for (size_t i = 0; i < sizeof why; i++)
        column->why[i] = why[i];
}

enum status sniff_find_rows(struct sniff *sniff, struct fault *fault)
{
    struct sniff_rows *rows = &sniff->rows;
    struct course course = {NULL, 0, 0, 0};
    int has_sd = 0;
    rows->rate = (double)NAN;
    rows->time_column = sniff_find_role(sniff, ROLE_TIME, COLUMN_VALUE);
    if (rows->time_column == SIZE_MAX)
        rows->time_column = sniff_find_role(sniff, ROLE_CLOCK, COLUMN_VALUE);
    if (rows->time_column != SIZE_MAX) {
        course.steps = malloc((rows->n + 1) * sizeof *course.steps);
        if (course.steps == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for the times of %zu rows", rows->n);
        read_times(sniff, &course);
        judge_times(rows, &course);
        free(course.steps);
    }
    for (size_t i = 0; i < sniff->shape.n; i++)
        has_sd = has_sd ||
                 (sniff->columns[i].role != ROLE_COUNT && sniff->columns[i].statistic == COLUMN_SD);
    judge_rows(sniff, has_sd);
    drop_dead_label(sniff);
    sniff_find_holds(sniff);
    rows->last_complete = rows->last_complete && sniff->text.terminated;
    return OK;
}
