/* visit_variances.c - see visit_variances.h. */
#include "reduce/statistics/visit_variances.h"

#include <math.h>
#include <stdlib.h>

/* Sums over the visits of a group about its first value, so that digits are kept. */
struct group_sum {
    double points, mean_points; /* sum n, sum n m */
    double square_points;       /* sum n^2 */
    double squares;             /* sum n m^2 */
    size_t visits;
};

struct totals {
    double within_squares, within_freedom;
    double between_squares, between_freedom, between_divisor;
    size_t within_points, between_points;
};

static int compare(size_t a, size_t b)
{
    return a < b ? -1 : a > b;
}

static int by_group(const void *left, const void *right)
{
    const struct visit_point *a = left;
    const struct visit_point *b = right;
    int order = compare(a->group, b->group);
    if (order == 0)
        order = compare(a->visit, b->visit);
    if (order == 0)
        order = a->value < b->value ? -1 : a->value > b->value;
    return order;
}

static void add_visit(const struct visit_point *points, size_t n, double origin,
                      struct group_sum *group, struct totals *totals)
{
    double mean = 0, squares = 0;
    double count = (double)n;

    for (size_t i = 0; i < n; i++)
        mean += (points[i].value - origin) / count;
    for (size_t i = 0; i < n; i++)
        squares += (points[i].value - origin - mean) * (points[i].value - origin - mean);
    if (n > 1) {
        totals->within_squares += squares;
        totals->within_freedom += count - 1;
        totals->within_points += n;
    }
    group->points += count;
    group->square_points += count * count;
    group->mean_points += count * mean;
    group->squares += count * mean * mean;
    group->visits++;
}

static void end_group(const struct group_sum *group, struct totals *totals)
{
    if (group->visits < 2)
        return;
    double between = group->squares - group->mean_points * group->mean_points / group->points;
    totals->between_squares += fmax(between, 0);
    totals->between_freedom += (double)group->visits - 1;
    totals->between_divisor += group->points - group->square_points / group->points;
    totals->between_points += (size_t)group->points;
}

/* Points of a group begin at first; gives where they end. */
static size_t add_group(const struct visit_point *points, size_t n, size_t first,
                        struct totals *totals)
{
    struct group_sum group = {0, 0, 0, 0, 0};
    size_t i = first;

    while (i < n && points[i].group == points[first].group) {
        size_t begin = i;
        while (i < n && points[i].group == points[first].group &&
               points[i].visit == points[begin].visit)
            i++;
        add_visit(points + begin, i - begin, points[first].value, &group, totals);
    }
    end_group(&group, totals);
    return i;
}

static struct variance_estimate estimate(double squares, double divisor, double freedom)
{
    if (!(freedom > 0))
        return (struct variance_estimate){(double)NAN, 0};
    return (struct variance_estimate){squares / divisor, freedom};
}

void visit_variances(struct visit_point *points, size_t n, struct visit_estimate *within,
                     struct visit_estimate *returned)
{
    struct totals totals = {0, 0, 0, 0, 0, 0, 0};

    *within = (struct visit_estimate){estimate(0, 1, 0), 0};
    *returned = *within;
    for (size_t i = 0; i < n; i++)
        if (!isfinite(points[i].value))
            return;
    if (n > 0)
        qsort(points, n, sizeof *points, by_group);
    for (size_t i = 0; i < n;)
        i = add_group(points, n, i, &totals);
    within->estimate =
        estimate(totals.within_squares, totals.within_freedom, totals.within_freedom);
    within->measurements = totals.within_points;
    if (!(totals.between_freedom > 0))
        return;
    returned->estimate = variance_single(
        estimate(totals.between_squares, totals.between_divisor, totals.between_freedom),
        within->estimate, fmax(totals.between_divisor / totals.between_freedom, 1));
    returned->measurements = totals.between_points;
}
