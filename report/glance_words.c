/* glance_words.c - see glance_words.h. */
#include "report/glance_words.h"

#include <string.h>

enum { NAMED_REASONS = 3, NAMED_TARGETS = 6 };

static void add_reasons(const struct glance *glance, struct buffer *out)
{
    size_t n = 0;
    size_t named = 0;
    for (size_t i = 0; i < glance->n_reasons; i++)
        n += glance->reasons[i].verdict == glance->verdict;
    for (size_t i = 0; i < glance->n_reasons && named < NAMED_REASONS; i++)
        if (glance->reasons[i].verdict == glance->verdict)
            buffer_format(out, "%s%s", named++ > 0 ? "; " : "", glance->reasons[i].what);
    if (n > named)
        buffer_format(out, "; and %zu more", n - named);
}

/* A run in which nothing was measured that the main measure wants is usable for something else only. */
static int has_tried_none(const struct glance *glance)
{
    size_t needed = 0;
    for (size_t i = 0; i < glance->n_targets; i++) {
        if (!glance->targets[i].is_needed)
            continue;
        if (glance->targets[i].is_tried || glance->targets[i].is_covered)
            return 0;
        needed++;
    }
    return needed > 0 && glance->n_points > 0;
}

void glance_verdict_line(const struct glance *glance, struct buffer *out)
{
    static const char *const words[] = {
        [GLANCE_USABLE] = "usable",
        [GLANCE_LOOK] = "usable, look at: ",
        [GLANCE_REPEAT] = "repeat now: ",
    };
    if (glance->verdict != GLANCE_REPEAT && has_tried_none(glance))
        buffer_text(out, "no target of the main measure was measured; else ");
    buffer_text(out, words[glance->verdict]);
    if (glance->verdict != GLANCE_USABLE)
        add_reasons(glance, out);
}

void glance_run_line(const struct glance *glance, struct buffer *out)
{
    buffer_format(out, "%s: %s, facility %s, entry %s, started %s", glance->run,
                  glance->configuration, glance->facility, glance->entry, glance->start_text);
}

const char *glance_state_word(const struct glance_point *point)
{
    return point->state == FLAG_INFO ? "ok" : flag_state_name(point->state);
}

const char *glance_reach_word(const struct glance_point *point)
{
    static const char *const words[] = {
        [REACH_NONE] = "no target",       [REACH_AT] = "at target",   [REACH_CARRIED] = "carried",
        [REACH_NO_SLOPE] = "not carried", [REACH_OFF] = "off target",
    };
    return words[point->reach];
}

static void add_states(const struct glance *glance, struct buffer *out)
{
    const char *before = ": ";
    buffer_format(out, "%zu point%s", glance->n_points, glance->n_points == 1 ? "" : "s");
    for (int state = FLAG_INFO; state <= FLAG_REFUSED; state++) {
        size_t n = 0;
        for (size_t i = 0; i < glance->n_points; i++)
            n += glance->points[i].state == (enum flag_state)state;
        if (n == 0)
            continue;
        buffer_format(out, "%s%zu %s", before, n,
                      state == FLAG_INFO ? "ok" : flag_state_name((enum flag_state)state));
        before = ", ";
    }
}

void glance_count_line(const struct glance *glance, struct buffer *out)
{
    size_t needed = 0;
    size_t covered = 0;
    add_states(glance, out);
    for (size_t i = 0; i < glance->n_targets; i++) {
        needed += glance->targets[i].is_needed != 0;
        covered += glance->targets[i].is_needed && glance->targets[i].is_covered;
    }
    if (needed > 0 && glance->n_metrics > 0)
        buffer_format(out, "; main measure (%s, %s): %zu of %zu target%s covered",
                      quantity_row(glance->metrics[0].quantity)->symbol, glance->main_attitude,
                      covered, needed, needed == 1 ? "" : "s");
}

/* Targets of one kind that are not covered: tried in vain, or not measured at all. */
static size_t add_missing(const struct glance *glance, int is_needed, int is_tried,
                          const char *before, struct buffer *out)
{
    size_t n = 0;
    for (size_t i = 0; i < glance->n_targets; i++) {
        const struct glance_target *target = &glance->targets[i];
        if (target->is_needed != is_needed || target->is_covered || target->is_tried != is_tried)
            continue;
        if (n == 0)
            buffer_text(out, before);
        if (n < NAMED_TARGETS || is_needed)
            buffer_format(out, "%s%s", n > 0 ? ", " : "", target->name);
        n++;
    }
    if (n > NAMED_TARGETS && !is_needed)
        buffer_format(out, " and %zu more", n - NAMED_TARGETS);
    if (n > 0)
        buffer_text(out, is_tried ? ": not usable" : ": not measured");
    return n;
}

void glance_missing_line(const struct glance *glance, int is_needed, struct buffer *out)
{
    const char *first = is_needed ? "targets of the main measure: " : "other targets: ";
    size_t n = add_missing(glance, is_needed, 1, first, out);
    (void)add_missing(glance, is_needed, 0, n > 0 ? "; " : first, out);
}

int glance_decimals(enum quantity quantity)
{
    if (quantity == QUANTITY_BALANCE)
        return 2;
    return quantity == QUANTITY_LD ? 3 : 4;
}

struct glance_axis glance_axis_of(int axis)
{
    static const struct glance_axis axes[] = {
        [ATTITUDE_FRONT_RIDE_HEIGHT] = {"front", "mm", 1e3},
        [ATTITUDE_REAR_RIDE_HEIGHT] = {"rear", "mm", 1e3},
        [ATTITUDE_YAW] = {"yaw", "deg", 57.295779513082321},
        [ATTITUDE_ROLL] = {"roll", "deg", 57.295779513082321},
        [ATTITUDE_PITCH] = {"pitch", "deg", 57.295779513082321},
        [ATTITUDE_STEER] = {"steer", "deg", 57.295779513082321},
    };
    return axes[axis];
}
