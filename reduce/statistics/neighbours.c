/* neighbours.c - see neighbours.h. */
#include "reduce/statistics/neighbours.h"

#include <math.h>
#include <stdlib.h>

enum { LEVELS = 3 };

static const double SAME_VALUE = 0.1; /* of an axis' scale */
static const double REACH = 1.25;     /* R over the farthest distance taken */

/* What the points taken so far bear, kept up point by point. */
struct tally {
    const struct local_points *points;
    int squares;
    size_t taken;
    size_t runs;
    int varies[LOCAL_AXES_MAX];
    int below[LOCAL_AXES_MAX], above[LOCAL_AXES_MAX];
    size_t levels[LOCAL_AXES_MAX];
    double level[LOCAL_AXES_MAX][LEVELS];
};

static double scaled(const struct local_points *points, size_t point, size_t axis)
{
    return points->coordinate[point * points->axes + axis] / points->scale[axis];
}

static void count_level(struct tally *tally, size_t axis, double value)
{
    size_t levels = tally->levels[axis];

    for (size_t i = 0; i < levels; i++)
        if (fabs(tally->level[axis][i] - value) <= SAME_VALUE)
            return;
    if (levels < LEVELS) {
        tally->level[axis][levels] = value;
        tally->levels[axis]++;
    }
}

static void tally_add(struct tally *tally, const size_t *order)
{
    const struct local_points *points = tally->points;
    size_t point = order[tally->taken];
    int is_new_run = 1;

    for (size_t i = 0; i < tally->taken; i++) {
        if (points->group[order[i]] != points->group[point])
            continue;
        is_new_run = 0;
        for (size_t a = 0; a < points->axes; a++)
            if (fabs(scaled(points, order[i], a) - scaled(points, point, a)) > SAME_VALUE)
                tally->varies[a] = 1;
    }
    tally->runs += (size_t)is_new_run;
    for (size_t a = 0; a < points->axes; a++) {
        double value = scaled(points, point, a);
        tally->below[a] |= value < 0;
        tally->above[a] |= value > 0;
        count_level(tally, a, value);
    }
    tally->taken++;
}

static int bears_square(const struct tally *tally, size_t axis)
{
    return tally->squares && tally->varies[axis] && tally->levels[axis] >= LEVELS;
}

static size_t count_terms(const struct tally *tally)
{
    size_t terms = 0;

    for (size_t a = 0; a < tally->points->axes; a++)
        terms += (size_t)tally->varies[a] + (size_t)bears_square(tally, a);
    return terms;
}

/* all: the tally of all points, which says what can be asked for. */
static int is_enough(const struct tally *tally, const struct tally *all)
{
    for (size_t a = 0; a < all->points->axes; a++) {
        if (!all->varies[a])
            continue;
        if (!tally->varies[a])
            return 0;
        if (all->below[a] && all->above[a] && !(tally->below[a] && tally->above[a]))
            return 0;
    }
    size_t terms = count_terms(tally);
    return tally->taken >= tally->runs + 2 * terms && tally->taken >= tally->runs + terms + 2;
}

/* Distances into `distance`, points by distance into `order`; equal ones keep their order. */
static void order_by_distance(const struct local_points *points, size_t *order, double *distance)
{
    for (size_t i = 0; i < points->n; i++) {
        double square = 0;
        for (size_t a = 0; a < points->axes; a++)
            square += scaled(points, i, a) * scaled(points, i, a);
        distance[i] = sqrt(square);
        size_t place = i;
        for (; place > 0 && distance[order[place - 1]] > distance[i]; place--)
            order[place] = order[place - 1];
        order[place] = i;
    }
}

static void weigh(struct neighbours *neighbours, struct tally *tally, const double *distance,
                  size_t n)
{
    const size_t *order = neighbours->order;
    double reach = REACH * distance[order[tally->taken - 1]];

    while (tally->taken < n && distance[order[tally->taken]] < reach)
        tally_add(tally, order);
    neighbours->used = tally->taken;
    for (size_t i = 0; i < neighbours->used; i++) {
        double share = distance[order[i]] / reach;
        neighbours->weight[i] = pow(1 - share * share * share, 3);
    }
}

static enum outcome take(struct neighbours *neighbours, const struct local_points *points,
                         int squares, const double *distance)
{
    struct tally all = {.points = points, .squares = squares};
    struct tally tally = all;

    for (size_t i = 0; i < points->n; i++)
        tally_add(&all, neighbours->order);
    if (count_terms(&all) == 0)
        return OUTCOME_SINGULAR;
    while (tally.taken < points->n && !is_enough(&tally, &all))
        tally_add(&tally, neighbours->order);
    weigh(neighbours, &tally, distance, points->n);
    neighbours->runs = tally.runs;
    neighbours->terms = count_terms(&tally);
    for (size_t a = 0; a < points->axes; a++) {
        neighbours->varies[a] = tally.varies[a];
        neighbours->bears_square[a] = bears_square(&tally, a);
    }
    return neighbours->used < neighbours->runs + neighbours->terms + 2 ? OUTCOME_TOO_FEW
                                                                       : OUTCOME_OK;
}

enum outcome neighbours_choose(const struct local_points *points, int squares,
                               struct neighbours *neighbours)
{
    *neighbours = (struct neighbours){0};
    if (points->n == 0)
        return OUTCOME_TOO_FEW;
    double *distance = calloc(points->n, sizeof *distance);
    neighbours->order = calloc(points->n, sizeof *neighbours->order);
    neighbours->weight = calloc(points->n, sizeof *neighbours->weight);
    enum outcome outcome = OUTCOME_NO_MEMORY;
    if (distance != NULL && neighbours->order != NULL && neighbours->weight != NULL) {
        order_by_distance(points, neighbours->order, distance);
        outcome = take(neighbours, points, squares, distance);
    }
    free(distance);
    return outcome;
}

void neighbours_free(struct neighbours *neighbours)
{
    free(neighbours->order);
    free(neighbours->weight);
    *neighbours = (struct neighbours){0};
}
