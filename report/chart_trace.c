/* chart_trace.c - see chart_trace.h. */
#include "report/chart_trace.h"

#include <math.h>
#include <stdio.h>

#include "report/number_text.h"
#include "report/scale.h"
#include "report/svg.h"

enum { WIDTH = 720, HEIGHT = 270, LEFT = 70, RIGHT = 12, TOP = 26, BOTTOM = 226 };

struct drawing {
    struct html *page;
    const struct kept_trace *trace;
    struct scale x, y;
    double step; /* of the axis: s a row, or 1 */
};

/* Middle of a bin on the axis; the last one may be shorter. */
static double middle(const struct drawing *drawing, size_t bin)
{
    double from = (double)(bin * drawing->trace->rows_a_bin);
    double to = fmin(from + (double)drawing->trace->rows_a_bin, (double)drawing->trace->rows);
    return scale_at(&drawing->x, drawing->step * (from + to - 1) / 2);
}

static struct drawing drawing_of(struct html *page, const struct kept_trace *trace)
{
    double low = INFINITY, high = -INFINITY;
    double step = trace->step > 0 ? trace->step : 1;

    for (size_t b = 0; b < trace->n_bins; b++) {
        scale_widen(trace->bins[b].minimum, &low, &high);
        scale_widen(trace->bins[b].maximum, &low, &high);
    }
    scale_nice_range(&low, &high, 4);
    return (struct drawing){page, trace,
                            scale_make(0, step * (double)trace->rows, LEFT, WIDTH - RIGHT),
                            scale_make(low, high, BOTTOM, TOP), step};
}

static void draw_axes(const struct drawing *drawing)
{
    struct html *page = drawing->page;
    const struct kept_trace *trace = drawing->trace;
    struct ticks across = scale_ticks(&drawing->x, 8);
    struct ticks up = scale_ticks(&drawing->y, 4);
    char name[160];

    (void)snprintf(name, sizeof name, "%.100s%s%s", trace->channel,
                   trace->unit[0] != '\0' ? ", " : "", trace->unit);
    svg_text(page, "axis-name", ANCHOR_START, 2, TOP - 11, name);
    for (int i = 0; i < up.n; i++) {
        double at = scale_at(&drawing->y, up.value[i]);
        svg_line(page, "grid", LEFT, at, WIDTH - RIGHT, at);
        svg_text(page, "tick", ANCHOR_END, LEFT - 6, at + 4,
                 number_text_plain(up.value[i], up.decimals).text);
    }
    svg_line(page, "axis", LEFT, BOTTOM, WIDTH - RIGHT, BOTTOM);
    for (int i = 0; i < across.n; i++)
        svg_text(page, "tick", ANCHOR_MIDDLE, scale_at(&drawing->x, across.value[i]), BOTTOM + 17,
                 number_text_plain(across.value[i], across.decimals).text);
    svg_text(page, "axis-name", ANCHOR_END, WIDTH - RIGHT, BOTTOM + 37,
             trace->step > 0 ? "time within the point, s" : "rows of the point");
}

/* From bin `first` on, the range of those that have samples; gives the bin behind them. */
static size_t draw_stretch(const struct drawing *drawing, size_t first)
{
    const struct kept_trace *trace = drawing->trace;
    struct path band = {{0}, 0};
    struct path line = {{0}, 0};
    size_t end = first;

    while (end < trace->n_bins && trace->bins[end].n > 0)
        end++;
    for (size_t b = first; b < end; b++) {
        path_point(&band, middle(drawing, b), scale_at(&drawing->y, trace->bins[b].maximum));
        path_point(&line, middle(drawing, b), scale_at(&drawing->y, trace->bins[b].mean));
    }
    for (size_t b = end; b > first; b--)
        path_point(&band, middle(drawing, b - 1),
                   scale_at(&drawing->y, trace->bins[b - 1].minimum));
    path_close(&band);
    svg_path(drawing->page, "spread", &band, NULL, NULL);
    svg_path(drawing->page, "line thin", &line, NULL, NULL);
    path_free(&band);
    path_free(&line);
    return end;
}

/* Of a single sample the bin's end that is farther from the mean. */
static void draw_ring(const struct drawing *drawing, size_t row, const char *title)
{
    const struct kept_trace *trace = drawing->trace;
    const struct kept_bin *bin = &trace->bins[row / trace->rows_a_bin];
    double value =
        bin->maximum - trace->mean > trace->mean - bin->minimum ? bin->maximum : bin->minimum;

    svg_circle(drawing->page, "ring", scale_at(&drawing->x, drawing->step * (double)row),
               scale_at(&drawing->y, value), 5, NULL, title);
}

static void draw_mark(const struct drawing *drawing, const struct kept_mark *mark)
{
    double first = scale_at(&drawing->x, drawing->step * (double)mark->first);
    double last = scale_at(&drawing->x, drawing->step * (double)(mark->last + 1));
    const char *unit = drawing->trace->step > 0 ? " s" : " rows";
    char title[120];

    if (mark->first == mark->last) {
        (void)snprintf(title, sizeof title, "stands out, at %.6g%s",
                       drawing->step * (double)mark->first, unit);
        draw_ring(drawing, mark->first, title);
        return;
    }
    (void)snprintf(title, sizeof title, "%zu rows, from %.6g to %.6g%s",
                   mark->last - mark->first + 1, drawing->step * (double)mark->first,
                   drawing->step * (double)mark->last, unit);
    svg_rect(drawing->page, "beyond", first, TOP, fmax(last - first, 2), BOTTOM - TOP, NULL, title);
}

void chart_trace(struct html *page, const struct kept_trace *trace, const char *label)
{
    struct drawing drawing = drawing_of(page, trace);
    double mean = scale_at(&drawing.y, trace->mean);

    svg_begin(page, "plot", WIDTH, HEIGHT, label);
    for (size_t i = 0; i < trace->n_marks; i++)
        if (trace->marks[i].last > trace->marks[i].first)
            draw_mark(&drawing, &trace->marks[i]);
    draw_axes(&drawing);
    svg_line(page, "zero", LEFT, mean, WIDTH - RIGHT, mean);
    svg_group(page, "s1");
    for (size_t b = 0; b < trace->n_bins; b++)
        if (trace->bins[b].n > 0)
            b = draw_stretch(&drawing, b);
    svg_group_end(page);
    for (size_t i = 0; i < trace->n_marks; i++)
        if (trace->marks[i].last == trace->marks[i].first)
            draw_mark(&drawing, &trace->marks[i]);
    svg_end(page);
}
