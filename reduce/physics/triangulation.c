/* triangulation.c - see triangulation.h. */
#include "reduce/physics/triangulation.h"

#include <libqhull_r/qhull_ra.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>

/* A width or area below this share of the whole is rounding. */
static const double FLAT = 1e-10;

/* Distinct places, about the first of them so that no digits are lost far from the origin. */
struct places {
    double *coordinate; /* x, y of each */
    size_t *point;      /* its first point */
    size_t n;
};

static int is_known(const struct places *places, double x, double y)
{
    for (size_t i = 0; i < places->n; i++)
        if (places->coordinate[2 * i] == x && places->coordinate[2 * i + 1] == y)
            return 1;
    return 0;
}

static enum outcome places_collect(const double *x, const double *y, size_t n,
                                   struct places *places)
{
    for (size_t i = 0; i < n; i++)
        if (!isfinite(x[i]) || !isfinite(y[i]))
            return OUTCOME_NOT_FINITE;
    if (n < 3 || n > INT_MAX / 4)
        return OUTCOME_TOO_FEW;
    places->coordinate = calloc(2 * n, sizeof *places->coordinate);
    places->point = calloc(n, sizeof *places->point);
    if (places->coordinate == NULL || places->point == NULL)
        return OUTCOME_NO_MEMORY;
    for (size_t i = 0; i < n; i++) {
        double from_first_x = x[i] - x[0];
        double from_first_y = y[i] - y[0];
        if (is_known(places, from_first_x, from_first_y))
            continue;
        places->coordinate[2 * places->n] = from_first_x;
        places->coordinate[2 * places->n + 1] = from_first_y;
        places->point[places->n++] = i;
    }
    return places->n < 3 ? OUTCOME_TOO_FEW : OUTCOME_OK;
}

/* Twice the area of the triangle of three places, positive when counter-clockwise. */
static double twice_area(const struct places *places, size_t a, size_t b, size_t c)
{
    const double *p = places->coordinate;

    return (p[2 * b] - p[2 * a]) * (p[2 * c + 1] - p[2 * a + 1]) -
           (p[2 * c] - p[2 * a]) * (p[2 * b + 1] - p[2 * a + 1]);
}

/* The largest square distance from the first place; *farthest is where. */
static double square_span(const struct places *places, size_t *farthest)
{
    double span = 0;

    for (size_t i = 1; i < places->n; i++) {
        double dx = places->coordinate[2 * i];
        double dy = places->coordinate[2 * i + 1];
        if (dx * dx + dy * dy > span) {
            span = dx * dx + dy * dy;
            *farthest = i;
        }
    }
    return span;
}

/* Seen before Qhull starts, which would explain at length. */
static int is_on_one_line(const struct places *places, double span)
{
    size_t farthest = 0;
    double most = 0;

    (void)square_span(places, &farthest);
    for (size_t i = 1; i < places->n; i++)
        most = fmax(most, fabs(twice_area(places, 0, farthest, i)));
    return !(most > FLAT * span);
}

/* Writes the corners of one facet; 0 when it is flat or not of places only. */
static int take_facet(qhT *qh, const facetT *facet, const struct places *places, double span,
                      size_t *triangle)
{
    size_t corner[3] = {0};
    size_t corners = 0;
    vertexT *vertex, **vertexp;

    if (qh_setsize(qh, facet->vertices) != 3)
        return 0;
    FOREACHvertex_(facet->vertices)
    {
        int place = qh_pointid(qh, vertex->point);
        if (place < 0 || (size_t)place >= places->n)
            return 0;
        corner[corners++] = (size_t)place;
    }
    double area = twice_area(places, corner[0], corner[1], corner[2]);
    if (!(fabs(area) > FLAT * span))
        return 0;
    size_t least =
        corner[0] < corner[1] ? (corner[0] < corner[2] ? 0 : 2) : (corner[1] < corner[2] ? 1 : 2);
    size_t turn = area > 0 ? 1 : 2;
    for (size_t i = 0; i < 3; i++)
        triangle[i] = places->point[corner[(least + i * turn) % 3]];
    return 1;
}

static int compare_triangles(const void *one, const void *other)
{
    const size_t *a = one;
    const size_t *b = other;

    for (int i = 0; i < 3; i++)
        if (a[i] != b[i])
            return a[i] < b[i] ? -1 : 1;
    return 0;
}

static enum outcome take_facets(qhT *qh, const struct places *places, double span, size_t *triangle,
                                size_t capacity, size_t *count)
{
    const facetT *facet;

    for (facet = qh->facet_list; facet != NULL && facet->next != NULL; facet = facet->next) {
        size_t corner[3];
        if (facet->upperdelaunay || !take_facet(qh, facet, places, span, corner))
            continue;
        if (*count == capacity)
            return OUTCOME_TOO_FEW;
        for (size_t i = 0; i < 3; i++)
            triangle[3 * *count + i] = corner[i];
        ++*count;
    }
    qsort(triangle, *count, 3 * sizeof *triangle, compare_triangles);
    return *count > 0 ? OUTCOME_OK : OUTCOME_SINGULAR;
}

/* Runs Qhull: triangulated output (Qt), last coordinate scaled (Qbb), coplanar points kept (Qc), a
 * point at infinity for points on one circle (Qz). It wants somewhere to complain to; its words go
 * to memory and end there, the exit code is what counts. */
static enum outcome run_qhull(const struct places *places, double span, size_t *triangle,
                              size_t capacity, size_t *count)
{
    char options[] = "qhull d Qt Qbb Qc Qz";
    char words[2048];
    int long_left = 0;
    int total_left = 0;
    qhT qh;
    FILE *sink = fmemopen(words, sizeof words, "w");
    if (sink == NULL)
        return OUTCOME_NO_MEMORY;

    qh_zero(&qh, sink);
    int code = qh_new_qhull(&qh, 2, (int)places->n, places->coordinate, False, options, sink, sink);
    enum outcome outcome = code == qh_ERRmem ? OUTCOME_NO_MEMORY : OUTCOME_SINGULAR;
    if (code == qh_ERRnone)
        outcome = take_facets(&qh, places, span, triangle, capacity, count);
    qh_freeqhull(&qh, !qh_ALL);
    qh_memfreeshort(&qh, &long_left, &total_left);
    (void)fclose(sink);
    return outcome;
}

enum outcome triangulate(const double *x, const double *y, size_t n, size_t *triangle,
                         size_t capacity, size_t *count)
{
    struct places places = {NULL, NULL, 0};
    size_t farthest = 0;

    *count = 0;
    enum outcome outcome = places_collect(x, y, n, &places);
    if (outcome == OUTCOME_OK) {
        double span = square_span(&places, &farthest);
        outcome = OUTCOME_SINGULAR;
        if (!is_on_one_line(&places, span))
            outcome = run_qhull(&places, span, triangle, capacity, count);
    }
    if (outcome != OUTCOME_OK)
        *count = 0;
    free(places.coordinate);
    free(places.point);
    return outcome;
}
