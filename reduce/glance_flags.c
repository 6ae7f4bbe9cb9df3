/* glance_flags.c - the flags of the run, and what they make of its points and targets. */
#include <string.h>

#include "reduce/flagging.h"
#include "reduce/glance_parts.h"
#include "reduce/glance_verdict.h"
#include "reduce/rows.h"

/* A flag is known when an earlier run of the entry had it of the same subject. */
static const char flags_sql[] =
    "SELECT f.rule, f.state, f.point, f.subject, f.value, f.limit_value, f.detail, "
    "EXISTS (SELECT 1 FROM run AS u JOIN flag AS g ON g.run = u.run WHERE g.rule = f.rule "
    "AND g.subject = f.subject AND u.facility = r.facility AND u.entry = r.entry "
    "AND u.start_s < r.start_s), "
    "EXISTS (SELECT 1 FROM tap AS t WHERE t.tap = f.subject), "
    "(SELECT printf('%.2f s into point %s', m.first_row * t.step_s, t.point) FROM flag_trace AS x "
    "JOIN trace AS t ON t.run = x.run AND t.point = x.point AND t.position = x.position "
    "JOIN trace_mark AS m ON m.run = x.run AND m.point = x.point AND m.position = x.position "
    "WHERE x.run = f.run AND x.rule = f.rule AND x.subject = f.subject AND f.point IN "
    "('', x.point) AND m.mark = 0 AND t.step_s > 0 "
    "ORDER BY x.severity DESC, x.point, x.position LIMIT 1) "
    "FROM flag AS f JOIN run AS r ON r.run = f.run "
    "LEFT JOIN point AS p ON p.run = f.run AND p.point = f.point "
    "WHERE f.run = ?1 ORDER BY p.sequence, f.point, f.rule, f.subject";

static int point_index(const struct glance *glance, const char *label)
{
    for (size_t i = 0; label != NULL && label[0] != '\0' && i < glance->n_points; i++)
        if (strcmp(glance->points[i].label, label) == 0)
            return (int)i;
    return GLANCE_WHOLE_RUN;
}

static enum flag_state state_of(const char *name)
{
    for (int i = FLAG_REFUSED; i > FLAG_INFO; i--)
        if (name != NULL && strcmp(flag_state_name((enum flag_state)i), name) == 0)
            return (enum flag_state)i;
    return FLAG_INFO;
}

static enum status take_flag(struct glance *glance, struct statement *row, struct fault *fault)
{
    enum flag_rule rule = flag_rule_from_code(statement_text(row, 0));
    void *items = glance->flags;
    if (rule == FLAG_RULE_COUNT)
        return OK;
    struct glance_flag *flag =
        glance_add(&items, &glance->n_flags, &glance->flags_capacity, sizeof *flag, fault);
    if (flag == NULL)
        return NO_MEMORY;
    glance->flags = items;
    flag->rule = rule;
    flag->state = state_of(statement_text(row, 1));
    flag->point = point_index(glance, statement_text(row, 2));
    flag->value = statement_real(row, 4);
    flag->limit = statement_real(row, 5);
    flag->is_known = (int)statement_integer(row, 7);
    flag->is_of_taps = glance_rule_is_of_taps(rule) || statement_integer(row, 8) != 0;
    enum status status = glance_keep(glance, statement_text(row, 3), &flag->subject, fault);
    if (status == OK)
        status = glance_keep(glance, statement_text(row, 6), &flag->detail, fault);
    return status == OK ? glance_keep(glance, statement_text(row, 9), &flag->first, fault) : status;
}

/* A slope that the configuration's points do not bear yet says nothing against the point. */
static void mark_points(struct glance *glance)
{
    for (size_t i = 0; i < glance->n_flags; i++) {
        const struct glance_flag *flag = &glance->flags[i];
        if (flag->point == GLANCE_WHOLE_RUN)
            continue;
        enum flag_state state = flag->rule == FLAG_TARGET_REFUSED ? FLAG_FLAGGED : flag->state;
        struct glance_point *point = &glance->points[flag->point];
        point->state = flag_state_worse(point->state, state);
    }
    for (size_t i = 0; glance->refused[0] != '\0' && i < glance->n_points; i++)
        glance->points[i].state = FLAG_REFUSED;
}

static void mark_targets(struct glance *glance)
{
    for (size_t i = 0; i < glance->n_points; i++) {
        const struct glance_point *point = &glance->points[i];
        if (point->target == GLANCE_NO_TARGET)
            continue;
        struct glance_target *target = &glance->targets[point->target];
        target->is_tried = 1;
        target->is_covered |= point->state <= FLAG_FLAGGED && point->reach != REACH_OFF;
    }
}

enum status glance_flags(struct glance_work *work, struct fault *fault)
{
    struct glance *glance = work->glance;
    struct statement *statement = NULL;
    int row = 0;
    enum status status =
        rows_open(work->run.night->store, flags_sql, &glance->run, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row)
        status = take_flag(glance, statement, fault);
    statement_free(statement);
    if (status != OK)
        return status;
    mark_points(glance);
    mark_targets(glance);
    return OK;
}
