/* svg_axis.c - see svg_axis.h. */
#include "tests/svg_axis.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"

static const double below = 4;       /* of a line is the text of its tick */
static const double written = 0.011; /* two places, each rounded to a hundredth */

static int is_number(const char *text, enum svg_labels labels, double *value)
{
    static const char minus[] = "\xE2\x88\x92";
    char *end = NULL;
    const char *digits = strncmp(text, minus, 3) == 0 ? text + 3 : text;
    double size = strtod(digits, &end);

    if (end == digits)
        return 0;
    if (labels == SVG_CLOCK && *end == ':') {
        const char *minutes = end + 1;
        *value = 3600 * size + 60 * strtod(minutes, &end);
        return *end == '<';
    }
    *value = labels == SVG_LOG ? log10(size) : page_number(text);
    return labels != SVG_CLOCK && *end == '<';
}

static int is_of_way(const char *tick, enum svg_way way)
{
    static const char *const anchors[] = {"middle", "end", ""};
    char anchor[16];

    svg_attribute_text(tick, "text-anchor", anchor, sizeof anchor);
    return strcmp(anchor, anchors[way]) == 0;
}

/* A line across the drawing, or a short one at its left, where the tick says. */
static int has_line(struct svg drawing, double place)
{
    for (const char *at = drawing.from; (at = svg_next(at, drawing.stop, "<line ")) != NULL; at++)
        if (fabs(svg_attribute(at, "y1") - place) < written &&
            fabs(svg_attribute(at, "y2") - place) < written)
            return 1;
    return 0;
}

static void check(const struct svg_axis *axis)
{
    CHECK(axis->n >= 2);
    for (int i = 0; i < axis->n; i++) {
        CHECK_NEAR(axis->place[i], svg_place_of(axis, axis->value[i]), written, "identity");
        CHECK(i == 0 || fabs(axis->place[i] - axis->place[i - 1]) > 1);
        CHECK(i == 0 || fabs(axis->value[i] - axis->value[i - 1]) > 0);
    }
}

struct svg_axis svg_axis_read(struct svg drawing, enum svg_way way, enum svg_labels labels)
{
    struct svg_axis axis = {.n = 0};
    const double day = 86400;

    CHECK(drawing.from != NULL);
    for (const char *at = svg_next_class(drawing.from, drawing.stop, "tick");
         at != NULL && axis.n < SVG_TICKS; at = svg_next_class(at, drawing.stop, "tick")) {
        const char *end = strchr(at, '>');
        double value;
        if (end == NULL || !is_of_way(at, way) || !is_number(end + 1, labels, &value))
            continue;
        double place = way == SVG_ACROSS ? svg_attribute(at, "x") : svg_attribute(at, "y") - below;
        if (labels == SVG_CLOCK && axis.n > 0 && value < axis.value[axis.n - 1])
            value += day;
        CHECK(way != SVG_UP || has_line(drawing, place));
        axis.place[axis.n] = place;
        axis.value[axis.n++] = value;
    }
    check(&axis);
    return axis;
}

static double each(const struct svg_axis *axis)
{
    int last = axis->n - 1;

    return last > 0 ? (axis->value[last] - axis->value[0]) / (axis->place[last] - axis->place[0])
                    : (double)NAN;
}

double svg_value(const struct svg_axis *axis, double place)
{
    return axis->value[0] + each(axis) * (place - axis->place[0]);
}

double svg_place_of(const struct svg_axis *axis, double value)
{
    return axis->place[0] + (value - axis->value[0]) / each(axis);
}

double svg_near(const struct svg_axis *axis)
{
    return 0.02 * fabs(each(axis));
}
