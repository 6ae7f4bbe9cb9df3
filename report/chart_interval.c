/* chart_interval.c - see chart_interval.h. */
#include "report/chart_interval.h"

#include <math.h>
#include <stdio.h>

#include "report/number_text.h"
#include "report/scale.h"
#include "report/svg.h"

enum { HEIGHT = 22, THIN = 16, SIDE = 8 };

static const char *const tones[] = {"good", "bad", "plain", "muted"};

static struct scale across(const struct interval_scale *scale)
{
    return scale_make(-scale->reach, scale->reach, SIDE, scale->width - SIDE);
}

void interval_scale_add(struct interval_scale *scale, const struct interval *interval)
{
    const double ends[] = {interval->value, interval->lower, interval->upper};

    for (int i = 0; i < 3; i++)
        if (scale_takes(ends[i]))
            scale->reach = fmax(scale->reach, fabs(ends[i]));
}

void interval_scale_finish(struct interval_scale *scale)
{
    scale->reach = fmax(scale->reach, 1.25 * scale->strip);
    if (!(scale->reach > 0) || !scale_takes(scale->reach))
        scale->reach = 1;
    double step = scale_nice_step(scale->reach / 5);
    scale->reach = step * ceil(scale->reach / step);
}

int interval_excludes_zero(const struct interval *interval)
{
    return interval->lower > 0 || interval->upper < 0;
}

void chart_interval(struct html *page, const struct interval_scale *scale,
                    const struct interval *interval, const char *label)
{
    struct scale x = across(scale);
    double height = interval->thin ? THIN : HEIGHT;
    double middle = height / 2;
    double low = scale_at(&x, interval->lower);
    double high = scale_at(&x, interval->upper);
    char class[40];

    (void)snprintf(class, sizeof class, "cell %s%s", tones[interval->tone],
                   interval->thin ? " thin" : "");
    svg_begin(page, class, scale->width, height, label);
    if (scale->strip > 0) {
        double edge = scale_at(&x, -scale->strip);
        svg_rect(page, "strip", edge, 0, scale_at(&x, scale->strip) - edge, height, NULL, NULL);
    }
    svg_line(page, "zero", scale_at(&x, 0), 0, scale_at(&x, 0), height);
    svg_line(page, "range", low, middle, high, middle);
    if (!interval->thin) {
        svg_line(page, "range", low, middle - 4, low, middle + 4);
        svg_line(page, "range", high, middle - 4, high, middle + 4);
    }
    svg_circle(page, interval_excludes_zero(interval) ? "mark" : "mark hollow",
               scale_at(&x, interval->value), middle, interval->thin ? 3.2 : 4.4, NULL, label);
    svg_end(page);
}

void chart_interval_axis(struct html *page, const struct interval_scale *scale)
{
    struct scale x = across(scale);
    int decimals = scale_ticks(&x, 10).decimals; /* the reach is a whole number of these */
    struct number_text low = number_text_delta(-scale->reach, decimals);
    struct number_text high = number_text_delta(scale->reach, decimals);
    char label[220];

    (void)snprintf(label, sizeof label, "scale of the intervals below, from %s to %s", low.text,
                   high.text);
    svg_begin(page, scale->is_thin ? "cell thin" : "cell", scale->width, 16, label);
    svg_text(page, "tick", ANCHOR_START, 0, 11, low.text);
    svg_text(page, "tick", ANCHOR_MIDDLE, scale_at(&x, 0), 11, "0");
    svg_text(page, "tick", ANCHOR_END, scale->width, 11, high.text);
    for (int i = -1; i <= 1; i++) {
        double at = scale_at(&x, i * scale->reach);
        svg_line(page, "axis", at, 13, at, 16);
    }
    svg_end(page);
}
