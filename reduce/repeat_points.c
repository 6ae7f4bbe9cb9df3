/* repeat_points.c - see repeat_points.h. */
#include "reduce/repeat_points.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/point_rows.h"
#include "reduce/rows.h"

static const double SAME_WIND = 0.02;

/* All points of a run, those without a target or a number too: they too were flown. */
static const char points_sql[] =
    "SELECT coalesce(t.target, ''), coalesce(t.is_used, 0), s.dynamic_pressure_pa, "
    "t.drag_coefficient, t.side_coefficient, t.downforce_coefficient, "
    "t.downforce_front_coefficient, t.downforce_rear_coefficient, t.roll_coefficient, "
    "t.pitch_coefficient, t.yaw_coefficient, t.balance_percent, t.lift_to_drag "
    "FROM point AS p "
    "LEFT JOIN (SELECT x.* FROM reduction AS d JOIN target_result AS x ON x.reduction = "
    "d.reduction "
    "AND x.run = ?2 WHERE d.stage = 'target' AND d.subject = ?1 AND d.is_current = 1) AS t "
    "ON t.point = p.point "
    "LEFT JOIN (SELECT x.* FROM reduction AS d JOIN point_result AS x ON x.reduction = d.reduction "
    "AND x.run = ?2 WHERE d.stage = 'point' AND d.subject = ?2 AND d.is_current = 1) AS s "
    "ON s.point = p.point "
    "WHERE p.run = ?2 ORDER BY p.sequence, p.point";

enum { WIND_AT = 2, COEFFICIENTS_AT = 3, BALANCE_AT = COEFFICIENTS_AT + COEFFICIENTS, RATIO_AT };

/* What the last point of a run was, to know whether anything was touched since. */
struct visit {
    size_t target;
    double wind;
    size_t number;
};

static int is_same_wind(double wind, double other)
{
    return fabs(wind - other) <= SAME_WIND * fabs(other);
}

static void go_on(struct visit *visit, size_t target, double wind)
{
    if (target == visit->target && is_same_wind(wind, visit->wind))
        return;
    *visit = (struct visit){target, wind, visit->number + 1};
}

static size_t find_target(const struct attitudes *attitudes, const char *name)
{
    size_t i = 0;
    while (i < attitudes->n_targets &&
           (name == NULL || strcmp(attitudes->targets[i].name, name) != 0))
        i++;
    return i;
}

static enum status find_group(struct repeat_points *points, const struct family_run *run,
                              double wind, size_t *group, struct fault *fault)
{
    void *array = points->groups;
    for (*group = 0; *group < points->n_groups; ++*group) {
        const struct repeat_group *known = &points->groups[*group];
        if (known->configuration == run->configuration && known->mounting == run->mounting &&
            is_same_wind(wind, known->dynamic_pressure))
            return OK;
    }
    enum status status = array_reserve(&array, &points->group_capacity, points->n_groups + 1,
                                       sizeof *points->groups, fault);
    points->groups = array;
    if (status == OK)
        points->groups[points->n_groups++] =
            (struct repeat_group){run->configuration, run->mounting, wind};
    return status;
}

static void read_values(struct statement *statement, double area, double *value)
{
    double coefficient[COEFFICIENTS];
    for (int i = 0; i < COEFFICIENTS; i++)
        coefficient[i] = statement_real(statement, COEFFICIENTS_AT + i);
    quantities_from_coefficients(coefficient, area, value);
    if (isnan(statement_real(statement, BALANCE_AT)))
        value[QUANTITY_BALANCE] = (double)NAN;
    if (isnan(statement_real(statement, RATIO_AT)))
        value[QUANTITY_LD] = (double)NAN;
}

static enum status add_point(struct repeat_points *points, const struct family *family, size_t run,
                             const struct visit *visit, struct repeat_point **added,
                             struct fault *fault)
{
    void *array = points->points;
    size_t group = 0;
    enum status status =
        array_reserve(&array, &points->capacity, points->n + 1, sizeof *points->points, fault);
    points->points = array;
    if (status == OK)
        status = find_group(points, &family->runs[run], visit->wind, &group, fault);
    if (status != OK)
        return status;
    *added = &points->points[points->n++];
    **added = (struct repeat_point){run, visit->target, visit->number, group, {0}};
    return OK;
}

/* The mean wind of a run's points says with which other runs its weighted value is compared. */
static enum status read_run(const struct night *night, const struct family *family, size_t run,
                            struct repeat_points *points, struct visit *visit, struct fault *fault)
{
    const struct attitudes *attitudes = &night->campaign->attitudes;
    const struct run_row *row = family->runs[run].run;
    struct statement *statement = NULL;
    char *subject = NULL;
    double wind = 0;
    size_t used = 0;
    int has_row = 0;
    *visit = (struct visit){attitudes->n_targets, (double)NAN, visit->number + 1};
    enum status status = group_subject(row, row->configuration, &subject, fault);
    if (status == OK)
        status = rows_open(night->store, points_sql, (const char *const[]){subject, row->run}, 2,
                           &statement, fault);
    while (status == OK && (status = statement_step(statement, &has_row, fault)) == OK && has_row) {
        struct repeat_point *point = NULL;
        size_t target = find_target(attitudes, statement_text(statement, 0));
        go_on(visit, target, statement_real(statement, WIND_AT));
        if (target == attitudes->n_targets || !statement_integer(statement, 1) ||
            !isfinite(family->runs[run].time[target]) || !isfinite(visit->wind))
            continue;
        status = add_point(points, family, run, visit, &point, fault);
        if (status != OK)
            break;
        read_values(statement, night->campaign->car.reference_area, point->value);
        wind += visit->wind;
        used++;
    }
    if (status == OK && used > 0)
        status = find_group(points, &family->runs[run], wind / (double)used,
                            &points->run_group[run], fault);
    statement_free(statement);
    free(subject);
    return status;
}

enum status repeat_points_read(const struct night *night, const struct family *family,
                               struct repeat_points *points, struct fault *fault)
{
    struct visit visit = {0, (double)NAN, 0};
    void *array = NULL;
    memset(points, 0, sizeof *points);
    enum status status = array_make(&array, family->n_runs, sizeof *points->run_group, fault);
    points->run_group = array;
    for (size_t i = 0; status == OK && i < family->n_runs; i++) {
        points->run_group[i] = SIZE_MAX;
        status = read_run(night, family, i, points, &visit, fault);
    }
    if (status != OK)
        repeat_points_end(points);
    return status;
}

void repeat_points_end(struct repeat_points *points)
{
    free(points->points);
    free(points->groups);
    free(points->run_group);
    memset(points, 0, sizeof *points);
}
