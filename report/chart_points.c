/* chart_points.c - see chart_points.h. */
#include "report/chart_points.h"

#include <math.h>
#include <string.h>

#include "report/number_text.h"
#include "report/scale.h"
#include "report/svg.h"
#include "schema/utf8.h"

enum {
    WIDTH = 1280,
    HEIGHT = 430,
    LEFT = 58,
    RIGHT = 16,
    TOP = 24,
    MIDDLE = 150, /* of the upper plot */
    LOWER = 190,
    BOTTOM = 386,  /* of the lower plot */
    LABEL_ROOM = 7 /* page units a character of a label */
};

static struct scale value_scale(const struct points_chart *chart)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < chart->n; i++)
        scale_widen(chart->marks[i].value, &low, &high);
    scale_nice_range(&low, &high, 4);
    return scale_make(low, high, MIDDLE, TOP);
}

static struct scale delta_scale(const struct points_chart *chart)
{
    double low = -chart->strip, high = chart->strip;

    for (size_t i = 0; i < chart->n; i++) {
        const struct points_mark *mark = &chart->marks[i];
        const double all[] = {mark->delta,   mark->lower, mark->upper, mark->half[0],
                              mark->half[1], mark->low,   mark->high};
        for (size_t k = 0; k < sizeof all / sizeof all[0]; k++)
            scale_widen(all[k], &low, &high);
    }
    scale_nice_range(&low, &high, 5);
    return scale_make(low, high, BOTTOM, LOWER);
}

static double place(const struct points_chart *chart, size_t i)
{
    return LEFT + (WIDTH - RIGHT - LEFT) * ((double)i + 0.5) / (double)chart->n;
}

static void draw_axis(struct html *page, const struct scale *y, const char *name, int as_delta)
{
    struct ticks ticks = scale_ticks(y, as_delta ? 5 : 4);

    svg_text(page, "axis-name", ANCHOR_START, 2, y->end - 10, name);
    for (int i = 0; i < ticks.n; i++) {
        double at = scale_at(y, ticks.value[i]);
        struct number_text text = as_delta ? number_text_delta(ticks.value[i], ticks.decimals)
                                           : number_text_plain(ticks.value[i], ticks.decimals);
        svg_line(page, "grid", LEFT, at, WIDTH - RIGHT, at);
        svg_text(page, "tick", ANCHOR_END, LEFT - 6, at + 4, text.text);
    }
}

/* Every label that fits, or every second, third ... */
static size_t label_step(const struct points_chart *chart)
{
    size_t longest = 1;

    for (size_t i = 0; i < chart->n; i++) {
        size_t length = utf8_characters(chart->marks[i].label, strlen(chart->marks[i].label));
        longest = length > longest ? length : longest;
    }
    double room = (double)(WIDTH - RIGHT - LEFT) / (double)chart->n;
    return (size_t)ceil((double)(LABEL_ROOM * (longest + 1)) / room);
}

static void draw_labels(struct html *page, const struct points_chart *chart)
{
    size_t step = label_step(chart);

    svg_line(page, "axis", LEFT, BOTTOM, WIDTH - RIGHT, BOTTOM);
    for (size_t i = 0; i < chart->n; i += step)
        svg_text(page, "tick", ANCHOR_MIDDLE, place(chart, i), BOTTOM + 17, chart->marks[i].label);
    svg_text(page, "axis-name", ANCHOR_END, WIDTH - RIGHT, BOTTOM + 36,
             "points in the order of the log");
}

static void draw_point(struct html *page, const struct points_mark *mark, double x, double y,
                       double base)
{
    if (!isfinite(mark->value) || mark->look == POINT_LOST)
        svg_marker(page, "crossed", MARKER_CROSS, x, isfinite(y) ? y : base, 5, mark->title);
    else
        svg_marker(page, mark->has_earlier ? "mark" : "mark hollow", MARKER_CIRCLE, x, y, 4.2,
                   mark->title);
    if (mark->look == POINT_FLAGGED)
        svg_circle(page, "ring", x, isfinite(y) ? y : base, 8, NULL, NULL);
}

static void draw_upper(struct html *page, const struct points_chart *chart)
{
    struct scale y = value_scale(chart);

    draw_axis(page, &y, chart->y_name, 0);
    svg_group(page, "s1");
    for (size_t i = 0; i < chart->n; i++)
        draw_point(page, &chart->marks[i], place(chart, i), scale_at(&y, chart->marks[i].value),
                   MIDDLE);
    svg_group_end(page);
}

/* First half at the left of the point, second at the right, a line between them. */
static void draw_halves(struct html *page, const struct points_mark *mark, double x, double aside,
                        const struct scale *y)
{
    double first = scale_at(y, mark->half[0]);
    double second = scale_at(y, mark->half[1]);

    svg_line(page, "range half", x - aside, first, x + aside, second);
    svg_marker(page, "mark half", MARKER_SQUARE, x - aside, first, 2.6, NULL);
    svg_marker(page, "mark half", MARKER_DIAMOND, x + aside, second, 2.8, NULL);
}

static void draw_earlier(struct html *page, const struct points_mark *mark, double x, double aside,
                         const struct scale *y)
{
    double top = scale_at(y, mark->high);
    double height = scale_at(y, mark->low) - top;

    if (isfinite(top))
        svg_rect(page, "earlier", x - aside, top - 1, 2 * aside, height + 2, NULL, NULL);
}

static void draw_lower(struct html *page, const struct points_chart *chart)
{
    struct scale y = delta_scale(chart);
    double aside = fmin(9, 0.3 * (WIDTH - RIGHT - LEFT) / (double)chart->n);
    double zero = scale_at(&y, 0);

    svg_rect(page, "strip", LEFT, scale_at(&y, chart->strip), WIDTH - RIGHT - LEFT,
             scale_at(&y, -chart->strip) - scale_at(&y, chart->strip), NULL, NULL);
    draw_axis(page, &y, chart->d_name, 1);
    svg_line(page, "zero", LEFT, zero, WIDTH - RIGHT, zero);
    svg_group(page, "s1");
    for (size_t i = 0; i < chart->n; i++) {
        const struct points_mark *mark = &chart->marks[i];
        double x = place(chart, i);
        draw_earlier(page, mark, x, aside + 3, &y);
        draw_halves(page, mark, x, aside, &y);
        svg_line(page, "range", x, scale_at(&y, mark->lower), x, scale_at(&y, mark->upper));
        draw_point(page, mark, x, scale_at(&y, mark->delta), BOTTOM);
    }
    svg_group_end(page);
}

void chart_points(struct html *page, const struct points_chart *chart)
{
    if (chart->n == 0)
        return;
    svg_begin(page, "plot wide", WIDTH, HEIGHT, chart->label);
    draw_upper(page, chart);
    draw_lower(page, chart);
    draw_labels(page, chart);
    svg_end(page);
}
