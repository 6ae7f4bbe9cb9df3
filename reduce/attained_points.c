/* attained_points.c - reading reduced points back; see attained_points.h. */
#include "reduce/attained_points.h"

#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

static const char points_sql[] =
    "SELECT r.point, r.front_ride_height_m, r.rear_ride_height_m, r.yaw_rad, r.roll_rad, "
    "r.pitch_rad, r.steer_rad, r.drag_coefficient, r.side_coefficient, r.downforce_coefficient, "
    "r.downforce_front_coefficient, r.downforce_rear_coefficient, r.roll_coefficient, "
    "r.pitch_coefficient, r.yaw_coefficient, r.balance_percent, r.rule_state "
    "FROM reduction AS d JOIN point_result AS r ON r.reduction = d.reduction "
    "JOIN point AS p ON p.run = r.run AND p.point = r.point "
    "WHERE d.stage = 'point' AND d.subject = ?1 AND d.is_current = 1 "
    "AND r.rule_state <> 'refused' AND r.drag_coefficient IS NOT NULL "
    "AND r.downforce_coefficient IS NOT NULL ORDER BY p.sequence, r.point";

enum { RULES_AT = 1 + ATTITUDE_COUNT + CARRIED_VALUES }; /* column */

static enum status read_point(const struct night *night, struct statement *statement,
                              const struct run_row *run, int group, struct attained_point *point,
                              struct fault *fault)
{
    point->run = run;
    point->group = group;
    for (int i = 0; i < ATTITUDE_COUNT; i++)
        point->attitude[i] = statement_real(statement, 1 + i);
    for (int i = 0; i < CARRIED_VALUES; i++)
        point->value[i] = statement_real(statement, 1 + ATTITUDE_COUNT + i);
    point->rules = point_state_from_name(statement_text(statement, RULES_AT));
    enum status status = rows_text(statement, 0, &point->point, fault);
    if (status == OK)
        point->decision = decision_of(&night->decisions, run->run, point->point);
    return status;
}

static enum status read_run(const struct night *night, const struct run_row *run, int group,
                            struct attained_list *list, size_t *capacity, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status =
        rows_open(night->store, points_sql, (const char *const[]){run->run}, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        void *array = list->points;
        status = array_reserve(&array, capacity, list->n + 1, sizeof *list->points, fault);
        list->points = array;
        if (status != OK)
            break;
        struct attained_point *point = &list->points[list->n++];
        memset(point, 0, sizeof *point);
        status = read_point(night, statement, run, group, point, fault);
    }
    statement_free(statement);
    return status;
}

enum status attained_read(const struct night *night, const struct run_group *group,
                          struct attained_list *list, struct fault *fault)
{
    size_t capacity = 0;
    enum status status = OK;
    memset(list, 0, sizeof *list);
    for (size_t i = 0; status == OK && i < group->n_runs; i++)
        status = read_run(night, group->runs[i], (int)i, list, &capacity, fault);
    if (status != OK)
        attained_end(list);
    return status;
}

enum status attained_taking_part(const struct attained_list *list, enum basis basis,
                                 struct attained_list *part, struct fault *fault)
{
    void *array = NULL;
    enum status status = array_make(&array, list->n, sizeof *part->points, fault);
    *part = (struct attained_list){array, 0};
    for (size_t i = 0; status == OK && i < list->n; i++)
        if (point_takes_part(list->points[i].rules, list->points[i].decision, basis))
            part->points[part->n++] = list->points[i];
    return status;
}

void attained_drop(struct attained_list *list, const struct run_row *run)
{
    size_t kept = 0;
    for (size_t i = 0; i < list->n; i++) {
        if (list->points[i].run == run)
            free(list->points[i].point);
        else
            list->points[kept++] = list->points[i];
    }
    list->n = kept;
}

void attained_end(struct attained_list *list)
{
    for (size_t i = 0; i < list->n; i++)
        free(list->points[i].point);
    free(list->points);
    memset(list, 0, sizeof *list);
}
