/* explain_point.c - which point of a run is meant; see explain.h. */
#include <stdio.h>
#include <string.h>

#include "reduce/explain.h"
#include "reduce/rows.h"

enum { POINTS_NAMED = 8 };

static const char target_sql[] =
    "SELECT t.point FROM target_result AS t JOIN reduction AS d ON d.reduction = t.reduction AND "
    "d.is_current = 1 JOIN point AS p ON p.run = t.run AND p.point = t.point "
    "WHERE t.run = ?1 AND t.target = ?2 ORDER BY p.sequence";

/* "1, 2, 3 and 21 more" of the run's points. */
static void list_points(const struct run_data *data, char *out, size_t size)
{
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < data->n_points && i < POINTS_NAMED && used < size; i++)
        used += (size_t)snprintf(out + used, size - used, "%s%.40s", i > 0 ? ", " : "",
                                 data->points[i].point);
    if (data->n_points > POINTS_NAMED && used < size)
        (void)snprintf(out + used, size - used, " and %zu more",
                       data->n_points - (size_t)POINTS_NAMED);
}

static enum status refuse_many(const char *run, const char *target, const char *first,
                               const char *second, struct fault *fault)
{
    return FAIL(fault, NOT_FOUND,
                "run %s was at target '%s' more than once, as point %s, %s ...; name the point",
                run, target, first, second);
}

/* The one point of the run at a target; explanation->point stays NULL when there is none. */
static enum status find_at_target(struct explanation *explanation, const char *target,
                                  struct fault *fault)
{
    const char *const texts[] = {explanation->work.run->run, target};
    struct statement *row = NULL;
    int more = 0;
    enum status status =
        rows_open(explanation->work.night->store, target_sql, texts, 2, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        const char *name = statement_text(row, 0);
        if (explanation->point != NULL)
            status = refuse_many(texts[0], target, explanation->point->point, name, fault);
        else
            explanation->point = run_data_point(&explanation->work.data, name);
    }
    statement_free(row);
    return status;
}

enum status explain_find_point(struct explanation *explanation, const char *name,
                               struct fault *fault)
{
    const struct run_row *run = explanation->work.run;
    char points[400];
    explanation->point = run_data_point(&explanation->work.data, name);
    if (explanation->point != NULL)
        return OK;
    enum status status = find_at_target(explanation, name, fault);
    if (status != OK || explanation->point != NULL)
        return status;
    list_points(&explanation->work.data, points, sizeof points);
    return FAIL(fault, NOT_FOUND,
                "run %s has no point '%s' and none at a target of that name; its points are %s",
                run->run, name, points[0] == '\0' ? "none" : points);
}
