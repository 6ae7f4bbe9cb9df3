/* break_screen.c - see break_screen.h. */
#include "reduce/statistics/break_screen.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double SAME_PLACE = 0.02; /* of an axis' scale */
static const double RANK_LIMIT = 1e-7; /* of a column's length: less is rounding */

struct work {
    const struct local_points *points;
    size_t axis;
    size_t *run;   /* n: number of the point's run, 0 .. runs - 1 */
    double *mean;  /* at most n: of a column, run by run */
    double *count; /* at most n: points of the run */
    size_t runs;
    double
        *basis; /* at most 2 axes columns of n: orthonormal, the terms without the runs' levels */
    size_t terms;
    double *residual, *column, *sorted; /* n */
};

static void work_free(struct work *work)
{
    free(work->run);
    free(work->mean);
    free(work->count);
    free(work->basis);
    free(work->residual);
    free(work->column);
    free(work->sorted);
}

static enum outcome work_allocate(struct work *work)
{
    size_t n = work->points->n;

    work->run = calloc(n + 1, sizeof *work->run);
    work->mean = calloc(n + 1, sizeof *work->mean);
    work->count = calloc(n + 1, sizeof *work->count);
    work->basis = calloc(2 * work->points->axes * n + 1, sizeof *work->basis);
    work->residual = calloc(n + 1, sizeof *work->residual);
    work->column = calloc(n + 1, sizeof *work->column);
    work->sorted = calloc(n + 1, sizeof *work->sorted);
    return work->run != NULL && work->mean != NULL && work->count != NULL && work->basis != NULL &&
                   work->residual != NULL && work->column != NULL && work->sorted != NULL
               ? OUTCOME_OK
               : OUTCOME_NO_MEMORY;
}

static void number_runs(struct work *work)
{
    const int *group = work->points->group;

    for (size_t i = 0; i < work->points->n; i++) {
        size_t j = 0;
        while (group[j] != group[i])
            j++;
        work->run[i] = j < i ? work->run[j] : work->runs++;
        work->count[work->run[i]]++;
    }
}

static double dot(const double *a, const double *b, size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
}

/* Takes the runs' levels and the terms out of a column; gives the length that is left, 0 for rounding. */
static double take_out(const struct work *work, double *column)
{
    size_t n = work->points->n;
    double whole = sqrt(dot(column, column, n));

    memset(work->mean, 0, work->runs * sizeof *work->mean);
    for (size_t i = 0; i < n; i++)
        work->mean[work->run[i]] += column[i] / work->count[work->run[i]];
    for (size_t i = 0; i < n; i++)
        column[i] -= work->mean[work->run[i]];
    for (size_t t = 0; t < work->terms; t++) {
        const double *basis = &work->basis[t * n];
        double share = dot(column, basis, n);
        for (size_t i = 0; i < n; i++)
            column[i] -= share * basis[i];
    }
    double left = sqrt(dot(column, column, n));
    return left > RANK_LIMIT * whole ? left : 0;
}

static void make_basis(struct work *work)
{
    const struct local_points *points = work->points;
    size_t n = points->n;

    for (size_t a = 0; a < points->axes; a++)
        for (int is_square = 0; is_square <= 1; is_square++) {
            double *column = &work->basis[work->terms * n];
            for (size_t i = 0; i < n; i++) {
                double x = points->coordinate[i * points->axes + a] / points->scale[a];
                column[i] = is_square ? x * x : x;
            }
            double length = take_out(work, column);
            for (size_t i = 0; i < n && length > 0; i++)
                column[i] /= length;
            work->terms += length > 0;
        }
}

static int compare_values(const void *a, const void *b)
{
    double one = *(const double *)a;
    double other = *(const double *)b;

    return (one > other) - (one < other);
}

double break_side(double x, double place)
{
    return place >= 0 ? x > place : x < place;
}

static void try_place(const struct work *work, double place, double *most,
                      struct break_screen *screen)
{
    const struct local_points *points = work->points;

    for (size_t i = 0; i < points->n; i++)
        work->column[i] = break_side(points->coordinate[i * points->axes + work->axis], place);
    double length = take_out(work, work->column);
    double share = length > 0 ? fabs(dot(work->column, work->residual, points->n)) / length : 0;
    screen->places++;
    if (share <= *most)
        return;
    *most = share;
    screen->place = place;
}

static void look(struct work *work, struct break_screen *screen)
{
    const struct local_points *points = work->points;
    size_t n = points->n;
    double most = 0;

    number_runs(work);
    make_basis(work);
    memcpy(work->residual, points->value, n * sizeof *work->residual);
    double length = take_out(work, work->residual);
    for (size_t i = 0; i < n; i++)
        work->sorted[i] = points->coordinate[i * points->axes + work->axis];
    qsort(work->sorted, n, sizeof *work->sorted, compare_values);
    for (size_t i = 0; i + 1 < n; i++)
        if (work->sorted[i + 1] - work->sorted[i] > SAME_PLACE * points->scale[work->axis])
            try_place(work, 0.5 * (work->sorted[i] + work->sorted[i + 1]), &most, screen);
    double freedom = (double)n - (double)(work->runs + work->terms + 1);
    double rest = length * length - most * most;
    if (freedom > 0 && most > 0)
        screen->t = most / sqrt(fmax(rest, 0) / freedom);
}

enum outcome break_screen_find(const struct local_points *points, size_t axis,
                               struct break_screen *screen)
{
    struct work work = {.points = points, .axis = axis};

    *screen = (struct break_screen){0, 0, 0};
    enum outcome outcome = work_allocate(&work);
    if (outcome == OUTCOME_OK)
        look(&work, screen);
    work_free(&work);
    return outcome;
}
