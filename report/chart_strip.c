/* chart_strip.c - see chart_strip.h. */
#include "report/chart_strip.h"

#include <math.h>
#include <stdio.h>

#include "report/number_text.h"
#include "report/scale.h"
#include "report/time_text.h"

enum { WIDTH = 1280, HEIGHT = 262, LEFT = 52, RIGHT = 16, TOP = 24, PLOT_BOTTOM = 158, LANE = 204 };

static struct scale time_scale(const struct strip_chart *chart)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < chart->n_marks; i++)
        scale_widen(chart->marks[i].time, &low, &high);
    for (size_t i = 0; i < chart->n_runs; i++)
        scale_widen(chart->runs[i].time, &low, &high);
    double room = fmax(0.015 * (high - low), 60);
    return scale_make(low - room, high + room, LEFT, WIDTH - RIGHT);
}

static struct scale value_scale(const struct strip_chart *chart)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < chart->n_marks; i++)
        scale_widen(chart->marks[i].value, &low, &high);
    scale_nice_range(&low, &high, 4);
    return scale_make(low, high, PLOT_BOTTOM, TOP);
}

static void draw_value_axis(struct html *page, const struct strip_chart *chart,
                            const struct scale *value)
{
    struct ticks ticks = scale_ticks(value, 4);

    if (chart->n_marks == 0) { /* a scale of nothing would look like one of zeros */
        svg_text(page, "axis-name", ANCHOR_START, 2, 12, "no mounting has a value");
        return;
    }
    svg_text(page, "axis-name", ANCHOR_START, 2, 12, chart->y_name);
    for (int i = 0; i < ticks.n; i++) {
        double y = scale_at(value, ticks.value[i]);
        svg_line(page, "grid", LEFT, y, WIDTH - RIGHT, y);
        svg_text(page, "tick", ANCHOR_END, LEFT - 6, y + 4,
                 number_text_plain(ticks.value[i], ticks.decimals).text);
    }
}

static void draw_clock(struct html *page, const struct strip_chart *chart, const struct scale *time)
{
    double step = time_tick_step(time->to - time->from, 12);
    double first = ceil((time->from + chart->zone_offset) / step) * step - chart->zone_offset;
    char name[80];

    svg_line(page, "axis", LEFT, LANE + 18, WIDTH - RIGHT, LANE + 18);
    for (int i = 0; i < 16 && first + i * step <= time->to; i++) {
        double x = scale_at(time, first + i * step);
        svg_line(page, "axis", x, LANE + 18, x, LANE + 22);
        svg_text(page, "tick", ANCHOR_MIDDLE, x, LANE + 36,
                 time_clock(first + i * step, chart->zone_offset).text);
    }
    (void)snprintf(name, sizeof name, "clock time, %s", time_zone(chart->zone_offset).text);
    svg_text(page, "axis-name", ANCHOR_END, WIDTH - RIGHT, LANE + 54, name);
}

static void draw_baseline(struct html *page, const struct strip_chart *chart,
                          const struct scale *time, const struct scale *value)
{
    struct path path = {0};

    for (size_t i = 0; i < chart->n_marks; i++)
        if (chart->marks[i].is_baseline)
            path_point(&path, scale_at(time, chart->marks[i].time),
                       scale_at(value, chart->marks[i].value));
    svg_group(page, "s0");
    svg_path(page, "line", &path, NULL, NULL);
    svg_group_end(page);
    path_free(&path);
}

static void draw_marks(struct html *page, const struct strip_chart *chart, const struct scale *time,
                       const struct scale *value)
{
    svg_group(page, "lane");
    for (size_t i = 0; i < chart->n_marks; i++) {
        const struct strip_mark *mark = &chart->marks[i];
        svg_group(page, mark->look.class);
        svg_marker(page, "mark", mark->look.marker, scale_at(time, mark->time),
                   scale_at(value, mark->value), mark->is_baseline ? 5.5 : 4.5, mark->title);
        svg_group_end(page);
    }
    svg_group_end(page);
}

static void draw_run(struct html *page, const struct strip_run *run, double x)
{
    double tall = run->is_baseline ? 32 : 18;

    svg_group(page, run->look.class);
    if (run->is_quarantined)
        svg_marker(page, "crossed", MARKER_CROSS, x, LANE, 5, run->title);
    else
        svg_rect(page, "run", x - 2.5, LANE + 16 - tall, 5, tall, NULL, run->title);
    if (run->is_flagged)
        svg_circle(page, "ring", x, LANE + 16 - tall - 8, 4, NULL, NULL);
    svg_group_end(page);
}

void chart_strip(struct html *page, const struct strip_chart *chart)
{
    struct scale time = time_scale(chart);
    struct scale value = value_scale(chart);

    svg_begin(page, "plot wide", WIDTH, HEIGHT, chart->label);
    draw_value_axis(page, chart, &value);
    draw_clock(page, chart, &time);
    draw_baseline(page, chart, &time, &value);
    draw_marks(page, chart, &time, &value);
    svg_text(page, "tick", ANCHOR_END, LEFT - 6, LANE + 12, "runs");
    svg_group(page, "lane");
    for (size_t i = 0; i < chart->n_runs; i++)
        draw_run(page, &chart->runs[i], scale_at(&time, chart->runs[i].time));
    svg_group_end(page);
    svg_end(page);
}
