/* glance_reasons.c - flags gathered into reasons, and what is common to all; see glance_reasons.h. */
#include "reduce/glance_reasons.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/glance_verdict.h"
#include "reduce/glance_words.h"

enum status glance_add_note(struct glance *glance, struct key_text *text, struct fault *fault)
{
    void *items = glance->notes;
    enum status status = key_text_status(text, fault);
    const char **note = NULL;
    if (status == OK)
        note = glance_add(&items, &glance->n_notes, &glance->notes_capacity, sizeof *note, fault);
    glance->notes = items;
    if (status == OK)
        status = note == NULL ? NO_MEMORY : glance_keep(glance, text->text, note, fault);
    key_text_end(text);
    return status;
}

enum status glance_add_reason(struct glance *glance, struct reason_draft *draft,
                              struct fault *fault)
{
    void *items = glance->reasons;
    struct glance_reason *reason = NULL;
    enum status status = key_text_status(&draft->what, fault);
    if (status == OK)
        status = key_text_status(&draft->text, fault);
    if (status == OK)
        reason = glance_add(&items, &glance->n_reasons, &glance->reasons_capacity, sizeof *reason,
                            fault);
    glance->reasons = items;
    if (status == OK && reason == NULL)
        status = NO_MEMORY;
    if (status == OK) {
        reason->verdict = draft->verdict;
        reason->effect = draft->effect;
        reason->text = reason->action = "";
        status = glance_keep(glance, draft->what.text, &reason->what, fault);
    }
    if (status == OK)
        status = glance_keep(glance, draft->text.text, &reason->text, fault);
    if (status == OK)
        status = glance_keep(glance, draft->action, &reason->action, fault);
    key_text_end(&draft->what);
    key_text_end(&draft->text);
    return status;
}

/* What to do right after the run, where that is not what to do in the morning. */
static const char *action_of(enum flag_rule rule)
{
    static const struct {
        enum flag_rule rule;
        const char *action;
    } now[] = {
        {FLAG_RUN_QUARANTINED, "Correct the place named, or copy the log again, and look again; "
                               "repeat the run if its log is lost."},
        {FLAG_ZERO_MISSING, "Record a zero now, before anything is touched; if it is too late for "
                            "that, repeat the run between two zeros."},
    };
    for (size_t i = 0; i < sizeof now / sizeof now[0]; i++)
        if (now[i].rule == rule)
            return now[i].action;
    return flag_row(rule)->action;
}

/* Rules whose subject differs from point to point, or of which there may be hundreds. */
static int subject_is_a_place(const struct glance_flag *flag)
{
    return flag->rule == FLAG_OFF_TARGET || flag->rule == FLAG_TARGET_REFUSED ||
           flag->rule == FLAG_NEAR_STALL || flag->is_of_taps;
}

static int is_same_group(const struct glance_flag *a, const struct glance_flag *b)
{
    return a->rule == b->rule && a->state == b->state && a->is_known == b->is_known &&
           a->is_of_taps == b->is_of_taps &&
           (a->point == GLANCE_WHOLE_RUN) == (b->point == GLANCE_WHOLE_RUN) &&
           (subject_is_a_place(a) || strcmp(a->subject, b->subject) == 0);
}

struct flag_group {
    const struct glance_flag *worst;
    int *points; /* without doubles, in order */
    size_t n_points, n_flags;
    const char **subjects; /* without doubles */
    size_t n_subjects;
    enum glance_verdict verdict;
};

/* What is beyond its limit by how much; taps enter no load, so theirs come after all others. */
static double effect_of(const struct glance_flag *flag)
{
    double ratio = glance_ratio(flag->value, flag->limit);
    if (flag->is_of_taps)
        return isnan(ratio) ? 0 : 1 - 1 / ratio;
    if (!isnan(ratio))
        return ratio;
    return flag->state >= FLAG_FAILED ? (double)INFINITY : 1;
}

static void add_subject(const char *subject, struct flag_group *group)
{
    for (size_t i = 0; i < group->n_subjects; i++)
        if (strcmp(group->subjects[i], subject) == 0)
            return;
    group->subjects[group->n_subjects++] = subject;
}

