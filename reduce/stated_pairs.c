/* stated_pairs.c - see stated_pairs.h. */
#include "reduce/stated_pairs.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

/* Numbers as logged are rounded; a nominal value 0.001 off is within a tolerance of 0.001. */
static const double ROUNDING = 1e-9;

/* How far apart two places are, in tolerances squared and summed; negative when they are not one. */
static double distance(const struct stated_points *points, const struct stated_point *a,
                       const struct stated_point *b)
{
    double sum = 0;
    for (size_t i = 0; i < points->n_axes; i++) {
        const struct stated_axis *axis = &points->axes[i];
        double at = points->places[a->place + i], other = points->places[b->place + i];
        if (isnan(at) && isnan(other) && !axis->is_required)
            continue;
        double apart = fabs(at - other);
        if (!(apart <= axis->tolerance * (1 + ROUNDING)))
            return -1;
        if (apart > 0)
            sum += apart / axis->tolerance * (apart / axis->tolerance);
    }
    return sum;
}

/* A run without a configuration may be of anything. */
static int may_pair(const struct run_row *a, const struct run_row *b)
{
    return a != b && a->configuration[0] != '\0' &&
           strcmp(a->configuration, b->configuration) == 0 && strcmp(a->kind, b->kind) == 0;
}

/* The value before later that is the nearest, not taken, and of another run; later itself: none. */
static size_t find_partner(const struct stated_points *points,
                           const struct stated_quantity *quantity, const unsigned char *taken,
                           size_t later)
{
    const struct stated_point *at = &points->points[quantity->values[later].point];
    double nearest = INFINITY;
    size_t found = later;
    for (size_t i = 0; i < later; i++) {
        const struct stated_point *other = &points->points[quantity->values[i].point];
        double apart = -1;
        if (!taken[i] && may_pair(other->run, at->run))
            apart = distance(points, other, at);
        if (apart < 0 || !(apart < nearest))
            continue;
        nearest = apart;
        found = i;
    }
    return found;
}

struct pair_order {
    const struct stated_points *points;
    struct stated_pair pair;
};

/* Points stand by run already, so their indices order both runs and points. */
static int by_runs(const void *left, const void *right)
{
    const struct pair_order *a = left;
    const struct pair_order *b = right;
    const struct stated_point *points = a->points->points;
    if (points[a->pair.earlier->point].run != points[b->pair.earlier->point].run)
        return a->pair.earlier->point < b->pair.earlier->point ? -1 : 1;
    if (points[a->pair.later->point].run != points[b->pair.later->point].run)
        return a->pair.later->point < b->pair.later->point ? -1 : 1;
    return a->pair.earlier->point < b->pair.earlier->point ? -1 : 1;
}

static int same_runs(const struct stated_points *points, const struct stated_pair *a,
                     const struct stated_pair *b)
{
    return points->points[a->earlier->point].run == points->points[b->earlier->point].run &&
           points->points[a->later->point].run == points->points[b->later->point].run;
}

static size_t collect(const struct stated_points *points, const struct stated_quantity *quantity,
                      unsigned char *taken, struct pair_order *order)
{
    size_t n = 0;
    for (size_t later = 0; later < quantity->n; later++) {
        size_t earlier = find_partner(points, quantity, taken, later);
        if (earlier == later)
            continue;
        taken[earlier] = taken[later] = 1;
        order[n++] =
            (struct pair_order){points, {&quantity->values[earlier], &quantity->values[later]}};
    }
    return n;
}

static void fill(const struct stated_points *points, const struct pair_order *order, size_t n,
                 struct stated_pairs *pairs)
{
    pairs->n = n;
    for (size_t i = 0; i < n; i++) {
        const struct stated_value *a = order[i].pair.earlier, *b = order[i].pair.later;
        pairs->pairs[i] = order[i].pair;
        pairs->differences[i] =
            (struct repeat_difference){b->mean - a->mean, hypot(a->stated, b->stated)};
        if (i > 0 && !same_runs(points, &pairs->pairs[i - 1], &pairs->pairs[i]))
            pairs->end[pairs->n_groups++] = i;
    }
    if (n > 0)
        pairs->end[pairs->n_groups++] = n;
}

enum status stated_pairs_make(const struct stated_points *points,
                              const struct stated_quantity *quantity, struct stated_pairs *pairs,
                              struct fault *fault)
{
    void *arrays[5] = {NULL};
    const size_t sizes[] = {sizeof *pairs->pairs, sizeof *pairs->differences, sizeof *pairs->end, 1,
                            sizeof(struct pair_order)};
    enum status status = OK;
    for (int i = 0; status == OK && i < 5; i++)
        status = array_make(&arrays[i], quantity->n, sizes[i], fault);
    *pairs = (struct stated_pairs){arrays[0], arrays[1], 0, arrays[2], 0};
    if (status == OK) {
        size_t n = collect(points, quantity, arrays[3], arrays[4]);
        qsort(arrays[4], n, sizeof(struct pair_order), by_runs);
        fill(points, arrays[4], n, pairs);
    }
    free(arrays[3]);
    free(arrays[4]);
    if (status != OK)
        stated_pairs_end(pairs);
    return status;
}

void stated_pairs_end(struct stated_pairs *pairs)
{
    free(pairs->pairs);
    free(pairs->differences);
    free(pairs->end);
    memset(pairs, 0, sizeof *pairs);
}
