/* drawn_cell.c - see drawn_cell.h. */
#include "tests/drawn_cell.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tests/check.h"

struct svg_axis drawn_head_axis(struct svg head)
{
    struct svg_axis axis = {.n = 0};
    const char *line = svg_next_class(head.from, head.stop, "axis");
    const char *tick = svg_next_class(head.from, head.stop, "tick");

    while (line != NULL && tick != NULL && axis.n < 3) {
        CHECK_NEAR(svg_attribute(line, "x1"), svg_attribute(line, "x2"), 0, "upright");
        axis.place[axis.n] = svg_attribute(line, "x1");
        axis.value[axis.n++] = page_number(strchr(tick, '>') + 1);
        line = svg_next_class(line, head.stop, "axis");
        tick = svg_next_class(tick, head.stop, "tick");
    }
    CHECK(axis.n == 3 && line == NULL && tick == NULL);
    CHECK_NEAR(svg_value(&axis, axis.place[1]), axis.value[1], svg_near(&axis), "one line");
    return axis;
}

struct svg_axis drawn_strip_axis(struct svg cell, double strip)
{
    struct svg_axis axis = {.n = 2};
    const char *rect = svg_next_class(cell.from, cell.stop, "strip");
    const char *zero = svg_next_class(cell.from, cell.stop, "zero");

    CHECK(rect != NULL && zero != NULL && strip > 0);
    axis.place[0] = svg_attribute(zero, "x1");
    axis.place[1] = svg_attribute(rect, "x") + svg_attribute(rect, "width");
    axis.value[1] = strip;
    CHECK_NEAR(svg_attribute(rect, "x"), 2 * axis.place[0] - axis.place[1], 0.03,
               "as wide on both sides of zero");
    return axis;
}

/* Upright lines at both ends, where the cell is tall enough for them. */
static void check_caps(struct svg cell, const char *range)
{
    const char *cap = svg_next_class(range, cell.stop, "range");
    int caps = 0;

    for (; cap != NULL; cap = svg_next_class(cap, cell.stop, "range"), caps++)
        CHECK_NEAR(svg_attribute(cap, "x1"), svg_attribute(range, caps == 0 ? "x1" : "x2"), 0,
                   "at the end");
    CHECK(caps == (svg_is(cell.from, "thin") ? 0 : 2));
}

int drawn_cell_read(struct svg cell, const struct svg_axis *axis, struct drawn_cell *out)
{
    const char *range = svg_next_class(cell.from, cell.stop, "range");
    const char *mark = svg_next_class(cell.from, cell.stop, "mark");
    const char *zero = svg_next_class(cell.from, cell.stop, "zero");
    const char *strip = svg_next_class(cell.from, cell.stop, "strip");

    *out = (struct drawn_cell){NAN, NAN, NAN, NAN, 0, cell.from};
    CHECK(zero != NULL && (range != NULL) == (mark != NULL));
    if (range == NULL || mark == NULL || zero == NULL)
        return 0;
    CHECK_NEAR(svg_value(axis, svg_attribute(zero, "x1")), 0, svg_near(axis), "zero is at zero");
    out->lower = svg_value(axis, svg_attribute(range, "x1"));
    out->upper = svg_value(axis, svg_attribute(range, "x2"));
    out->value = svg_value(axis, svg_centre(mark).x);
    out->is_hollow = svg_is(mark, "hollow");
    CHECK(svg_attribute(range, "x1") < svg_attribute(range, "x2"));
    check_caps(cell, range);
    if (strip != NULL) {
        double left = svg_attribute(strip, "x");
        out->strip = svg_value(axis, left + svg_attribute(strip, "width"));
        CHECK_NEAR(svg_value(axis, left), -out->strip, 2 * svg_near(axis), "about zero");
    }
    if (fabs(out->lower) > svg_near(axis) && fabs(out->upper) > svg_near(axis))
        CHECK(out->is_hollow == (out->lower <= 0 && out->upper >= 0));
    return 1;
}

const char *drawn_word(const struct drawn_cell *cell, const char *better)
{
    int is_up = cell->lower > 0, is_down = cell->upper < 0;

    if (cell->lower >= -cell->strip && cell->upper <= cell->strip)
        return "no change that matters";
    if (!is_up && !is_down)
        return "can't tell yet";
    if (strcmp(better, "higher") == 0)
        return is_up ? "gain" : "loss";
    if (strcmp(better, "lower") == 0)
        return is_down ? "gain" : "loss";
    return "changed";
}

int drawn_is_told(const struct drawn_cell *cell, const struct svg_axis *axis)
{
    double least = INFINITY;
    const double ends[] = {cell->lower, cell->upper};

    for (int i = 0; i < 2; i++)
        least = fmin(least, fmin(fabs(ends[i]), fabs(fabs(ends[i]) - cell->strip)));
    return least > 2 * svg_near(axis);
}

static const struct {
    const char *word, *chip, *symbol, *tone;
} looks[] = {{"gain", "good", "\xE2\x9C\x93", "good"},
             {"loss", "bad", "\xE2\x9C\x97", "bad"},
             {"no change that matters", "plain", "=", "muted"},
             {"can't tell yet", "look", "?", "muted"},
             {"changed", "plain", "\xE2\x97\x86", "plain"}};

void drawn_chip(const char *from, const char *stop, char out[40])
{
    static const char quote[] = "&#39;";
    const char *chip = svg_next_class(from, stop, "chip");
    const char *symbol = svg_next(chip, stop, "<span aria-hidden=\"true\">");
    const char *word = svg_next(symbol, stop, "</span>");
    char text[48] = "";

    CHECK(word != NULL);
    out[0] = '\0';
    if (word == NULL)
        return;
    word += strlen("</span>");
    (void)snprintf(text, sizeof text, "%.*s", (int)strcspn(word, "<"), word);
    const char *at = strstr(text, quote);
    if (at != NULL)
        (void)snprintf(out, 40, "%.*s'%s", (int)(at - text), text, at + strlen(quote));
    else
        (void)snprintf(out, 40, "%.39s", text);
    for (size_t i = 0; i < sizeof looks / sizeof looks[0]; i++)
        if (strcmp(looks[i].word, out) == 0) {
            const char *sign = symbol + strlen("<span aria-hidden=\"true\">");
            CHECK(svg_is(chip, looks[i].chip));
            CHECK(strncmp(sign, looks[i].symbol, strlen(looks[i].symbol)) == 0);
        }
}

void drawn_tone(const struct drawn_cell *cell, const char *word)
{
    for (size_t i = 0; i < sizeof looks / sizeof looks[0]; i++)
        if (strcmp(looks[i].word, word) == 0)
            CHECK(svg_is(cell->svg, looks[i].tone));
}
