/* chart_line.c - see chart_line.h. */
#include "report/chart_line.h"

#include <math.h>
#include <stdio.h>

#include "report/cut_text.h"
#include "report/number_text.h"
#include "report/scale.h"

/* RIGHT has room for the end labels: NAME_ROOM characters of a usual width. What is wider than a column of the
 * page is scrolled, not shrunk, on a narrow screen. */
enum { LEFT = 46, RIGHT = 98, TOP = 24, BOTTOM = 36, NAME_ROOM = 11, COLUMN_MOST = 760 };

struct frame {
    struct scale x, y;
};

static size_t drawn(const struct line_chart *chart)
{
    return chart->n < LINE_SERIES_MAX ? chart->n : LINE_SERIES_MAX;
}

static struct frame frame_of(const struct line_chart *chart)
{
    double low_x = INFINITY, high_x = -INFINITY, low = INFINITY, high = -INFINITY;
    struct frame frame;

    for (size_t s = 0; s < drawn(chart); s++) {
        for (size_t i = 0; i < chart->series[s].n; i++) {
            const struct line_point *point = &chart->series[s].points[i];
            scale_widen(point->x, &low_x, &high_x);
            scale_widen(point->y, &low, &high);
            scale_widen(point->lower, &low, &high);
            scale_widen(point->upper, &low, &high);
        }
    }
    if (chart->zero_line) {
        scale_widen(-chart->strip, &low, &high);
        scale_widen(chart->strip, &low, &high);
    }
    scale_nice_range(&low, &high, 5);
    double room = 0.03 * (high_x - low_x);
    frame.x = scale_make(low_x - room, high_x + room, LEFT, chart->width - RIGHT);
    frame.y = scale_make(chart->is_reversed ? high : low, chart->is_reversed ? low : high,
                         chart->height - BOTTOM, TOP);
    return frame;
}

static void draw_y_axis(struct html *page, const struct line_chart *chart,
                        const struct frame *frame)
{
    struct ticks ticks = scale_ticks(&frame->y, 5);

    for (int i = 0; i < ticks.n; i++) {
        double y = scale_at(&frame->y, ticks.value[i]);
        struct number_text text = chart->as_delta
                                      ? number_text_delta(ticks.value[i], ticks.decimals)
                                      : number_text_plain(ticks.value[i], ticks.decimals);
        svg_line(page, "grid", frame->x.start, y, frame->x.end, y);
        svg_text(page, "tick", ANCHOR_END, LEFT - 6, y + 4, text.text);
    }
    svg_text(page, "axis-name", ANCHOR_START, 2, 12, chart->y_name);
}

static void draw_x_axis(struct html *page, const struct line_chart *chart,
                        const struct frame *frame)
{
    struct ticks ticks = scale_ticks(&frame->x, 6);
    double base = frame->y.start;

    svg_line(page, "axis", frame->x.start, base, frame->x.end, base);
    for (int i = 0; i < ticks.n; i++) {
        double x = scale_at(&frame->x, ticks.value[i]);
        svg_line(page, "axis", x, base, x, base + 4);
        svg_text(page, "tick", ANCHOR_MIDDLE, x, base + 17,
                 number_text_plain(ticks.value[i], ticks.decimals).text);
    }
    svg_text(page, "axis-name", ANCHOR_END, frame->x.end, base + 32, chart->x_name);
}

static void draw_strip(struct html *page, const struct line_chart *chart, const struct frame *frame)
{
    if (!chart->zero_line)
        return;
    if (chart->strip > 0) {
        double edge[] = {scale_at(&frame->y, chart->strip), scale_at(&frame->y, -chart->strip)};
        svg_rect(page, "strip", frame->x.start, fmin(edge[0], edge[1]),
                 frame->x.end - frame->x.start, fabs(edge[1] - edge[0]), NULL, NULL);
    }
    double zero = scale_at(&frame->y, 0);
    svg_line(page, "zero", frame->x.start, zero, frame->x.end, zero);
}

/* Series stand a little beside each other, so that intervals at one x can be told apart. */
static double beside(size_t series, size_t n)
{
    const double step = 3;

    return step * ((double)series - ((double)n - 1) / 2);
}

