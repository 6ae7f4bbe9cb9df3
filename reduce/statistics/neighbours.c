/* neighbours.c - see neighbours.h. */
#include "reduce/statistics/neighbours.h"

#include <math.h>
#include <stdlib.h>

enum { LEVELS = 3 };

static const double SAME_VALUE = 0.1; /* of an axis' scale */
static const double REACH = 1.25;     /* R over the farthest distance taken */

/* What one axis of one run spans; empty where lowest is above highest. */
struct span {
    double lowest, highest;
};

/* What the points taken so far bear, kept up point by point. */
struct tally {
    const struct local_points *points;
    const struct neighbours *near;
    struct span *spans; /* of each run, axis by axis; owned by take() */
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

/* Two values of a run are apart when its lowest and highest are. */
static void widen(struct tally *tally, struct span *span, size_t axis, double value)
{
    span->lowest = fmin(span->lowest, value);
    span->highest = fmax(span->highest, value);
    if (span->highest - span->lowest > SAME_VALUE)
        tally->varies[axis] = 1;
}

static void tally_add(struct tally *tally)
{
    const struct local_points *points = tally->points;
    size_t point = tally->near->order[tally->taken];
    struct span *spans = &tally->spans[tally->near->run[tally->taken] * points->axes];

    tally->runs += spans[0].lowest > spans[0].highest;
    for (size_t a = 0; a < points->axes; a++) {
        double value = scaled(points, point, a);
        widen(tally, &spans[a], a, value);
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

/* A point and how far it is. */
struct placed {
    double distance;
    size_t point;
};

/* Equal distances keep their order. */
static int nearer_first(const void *a, const void *b)
{
    const struct placed *x = a;
    const struct placed *y = b;
    if (x->distance != y->distance)
        return x->distance < y->distance ? -1 : 1;
    return (x->point > y->point) - (x->point < y->point);
}

static enum outcome order_by_distance(const struct local_points *points, size_t *order,
                                      double *distance)
{
    struct placed *placed = calloc(points->n, sizeof *placed);
    if (placed == NULL)
        return OUTCOME_NO_MEMORY;
    for (size_t i = 0; i < points->n; i++) {
        double square = 0;
        for (size_t a = 0; a < points->axes; a++)
            square += scaled(points, i, a) * scaled(points, i, a);
        distance[i] = sqrt(square);
        placed[i] = (struct placed){distance[i], i};
    }
    qsort(placed, points->n, sizeof *placed, nearer_first);
    for (size_t i = 0; i < points->n; i++)
        order[i] = placed[i].point;
    free(placed);
    return OUTCOME_OK;
}

static int by_number(const void *a, const void *b)
{
    const int *x = a;
    const int *y = b;
    return (*x > *y) - (*x < *y);
}

/* Groups may have any numbers: their places among the sorted ones. */
static enum outcome number_runs(const struct local_points *points, struct neighbours *neighbours)
{
    int *numbers = calloc(points->n, sizeof *numbers);
    if (numbers == NULL)
        return OUTCOME_NO_MEMORY;
    for (size_t i = 0; i < points->n; i++)
        numbers[i] = points->group[i];
    qsort(numbers, points->n, sizeof *numbers, by_number);
    for (size_t i = 0; i < points->n; i++)
        if (i == 0 || numbers[i] != numbers[i - 1])
            numbers[neighbours->groups++] = numbers[i];
    for (size_t i = 0; i < points->n; i++) {
        const int *found = bsearch(&points->group[neighbours->order[i]], numbers,
                                   neighbours->groups, sizeof *numbers, by_number);
        neighbours->run[i] = (size_t)(found - numbers);
    }
    free(numbers);
    return OUTCOME_OK;
}

static void weigh(struct neighbours *neighbours, struct tally *tally, const double *distance,
                  size_t n)
{
    const size_t *order = neighbours->order;
    double reach = REACH * distance[order[tally->taken - 1]];

    while (tally->taken < n && distance[order[tally->taken]] < reach)
        tally_add(tally);
    neighbours->used = tally->taken;
    for (size_t i = 0; i < neighbours->used; i++) {
        double share = distance[order[i]] / reach;
        neighbours->weight[i] = pow(1 - share * share * share, 3);
    }
}

static void empty_spans(struct span *spans, size_t n)
{
    for (size_t i = 0; i < n; i++)
        spans[i] = (struct span){INFINITY, -INFINITY};
}

static enum outcome take_with(struct neighbours *neighbours, const struct local_points *points,
                              int squares, const double *distance, struct span *spans)
{
    struct tally all = {.points = points, .near = neighbours, .spans = spans, .squares = squares};
    struct tally tally = all;

    empty_spans(spans, neighbours->groups * points->axes);
    for (size_t i = 0; i < points->n; i++)
        tally_add(&all);
    if (count_terms(&all) == 0)
        return OUTCOME_SINGULAR;
    empty_spans(spans, neighbours->groups * points->axes);
    while (tally.taken < points->n && !is_enough(&tally, &all))
        tally_add(&tally);
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

static enum outcome take(struct neighbours *neighbours, const struct local_points *points,
                         int squares, const double *distance)
{
    struct span *spans = calloc(neighbours->groups * points->axes, sizeof *spans);
    if (spans == NULL)
        return OUTCOME_NO_MEMORY;
    enum outcome outcome = take_with(neighbours, points, squares, distance, spans);
    free(spans);
    return outcome;
}

enum outcome neighbours_choose(const struct local_points *points, int squares,
                               struct neighbours *neighbours)
{
    *neighbours = (struct neighbours){0};
    if (points->n == 0)
        return OUTCOME_TOO_FEW;
    double *distance = calloc(points->n, sizeof *distance);
    neighbours->order = calloc(points->n, sizeof *neighbours->order);
    neighbours->run = calloc(points->n, sizeof *neighbours->run);
    neighbours->weight = calloc(points->n, sizeof *neighbours->weight);
    enum outcome outcome = OUTCOME_NO_MEMORY;
    if (distance != NULL && neighbours->order != NULL && neighbours->run != NULL &&
        neighbours->weight != NULL)
        outcome = order_by_distance(points, neighbours->order, distance);
    if (outcome == OUTCOME_OK)
        outcome = number_runs(points, neighbours);
    if (outcome == OUTCOME_OK)
        outcome = take(neighbours, points, squares, distance);
    free(distance);
    return outcome;
}

void neighbours_free(struct neighbours *neighbours)
{
    free(neighbours->order);
    free(neighbours->run);
    free(neighbours->weight);
    *neighbours = (struct neighbours){0};
}
