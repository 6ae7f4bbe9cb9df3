/* glance_text.c - see glance_text.h. */
#include "report/glance_text.h"

#include <math.h>
#include <stdio.h>

#include "report/glance_words.h"
#include "report/terminal_text.h"
#include "schema/number.h"

enum { METRICS_SHOWN = 4, NARROW = 6, WIDE = 9, WORD = 11 };

typedef void line_writer(const struct glance *glance, struct buffer *out);

/* A line that was built of names, which may hold anything. */
static void add_line(const struct glance *glance, line_writer *write, struct buffer *out)
{
    struct buffer line = {0};
    write(glance, &line);
    terminal_text(out, buffer_string(&line));
    buffer_text(out, "\n");
    out->failed |= line.failed;
    buffer_free(&line);
}

void glance_text_verdict(const struct glance *glance, struct buffer *out)
{
    add_line(glance, glance_verdict_line, out);
}

static void add_reasons(const struct glance *glance, struct buffer *out)
{
    for (size_t i = 0; i < glance->n_reasons; i++) {
        const struct glance_reason *reason = &glance->reasons[i];
        buffer_text(out, reason->verdict == GLANCE_REPEAT ? "  repeat now: " : "  look at: ");
        terminal_text(out, reason->text);
        buffer_text(out, ". ");
        terminal_text(out, reason->action);
        buffer_text(out, "\n");
    }
    for (size_t i = 0; i < glance->n_notes; i++) {
        buffer_text(out, "  note: ");
        terminal_text(out, glance->notes[i]);
        buffer_text(out, "\n");
    }
}

static void add_number(struct buffer *out, double value, int decimals, size_t width)
{
    char text[64] = "n/a";
    if (isfinite(value))
        (void)number_print_fixed(value, decimals, text, sizeof text);
    terminal_cell(out, text, width, 1);
}

static size_t metrics_shown(const struct glance *glance)
{
    return glance->n_metrics < METRICS_SHOWN ? glance->n_metrics : METRICS_SHOWN;
}

/* Widths of the two columns of names. */
struct names {
    size_t label, target;
};

static const char *target_name(const struct glance *glance, const struct glance_point *point)
{
    return point->target == GLANCE_NO_TARGET ? "-" : glance->targets[point->target].name;
}

static struct names widths_of(const struct glance *glance)
{
    struct names names = {5, 6};
    for (size_t i = 0; i < glance->n_points; i++) {
        size_t label = terminal_width(glance->points[i].label);
        size_t target = terminal_width(target_name(glance, &glance->points[i]));
        names.label = label > names.label ? label : names.label;
        names.target = target > names.target ? target : names.target;
    }
    return names;
}

static void add_head(const struct glance *glance, const struct names *names, struct buffer *out)
{
    char text[40];
    terminal_cell(out, "point", names->label, 0);
    terminal_cell(out, "target", names->target, 0);
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++) {
        struct glance_axis about = glance_axis_of(axis);
        (void)snprintf(text, sizeof text, "%s %s", about.symbol, about.unit);
        if (glance->is_named[axis])
            terminal_cell(out, text, WIDE, 1);
    }
    terminal_cell(out, "q Pa", WIDE, 1);
    for (size_t m = 0; m < metrics_shown(glance); m++) {
        terminal_cell(out, quantity_row(glance->metrics[m].quantity)->symbol, WIDE, 1);
        terminal_cell(out, "u", NARROW, 1);
    }
    terminal_cell(out, "reached", WORD, 0);
    buffer_text(out, "state\n");
}

static void add_point(const struct glance *glance, const struct glance_point *point,
                      const struct names *names, struct buffer *out)
{
    terminal_cell(out, point->label, names->label, 0);
    terminal_cell(out, target_name(glance, point), names->target, 0);
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++)
        if (glance->is_named[axis])
            add_number(out, glance_axis_of(axis).factor * point->attitude[axis], 2, WIDE);
    add_number(out, point->dynamic_pressure, 1, WIDE);
    for (size_t m = 0; m < metrics_shown(glance); m++) {
        int decimals = glance_decimals(glance->metrics[m].quantity);
        add_number(out, point->values[m].value, decimals, WIDE);
        add_number(out, point->values[m].uncertainty, decimals, NARROW);
    }
    terminal_cell(out, glance_reach_word(point), WORD, 0);
    buffer_format(out, "%s\n", glance_state_word(point));
}

static void add_missing(const struct glance *glance, int is_needed, struct buffer *out)
{
    struct buffer line = {0};
    glance_missing_line(glance, is_needed, &line);
    if (line.length > 0) {
        terminal_text(out, buffer_string(&line));
        buffer_text(out, "\n");
    }
    out->failed |= line.failed;
    buffer_free(&line);
}

void glance_text(const struct glance *glance, struct buffer *out)
{
    glance_text_verdict(glance, out);
    add_line(glance, glance_run_line, out);
    if (glance->n_points > 0)
        add_line(glance, glance_count_line, out);
    add_reasons(glance, out);
    if (glance->n_points == 0)
        return;
    struct names names = widths_of(glance);
    buffer_text(out, "\n");
    add_head(glance, &names, out);
    for (size_t i = 0; i < glance->n_points; i++)
        add_point(glance, &glance->points[i], &names, out);
    buffer_text(out, "u: standard uncertainty within the point; downforce positive\n");
    for (int is_needed = 1; is_needed >= 0; is_needed--)
        add_missing(glance, is_needed, out);
}
