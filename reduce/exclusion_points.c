/* exclusion_points.c - see exclusion_points.h. */
#include "reduce/exclusion_points.h"

#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

static const char differing_sql[] =
    "SELECT o.target, o.point, t.reason FROM reduction AS d "
    "JOIN target_other AS o ON o.reduction = d.reduction "
    "JOIN target_result AS t ON t.reduction = o.reduction AND t.run = o.run AND t.point = o.point "
    "JOIN point AS p ON p.run = o.run AND p.point = o.point "
    "WHERE d.stage = 'target' AND d.subject = ?1 AND d.is_current = 1 AND o.run = ?2 "
    "AND o.basis = ?3 AND o.is_used <> t.is_used ORDER BY p.sequence, o.point";

static size_t target_index(const struct attitudes *attitudes, const char *name)
{
    size_t i = 0;
    while (i < attitudes->n_targets && strcmp(attitudes->targets[i].name, name) != 0)
        i++;
    return i;
}

static enum status read_point(const struct night *night, const struct run_row *run,
                              struct statement *row, struct exclusion_point *point,
                              struct fault *fault)
{
    const char *target = statement_text(row, 0);
    point->target = target_index(&night->campaign->attitudes, target == NULL ? "" : target);
    enum status status = rows_text(row, 1, &point->point, fault);
    if (status == OK)
        status = rows_text(row, 2, &point->reason, fault);
    if (status == OK)
        point->decision = decision_for(&night->decisions, run->run, point->point);
    return status;
}

static enum status read_run(const struct night *night, const struct family *family, size_t run,
                            enum basis basis, struct exclusion_points *points, size_t *capacity,
                            struct fault *fault)
{
    const struct run_row *row_of = family->runs[run].run;
    struct statement *row = NULL;
    char *subject = NULL;
    int more = 0;
    enum status status = group_subject(row_of, row_of->configuration, &subject, fault);
    if (status == OK)
        status = rows_open(night->store, differing_sql,
                           (const char *const[]){subject, row_of->run, basis_name(basis)}, 3, &row,
                           fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        void *array = points->points;
        status = array_reserve(&array, capacity, points->n + 1, sizeof *points->points, fault);
        points->points = array;
        if (status != OK)
            break;
        struct exclusion_point *point = &points->points[points->n++];
        *point = (struct exclusion_point){.run = run};
        status = read_point(night, row_of, row, point, fault);
    }
    statement_free(row);
    free(subject);
    return status;
}

enum status exclusion_points_read(const struct night *night, const struct family *family,
                                  enum basis basis, struct exclusion_points *points,
                                  struct fault *fault)
{
    size_t capacity = 0;
    enum status status = OK;
    memset(points, 0, sizeof *points);
    for (size_t i = 0; status == OK && i < family->n_runs; i++)
        status = read_run(night, family, i, basis, points, &capacity, fault);
    if (status != OK)
        exclusion_points_end(points);
    return status;
}

void exclusion_points_end(struct exclusion_points *points)
{
    for (size_t i = 0; i < points->n; i++) {
        free(points->points[i].point);
        free(points->points[i].reason);
    }
    free(points->points);
    memset(points, 0, sizeof *points);
}

int exclusion_point_bears(const struct exclusion_point *point, const struct attitudes *attitudes,
                          size_t measure)
{
    if (measure < attitudes->n_targets)
        return point->target == measure;
    return point->target < attitudes->n_targets && attitudes->targets[point->target].weight > 0;
}
