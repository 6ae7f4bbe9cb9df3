/* stated_points.c - see stated_points.h. */
#include "reduce/stated_points.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

const double stated_coverage = 0.95;

void stated_points_end(struct stated_points *points)
{
    for (size_t i = 0; i < points->n_points; i++)
        free(points->points[i].point);
    for (size_t i = 0; i < points->n_quantities; i++) {
        free(points->quantities[i].name);
        free(points->quantities[i].unit);
        free(points->quantities[i].values);
    }
    free(points->axes);
    free(points->points);
    free(points->places);
    free(points->quantities);
    memset(points, 0, sizeof *points);
}

static int has_axis(const struct stated_points *points, const char *channel)
{
    for (size_t i = 0; i < points->n_axes; i++)
        if (strcmp(points->axes[i].channel, channel) == 0)
            return 1;
    return 0;
}

static enum status make_axes(const struct campaign *campaign, struct stated_points *points,
                             struct fault *fault)
{
    void *array = NULL;
    enum status status =
        array_make(&array, campaign->repeats.n + ATTITUDE_COUNT, sizeof *points->axes, fault);
    points->axes = array;
    if (status != OK)
        return status;
    for (size_t i = 0; i < campaign->repeats.n; i++) {
        const struct repeat_match *match = &campaign->repeats.matches[i];
        points->axes[points->n_axes++] = (struct stated_axis){match->channel, match->tolerance, 1};
    }
    for (int i = 0; i < ATTITUDE_COUNT; i++) {
        const char *channel = role_name(attitude_axis_role((enum attitude_axis)i));
        double tolerance = campaign->attitudes.tolerance[i];
        if (tolerance > 0 && !has_axis(points, channel))
            points->axes[points->n_axes++] = (struct stated_axis){channel, tolerance, 0};
    }
    return OK;
}

static enum status add_point(const struct run_row *run, const char *label,
                             struct stated_points *points, struct fault *fault)
{
    void *array = points->points;
    void *places = points->places;
    size_t n = points->n_points;
    enum status status =
        array_reserve(&array, &points->points_capacity, n + 1, sizeof *points->points, fault);
    points->points = array;
    if (status == OK)
        status = array_reserve(&places, &points->places_capacity, (n + 1) * points->n_axes,
                               sizeof *points->places, fault);
    points->places = places;
    if (status != OK)
        return status;
    struct stated_point *point = &points->points[n];
    *point = (struct stated_point){run, NULL, n * points->n_axes};
    for (size_t i = 0; i < points->n_axes; i++)
        points->places[point->place + i] = (double)NAN;
    status = text_copy(label, &point->point, fault);
    points->n_points += status == OK;
    return status;
}

static enum status find_quantity(struct stated_points *points, const char *name, const char *unit,
                                 struct stated_quantity **found, struct fault *fault)
{
    for (size_t i = 0; i < points->n_quantities; i++) {
        *found = &points->quantities[i];
        if (strcmp((*found)->name, name) == 0 && strcmp((*found)->unit, unit) == 0)
            return OK;
    }
    void *array = points->quantities;
    enum status status = array_reserve(&array, &points->quantities_capacity,
                                       points->n_quantities + 1, sizeof **found, fault);
    points->quantities = array;
    if (status != OK)
        return status;
    *found = &points->quantities[points->n_quantities++];
    memset(*found, 0, sizeof **found);
    status = text_copy(name, &(*found)->name, fault);
    return status == OK ? text_copy(unit, &(*found)->unit, fault) : status;
}

static enum status add_value(struct stated_points *points, const char *name, const char *unit,
                             double mean, double stated, struct fault *fault)
{
    struct stated_quantity *quantity = NULL;
    enum status status = find_quantity(points, name, unit, &quantity, fault);
    if (status != OK)
        return status;
    void *array = quantity->values;
    status = array_reserve(&array, &quantity->capacity, quantity->n + 1, sizeof *quantity->values,
                           fault);
    quantity->values = array;
    if (status == OK)
        quantity->values[quantity->n++] = (struct stated_value){points->n_points - 1, mean, stated};
    return status;
}

/* Columns: point, column, role, unit, mean, stated. */
static enum status take_row(struct statement *row, const struct run_row *run,
                            struct stated_points *points, struct fault *fault)
{
    const char *label = statement_text(row, 0);
    const char *role = statement_text(row, 2);
    const char *name = role_from_name(role) == ROLE_OTHER ? statement_text(row, 1) : role;
    double mean = statement_real(row, 4);
    double stated = statement_real(row, 5);
    const struct stated_point *last =
        points->n_points > 0 ? &points->points[points->n_points - 1] : NULL;
    if (last == NULL || last->run != run || strcmp(last->point, label) != 0) {
        enum status status = add_point(run, label, points, fault);
        if (status != OK)
            return status;
    }
    for (size_t i = 0; i < points->n_axes; i++)
        if (strcmp(points->axes[i].channel, name) == 0)
            points->places[points->points[points->n_points - 1].place + i] = mean;
    if (isnan(mean) || isnan(stated))
        return OK;
    return add_value(points, name, statement_text(row, 3), mean, stated, fault);
}

static enum status read_run(const struct night *night, const struct run_row *run,
                            struct stated_points *points, struct fault *fault)
{
    static const char sql[] =
        "SELECT s.point, s.column_name, s.role, s.unit, s.mean, s.stated_uncertainty "
        "FROM channel_statistic AS s JOIN point AS p ON p.run = s.run AND p.point = s.point "
        "WHERE s.run = ?1 AND NOT EXISTS (SELECT 1 FROM point_coefficient AS c WHERE c.run = s.run "
        "AND c.point = s.point AND c.state IN ('failed', 'refused', 'excluded')) "
        "AND EXISTS (SELECT 1 FROM channel_statistic AS u WHERE u.run = s.run AND "
        "u.stated_uncertainty IS NOT NULL) ORDER BY p.sequence, s.position";
    const char *const texts[] = {run->run};
    struct statement *statement = NULL;
    int row = 0;
    enum status status = rows_open(night->store, sql, texts, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row)
        status = take_row(statement, run, points, fault);
    statement_free(statement);
    return status;
}

/* By start; of equal ones in the order of the sheet, of one array. */
static int is_before(const struct run_row *a, const struct run_row *b)
{
    return a->start != b->start ? a->start < b->start : a < b;
}

/* The run after last, NULL for the first; NULL when there is none. An entry has few runs. */
static const struct run_row *next_run(const struct run_row *const *runs, size_t n,
                                      const struct run_row *last)
{
    const struct run_row *next = NULL;
    for (size_t i = 0; i < n; i++)
        if ((last == NULL || is_before(last, runs[i])) &&
            (next == NULL || is_before(runs[i], next)))
            next = runs[i];
    return next;
}

enum status stated_points_read(const struct night *night, const struct run_row *const *runs,
                               size_t n, struct stated_points *points, struct fault *fault)
{
    memset(points, 0, sizeof *points);
    enum status status = make_axes(night->campaign, points, fault);
    const struct run_row *run = NULL;
    while (status == OK && (run = next_run(runs, n, run)) != NULL)
        status = read_run(night, run, points, fault);
    if (status != OK)
        stated_points_end(points);
    return status;
}
