/* chart_control.c - see chart_control.h. */
#include "report/chart_control.h"

#include <math.h>

#include "report/cut_text.h"
#include "report/number_text.h"
#include "report/scale.h"
#include "report/svg.h"

enum { WIDTH = 1280, HEIGHT = 300, LEFT = 66, RIGHT = 90, TOP = 26, BOTTOM = 250, NAME_ROOM = 9 };

static double place(const struct control_chart *chart, size_t i)
{
    return LEFT + (WIDTH - RIGHT - LEFT) * ((double)i + 0.5) / (double)chart->n;
}

static struct scale value_scale(const struct control_chart *chart)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < chart->n; i++)
        scale_widen(chart->points[i].value, &low, &high);
    scale_widen(chart->limits.lower, &low, &high);
    scale_widen(chart->limits.upper, &low, &high);
    scale_nice_range(&low, &high, 5);
    return scale_make(low, high, BOTTOM, TOP);
}

static void draw_axis(struct html *page, const struct control_chart *chart, const struct scale *y)
{
    struct ticks ticks = scale_ticks(y, 5);

    svg_text(page, "axis-name", ANCHOR_START, 2, TOP - 10, chart->y_name);
    for (int i = 0; i < ticks.n; i++) {
        double at = scale_at(y, ticks.value[i]);
        svg_line(page, "grid", LEFT, at, WIDTH - RIGHT, at);
        svg_text(page, "tick", ANCHOR_END, LEFT - 6, at + 4,
                 number_text_plain(ticks.value[i], ticks.decimals).text);
    }
    svg_line(page, "axis", LEFT, BOTTOM, WIDTH - RIGHT, BOTTOM);
}

/* Every name that fits, or every second, third ..., cut to a third of the room of all. */
static void draw_names(struct html *page, const struct control_chart *chart)
{
    double room = (double)(WIDTH - RIGHT - LEFT) / (double)chart->n;
    size_t letters = (size_t)fmax(6, floor(room / NAME_ROOM));
    size_t step = (size_t)ceil(6.0 * NAME_ROOM / fmax(room, 1));

    for (size_t i = 0; i<chart->n; i += step> 0 ? step : 1)
        svg_text(page, "tick", ANCHOR_MIDDLE, place(chart, i), BOTTOM + 18,
                 cut_text(chart->points[i].name, letters > CUT_TEXT_MOST ? CUT_TEXT_MOST : letters)
                     .text);
    svg_text(page, "axis-name", ANCHOR_END, WIDTH - RIGHT, BOTTOM + 40, "entries in time");
}

static void draw_limit(struct html *page, const char *class, const struct scale *y, double value,
                       const char *name)
{
    double at = scale_at(y, value);

    svg_line(page, class, LEFT, at, WIDTH - RIGHT, at);
    if (isfinite(at))
        svg_text(page, "tick", ANCHOR_START, WIDTH - RIGHT + 6, at + 4, name);
}

void chart_control(struct html *page, const struct control_chart *chart)
{
    struct scale y = value_scale(chart);
    struct path path = {0};

    if (chart->n == 0)
        return;
    svg_begin(page, "plot wide", WIDTH, HEIGHT, chart->label);
    draw_axis(page, chart, &y);
    draw_names(page, chart);
    if (chart->limits.has_limits) {
        draw_limit(page, "centre", &y, chart->limits.centre, "mean");
        draw_limit(page, "limit", &y, chart->limits.upper, "upper limit");
        draw_limit(page, "limit", &y, chart->limits.lower, "lower limit");
    }
    svg_group(page, "s1");
    for (size_t i = 0; i < chart->n; i++)
        path_point(&path, place(chart, i), scale_at(&y, chart->points[i].value));
    svg_path(page, "range", &path, NULL, NULL);
    path_free(&path);
    for (size_t i = 0; i < chart->n; i++) {
        double value = chart->points[i].value;
        int is_outside = value < chart->limits.lower || value > chart->limits.upper;
        svg_marker(page, "mark", is_outside ? MARKER_DIAMOND : MARKER_CIRCLE, place(chart, i),
                   scale_at(&y, value), 5, chart->points[i].title);
        if (is_outside)
            svg_circle(page, "ring", place(chart, i), scale_at(&y, value), 10, NULL, NULL);
    }
    svg_group_end(page);
    svg_end(page);
}
