/* chart_spectrum.c - see chart_spectrum.h. */
#include "report/chart_spectrum.h"

#include <math.h>
#include <stdio.h>

#include "report/scale.h"
#include "report/svg.h"

enum {
    WIDTH = 720,
    HEIGHT = 270,
    LEFT = 70,
    RIGHT = 60, /* with the confidence bar */
    TOP = 26,
    BOTTOM = 226,
    DECADES_MAX = 12 /* drawn below the highest: what is smaller is rounding */
};

double spectrum_frequency(const struct kept_trace *trace, size_t k)
{
    return (double)k / ((double)trace->segment_rows * trace->step);
}

struct log_range {
    double low, high; /* whole powers of ten */
};

/* Of positive values; those that are not have no logarithm. */
static struct log_range density_range(const struct kept_trace *trace)
{
    double low = INFINITY, high = -INFINITY;

    for (size_t k = 1; k + 1 < trace->n_densities; k++)
        if (trace->density[k] > 0)
            scale_widen(log10(trace->density[k]), &low, &high);
    if (!(high >= low))
        return (struct log_range){(double)NAN, (double)NAN};
    high = ceil(high + log10(trace->upper_factor));
    low = floor(low);
    return (struct log_range){fmax(low, high - DECADES_MAX), high};
}

/* 0.01, 1, 100, and 1e-7 where zeros would have to be counted. */
static void power_of_ten(int exponent, char *out, size_t size)
{
    if (exponent < -3 || exponent > 4)
        (void)snprintf(out, size, "1e%d", exponent);
    else
        (void)snprintf(out, size, "%.*f", exponent < 0 ? -exponent : 0, pow(10, exponent));
}

static void draw_up(struct html *page, const struct scale *y)
{
    char text[32];
    int from = (int)y->from, to = (int)y->to;
    int every = (to - from + 5) / 6;

    for (int power = from; power <= to; power += every > 0 ? every : 1) {
        double at = scale_at(y, power);
        power_of_ten(power, text, sizeof text);
        svg_line(page, "grid", LEFT, at, WIDTH - RIGHT, at);
        svg_text(page, "tick", ANCHOR_END, LEFT - 6, at + 4, text);
    }
}

/* 1, 2 and 5 of each power of ten that are within. */
static void draw_across(struct html *page, const struct scale *x)
{
    static const int steps[] = {1, 2, 5};
    char text[32];

    for (int power = (int)floor(x->from); power <= (int)ceil(x->to); power++)
        for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
            double value = power + log10(steps[i]);
            if (value < x->from || value > x->to)
                continue;
            (void)snprintf(text, sizeof text, "%.6g", steps[i] * pow(10, power));
            svg_line(page, "grid", scale_at(x, value), TOP, scale_at(x, value), BOTTOM);
            svg_text(page, "tick", ANCHOR_MIDDLE, scale_at(x, value), BOTTOM + 17, text);
        }
    svg_line(page, "axis", LEFT, BOTTOM, WIDTH - RIGHT, BOTTOM);
    svg_text(page, "axis-name", ANCHOR_END, WIDTH - RIGHT, BOTTOM + 37, "frequency, Hz");
}

static void draw_confidence(struct html *page, const struct kept_trace *trace,
                            const struct scale *y)
{
    double x = WIDTH - RIGHT + 18;
    double base = y->to - log10(trace->upper_factor);
    double top = scale_at(y, base + log10(trace->upper_factor));
    double bottom = scale_at(y, base + log10(trace->lower_factor));

    svg_line(page, "axis", x, top, x, bottom);
    svg_line(page, "axis", x - 4, top, x + 4, top);
    svg_line(page, "axis", x - 4, bottom, x + 4, bottom);
    svg_line(page, "axis", x - 4, scale_at(y, base), x + 4, scale_at(y, base));
    svg_text(page, "tick", ANCHOR_START, x + 8, scale_at(y, base) + 4, "95 %");
}

void chart_spectrum(struct html *page, const struct kept_trace *trace, const char *label)
{
    struct log_range range = density_range(trace);
    struct path line = {{0}, 0};
    char name[160];

    if (trace->n_densities < 4 || isnan(range.low))
        return;
    struct scale x =
        scale_make(log10(spectrum_frequency(trace, 1)),
                   log10(spectrum_frequency(trace, trace->n_densities - 2)), LEFT, WIDTH - RIGHT);
    struct scale y = scale_make(range.low, range.high, BOTTOM, TOP);
    svg_begin(page, "plot", WIDTH, HEIGHT, label);
    if (trace->unit[0] != '\0')
        (void)snprintf(name, sizeof name, "power spectral density, (%s)\xC2\xB2/Hz", trace->unit);
    else
        (void)snprintf(name, sizeof name, "power spectral density, 1/Hz");
    svg_text(page, "axis-name", ANCHOR_START, 2, TOP - 11, name);
    draw_up(page, &y);
    draw_across(page, &x);
    for (size_t k = 1; k + 1 < trace->n_densities; k++)
        path_point(&line, scale_at(&x, log10(spectrum_frequency(trace, k))),
                   trace->density[k] > 0 ? scale_at(&y, fmax(log10(trace->density[k]), range.low))
                                         : (double)NAN);
    svg_group(page, "s1");
    svg_path(page, "line thin", &line, NULL, NULL);
    svg_group_end(page);
    path_free(&line);
    draw_confidence(page, trace, &y);
    svg_end(page);
}
