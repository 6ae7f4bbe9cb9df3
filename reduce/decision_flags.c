/* decision_flags.c - flags of decisions; see decision_flags.h. */
#include "reduce/decision_flags.h"

#include <stdio.h>
#include <string.h>

#include "reduce/decisions.h"

void decision_say(const struct decision_row *decision, const char *what, char *out, size_t size)
{
    (void)snprintf(out, size, "%s by %s on %s: %s", what, decision->who, decision->decided,
                   decision->why);
}

static enum status write(struct flagger *flagger, enum flag_rule rule,
                         const struct decision_row *decision, const char *point, const char *what,
                         struct fault *fault)
{
    struct flag_note note = flag_note_make(rule, decision->run, point, "");
    decision_say(decision, what, note.detail, sizeof note.detail);
    return flagger_write(flagger, &note, fault);
}

enum status decision_flag_restored(struct flagger *flagger, const struct decision_row *decision,
                                   const char *point, const char *rule, struct fault *fault)
{
    char what[120];
    (void)snprintf(what, sizeof what, "taken in although %.80s", rule);
    return write(flagger, FLAG_POINT_RESTORED, decision, point, what, fault);
}

enum status decision_flag_idle(struct flagger *flagger, const struct decision_row *decision,
                               const char *point, const char *reason, struct fault *fault)
{
    struct flag_note note = flag_note_make(FLAG_DECISION_WITHOUT_EFFECT, decision->run, point, "");
    (void)snprintf(note.detail, sizeof note.detail,
                   "to %s it, as %s decided on %s, changes nothing: %s",
                   decision_name(decision->decision), decision->who, decision->decided, reason);
    return flagger_write(flagger, &note, fault);
}

/* A point of an excluded run that its own row keeps in. */
static int is_kept_in(const struct decision_list *list, const struct decision_row *decision)
{
    const struct decision_row *whole = decision_on(list, decision->run, "");
    return decision->decision == DECISION_RESTORE && decision->point[0] != '\0' && whole != NULL &&
           whole->decision == DECISION_EXCLUDE;
}

enum status decision_flag_point(struct flagger *flagger, const struct run_work *work,
                                const struct reduced_point *made, struct fault *fault)
{
    const struct decision_list *list = &work->night->decisions;
    const char *point = made->point->point;
    const struct decision_row *decision = decision_for(list, work->run->run, point);
    if (decision == NULL)
        return OK;
    int is_own = decision->point[0] != '\0';
    enum point_state rules = point_state_of_rules(made->state);
    enum point_state state = point_state_decided(rules, decision->decision);
    if (state == POINT_RESTORED)
        return decision_flag_restored(flagger, decision, point, "a rule failed it", fault);
    if (!is_own)
        return OK;
    if (state == POINT_EXCLUDED)
        return write(flagger, FLAG_POINT_EXCLUDED, decision, point, "excluded", fault);
    if (state == POINT_REFUSED)
        return decision_flag_idle(flagger, decision, point,
                                  "the point is refused, it has no number", fault);
    if (is_kept_in(list, decision))
        return decision_flag_restored(flagger, decision, point, "its run is excluded", fault);
    return OK; /* the target stage knows whether there is anything to restore */
}

enum status decision_flag_run(struct flagger *flagger, const struct run_work *work,
                              struct fault *fault)
{
    const struct decision_list *list = &work->night->decisions;
    enum status status = OK;
    for (size_t i = 0; status == OK && i < list->n; i++) {
        const struct decision_row *decision = &list->rows[i];
        if (strcmp(decision->run, work->run->run) != 0)
            continue;
        if (decision->point[0] == '\0' && decision->decision == DECISION_EXCLUDE)
            status = write(flagger, FLAG_POINT_EXCLUDED, decision, "", "whole run excluded", fault);
        else if (decision->point[0] != '\0' && run_data_point(&work->data, decision->point) == NULL)
            status = decision_flag_idle(flagger, decision, decision->point,
                                        "the run has no such point", fault);
    }
    return status;
}