static void point_title(const struct line_chart *chart, const struct line_series *series,
                        const struct line_point *point, char *out, size_t size)
{
    int d = chart->value_decimals;
    struct number_text x = number_text_plain(point->x, chart->x_decimals);
    struct cut_text name = cut_text(series->name, CUT_TEXT_MOST);

    if (isfinite(point->lower) && isfinite(point->upper)) {
        int digits = number_text_decimals((point->upper - point->lower) / 2, d);
        (void)snprintf(out, size, "%s at %s: %s, from %s to %s", name.text, x.text,
                       number_text_delta(point->y, digits).text,
                       number_text_delta(point->lower, digits).text,
                       number_text_delta(point->upper, digits).text);
        return;
    }
    struct number_text y =
        chart->as_delta ? number_text_delta(point->y, d) : number_text_plain(point->y, d);
    (void)snprintf(out, size, "%s at %s: %s", name.text, x.text, y.text);
}

static void draw_series(struct html *page, const struct line_chart *chart,
                        const struct frame *frame, size_t index)
{
    const struct line_series *series = &chart->series[index];
    double shift = beside(index, drawn(chart));
    struct path line = {0};

    svg_group(page, series->look.class);
    for (size_t i = 0; i < series->n; i++)
        path_point(&line, scale_at(&frame->x, series->points[i].x) + shift,
                   scale_at(&frame->y, series->points[i].y));
    svg_path(page, "line", &line, NULL, NULL);
    path_free(&line);
    for (size_t i = 0; i < series->n; i++) {
        const struct line_point *point = &series->points[i];
        double x = scale_at(&frame->x, point->x) + shift;
        char title[600];
        svg_line(page, "range", x, scale_at(&frame->y, point->lower), x,
                 scale_at(&frame->y, point->upper));
        point_title(chart, series, point, title, sizeof title);
        svg_marker(page, "mark", series->look.marker, x, scale_at(&frame->y, point->y), 3.6, title);
    }
    svg_group_end(page);
}

void chart_push_apart(double *place, size_t n, double apart, double low, double high)
{
    size_t order[LINE_SERIES_MAX] = {0};

    if (n > LINE_SERIES_MAX)
        n = LINE_SERIES_MAX;
    for (size_t i = 0; i < n; i++) { /* by insertion: n is small and ties keep their order */
        size_t k = i;
        for (; k > 0 && place[order[k - 1]] > place[i]; k--)
            order[k] = order[k - 1];
        order[k] = i;
    }
    for (size_t i = 0; i < n; i++) {
        double least = i == 0 ? low : place[order[i - 1]] + apart;
        place[order[i]] = fmax(place[order[i]], least);
    }
    for (size_t i = n; i-- > 0;) {
        double most = i + 1 == n ? high : place[order[i + 1]] - apart;
        place[order[i]] = fmin(place[order[i]], most);
    }
}

/* The last value that can be drawn; NAN when the series has none. */
static double last_value(const struct line_series *series)
{
    for (size_t i = series->n; i-- > 0;)
        if (isfinite(series->points[i].y))
            return series->points[i].y;
    return NAN;
}

static void draw_end_labels(struct html *page, const struct line_chart *chart,
                            const struct frame *frame)
{
    double place[LINE_SERIES_MAX];
    size_t which[LINE_SERIES_MAX];
    size_t n = 0;

    for (size_t s = 0; s < drawn(chart); s++) {
        double y = scale_at(&frame->y, last_value(&chart->series[s]));
        if (!isfinite(y))
            continue;
        which[n] = s;
        place[n++] = y;
    }
    chart_push_apart(place, n, 14, TOP, chart->height - BOTTOM);
    for (size_t i = 0; i < n; i++) {
        const struct line_series *series = &chart->series[which[i]];
        svg_group(page, series->look.class);
        svg_text(page, "end-label", ANCHOR_START, frame->x.end + 10, place[i] + 4,
                 cut_text(series->name, NAME_ROOM).text);
        svg_group_end(page);
    }
}

void chart_line(struct html *page, const struct line_chart *chart)
{
    struct frame frame = frame_of(chart);

    svg_begin(page, chart->width > COLUMN_MOST ? "plot wide" : "plot", chart->width, chart->height,
              chart->label);
    draw_strip(page, chart, &frame);
    draw_y_axis(page, chart, &frame);
    draw_x_axis(page, chart, &frame);
    for (size_t s = 0; s < drawn(chart); s++)
        draw_series(page, chart, &frame, s);
    draw_end_labels(page, chart, &frame);
    svg_end(page);
}
