/* flagging.c - writing flags; see flagging.h. */
#include "reduce/flagging.h"

#include <math.h>
#include <string.h>

struct flag_note flag_note_make(enum flag_rule rule, const char *run, const char *point,
                                const char *subject)
{
    struct flag_note note;
    memset(&note, 0, sizeof note);
    note.rule = rule;
    note.state = flag_row(rule)->state;
    note.run = run;
    note.point = point;
    note.subject = subject;
    note.value = (double)NAN;
    note.limit = (double)NAN;
    note.unit = "";
    note.effect = (double)NAN;
    return note;
}

enum status flagger_open(struct store *store, int64_t reduction, struct flagger *flagger,
                         struct fault *fault)
{
    flagger->reduction = reduction;
    return statement_prepare(
        store,
        "INSERT INTO flag_row (reduction, run, point, subject, rule, state, "
        "value, limit_value, unit, effect_counts, detail) VALUES (?,?,?,?,?,?,?,?,?,?,?)",
        &flagger->insert, fault);
}

enum status flagger_write(struct flagger *flagger, const struct flag_note *note,
                          struct fault *fault)
{
    const char *const texts[] = {note->run, note->point, note->subject, flag_row(note->rule)->code,
                                 flag_state_name(note->state)};
    struct statement *insert = flagger->insert;
    enum status status = statement_bind_integer(insert, 1, flagger->reduction, fault);
    for (int i = 0; status == OK && i < 5; i++)
        status = statement_bind_text(insert, i + 2, texts[i], fault);
    if (status == OK)
        status = statement_bind_real(insert, 7, note->value, fault);
    if (status == OK)
        status = statement_bind_real(insert, 8, note->limit, fault);
    if (status == OK)
        status = statement_bind_text(insert, 9, note->unit, fault);
    if (status == OK)
        status = statement_bind_real(insert, 10, note->effect, fault);
    if (status == OK)
        status = statement_bind_text(insert, 11, note->detail, fault);
    if (status == OK)
        status = statement_run(insert, fault);
    return status;
}

void flagger_end(struct flagger *flagger)
{
    statement_free(flagger->insert);
    flagger->insert = NULL;
}

enum flag_state flag_state_worse(enum flag_state a, enum flag_state b)
{
    return a > b ? a : b;
}