static void add_to_group(const struct glance *glance, const struct glance_flag *flag,
                         struct flag_group *group)
{
    enum glance_verdict verdict = glance_flag_verdict(glance, flag);
    group->n_flags++;
    add_subject(flag->subject, group);
    if (group->worst == NULL || effect_of(flag) > effect_of(group->worst))
        group->worst = flag;
    if (verdict > group->verdict)
        group->verdict = verdict;
    if (flag->point == GLANCE_WHOLE_RUN ||
        (group->n_points > 0 && group->points[group->n_points - 1] == flag->point))
        return;
    group->points[group->n_points++] = flag->point;
}

/* "off-target", "samples-missing of R3", "tap-frozen of 3 taps". */
static void say_rule(const struct flag_group *group, struct key_text *text)
{
    const struct glance_flag *flag = group->worst;
    key_text_say(text, "%s", flag_row(flag->rule)->code);
    if (flag->is_of_taps && group->n_subjects > 1)
        key_text_say(text, " of %zu taps", group->n_subjects);
    else if (flag->subject[0] != '\0' && (flag->is_of_taps || !subject_is_a_place(flag)))
        key_text_say(text, " of %s", flag->subject);
}

static enum status add_known(struct glance *glance, const struct flag_group *group,
                             struct fault *fault)
{
    struct key_text text = {NULL, 0, 0, 0};
    if (group->worst->rule == FLAG_ZERO_AFTER_MISSING)
        return OK; /* said with the zeros */
    say_rule(group, &text);
    key_text_say(&text, ", %s",
                 group->worst->is_known ? "as in earlier runs" : "which holds for every run");
    return glance_add_note(glance, &text, fault);
}

/* A sentence without the blank or the full stop at its end: more follows. */
static void say_detail(const char *detail, struct key_text *text)
{
    size_t length = strlen(detail);
    while (length > 0 && strchr(" .", detail[length - 1]) != NULL)
        length--;
    key_text_say(text, "%.*s", (int)length, detail);
}

static enum status add_group(struct glance *glance, const struct flag_group *group,
                             struct fault *fault)
{
    const struct glance_flag *flag = group->worst;
    const struct glance_places places = {group->points, group->n_points};
    double ratio = glance_ratio(flag->value, flag->limit);
    struct reason_draft draft = {
        .verdict = group->verdict, .effect = effect_of(flag), .action = action_of(flag->rule)};
    if (flag->state == FLAG_INFO)
        return OK;
    if (group->verdict == GLANCE_USABLE)
        return add_known(glance, group, fault);
    say_rule(group, &draft.what);
    key_text_say(&draft.text, "%s", draft.what.text == NULL ? "" : draft.what.text);
    if (places.n > 0) {
        key_text_say(&draft.what, " at ");
        glance_say_short(glance, &places, &draft.what);
        key_text_say(&draft.text, ", ");
        glance_say_points(glance, &places, &draft.text);
    }
    key_text_say(&draft.text, ": %s", places.n > 1 || group->n_flags > 1 ? "at worst " : "");
    say_detail(flag->detail, &draft.text);
    if (flag->first[0] != '\0')
        key_text_say(&draft.text, "; first %s", flag->first);
    if (isfinite(ratio) && ratio >= 1.05)
        key_text_say(&draft.text, " (%.*f times the limit)", ratio < 10 ? 1 : 0, ratio);
    return glance_add_reason(glance, &draft, fault);
}

enum status glance_flag_reasons(struct glance *glance, struct fault *fault)
{
    enum status status = OK;
    int *points = calloc(glance->n_flags + 1, sizeof *points);
    const char **subjects = calloc(glance->n_flags + 1, sizeof *subjects);
    char *taken = calloc(glance->n_flags + 1, 1);
    if (points == NULL || subjects == NULL || taken == NULL)
        status = FAIL(fault, NO_MEMORY, "no memory to gather the flags of a run");
    for (size_t i = 0; status == OK && i < glance->n_flags; i++) {
        struct flag_group group = {
            .worst = NULL, .points = points, .subjects = subjects, .verdict = GLANCE_USABLE};
        if (taken[i] || glance->flags[i].rule == FLAG_STANDARD_ERROR) /* with the limits */
            continue;
        for (size_t k = i; k < glance->n_flags; k++) {
            if (taken[k] || !is_same_group(&glance->flags[i], &glance->flags[k]))
                continue;
            taken[k] = 1;
            add_to_group(glance, &glance->flags[k], &group);
        }
        status = add_group(glance, &group, fault);
    }
    free(points);
    free(subjects);
    free(taken);
    return status;
}
