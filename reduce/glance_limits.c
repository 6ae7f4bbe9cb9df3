/* glance_limits.c - reasons that are no flags: the limits of the main metric, targets that nobody
 * tried, points apart from earlier runs, and the notes; see glance_reasons.h.                      */
#include <math.h>
#include <stdlib.h>

#include "reduce/glance_reasons.h"
#include "reduce/glance_verdict.h"
#include "reduce/glance_words.h"

/* Points beyond one limit, and the worst of them. */
struct beyond {
    int *points;
    size_t n;
    int worst;
    double share;
    enum glance_verdict verdict;
};

static enum status beyond_make(const struct glance *glance, struct beyond *beyond,
                               struct fault *fault)
{
    *beyond = (struct beyond){.points = calloc(glance->n_points + 1, sizeof *beyond->points),
                              .verdict = GLANCE_USABLE};
    if (beyond->points == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to judge %zu points", glance->n_points);
    return OK;
}

static void beyond_add(struct beyond *beyond, int point, double share, enum glance_verdict verdict)
{
    if (!(share > 1))
        return;
    if (beyond->n == 0 || share > beyond->share) {
        beyond->worst = point;
        beyond->share = share;
    }
    beyond->points[beyond->n++] = point;
    if (verdict > beyond->verdict)
        beyond->verdict = verdict;
}

/* "RULE at F12 R30" and "RULE, point 7 (F12 R30): at worst "; what was seen is the caller's. */
static void begin(const struct glance *glance, const struct beyond *beyond, const char *rule,
                  struct reason_draft *draft)
{
    const struct glance_places places = {beyond->points, beyond->n};
    draft->verdict = beyond->verdict;
    draft->effect = beyond->share;
    key_text_say(&draft->what, "%s at ", rule);
    glance_say_short(glance, &places, &draft->what);
    key_text_say(&draft->text, "%s, ", rule);
    glance_say_points(glance, &places, &draft->text);
    key_text_say(&draft->text, ": %s", beyond->n > 1 ? "at worst " : "");
}

static const char *main_symbol(const struct glance *glance)
{
    return quantity_row(glance->metrics[0].quantity)->symbol;
}

static enum status add_uncertain(struct glance *glance, const struct beyond *beyond,
                                 struct fault *fault)
{
    struct reason_draft draft = {.action = "Record the point longer, or find what moves."};
    begin(glance, beyond, "standard-error", &draft);
    key_text_say(&draft.text, "the standard uncertainty of %s is ", main_symbol(glance));
    glance_say_amount(glance, glance->points[beyond->worst].values[0].uncertainty, 0, &draft.text);
    key_text_say(&draft.text, ", limit ");
    glance_say_amount(glance, glance_uncertainty_limit(glance), 0, &draft.text);
    key_text_say(&draft.text, ", half the smallest delta worth having");
    return glance_add_reason(glance, &draft, fault);
}

static enum status add_trend(struct glance *glance, const struct beyond *beyond,
                             struct fault *fault)
{
    const struct glance_point *point = &glance->points[beyond->worst];
    struct reason_draft draft = {
        .action = "Wait until wind and loads have settled, and repeat the point."};
    begin(glance, beyond, "trend", &draft);
    key_text_say(&draft.text, "%s goes ", main_symbol(glance));
    glance_say_amount(glance, point->half[1] - point->half[0], 1, &draft.text);
    key_text_say(&draft.text, " from the first half of the point to its second, limit ");
    glance_say_amount(glance, glance->metrics[0].worthwhile, 0, &draft.text);
    key_text_say(&draft.text, ", the smallest delta worth having");
    return glance_add_reason(glance, &draft, fault);
}

enum status glance_limit_reasons(struct glance *glance, struct fault *fault)
{
    struct beyond uncertain;
    struct beyond trend = {.points = NULL};
    enum status status = beyond_make(glance, &uncertain, fault);
    if (status == OK)
        status = beyond_make(glance, &trend, fault);
    for (size_t i = 0; status == OK && glance->n_metrics > 0 && i < glance->n_points; i++) {
        const struct glance_point *point = &glance->points[i];
        enum glance_verdict verdict = glance_point_verdict(glance, point);
        beyond_add(&uncertain, (int)i, glance_uncertainty_share(glance, point), verdict);
        beyond_add(&trend, (int)i, glance_trend_share(glance, point), verdict);
    }
    if (status == OK && uncertain.n > 0)
        status = add_uncertain(glance, &uncertain, fault);
    if (status == OK && trend.n > 0)
        status = add_trend(glance, &trend, fault);
    free(uncertain.points);
    free(trend.points);
    return status;
}

enum status glance_target_reasons(struct glance *glance, struct fault *fault)
{
    enum { NAMED = 4 };
    size_t tried = 0, missing = 0, named = 0;
    for (size_t i = 0; i < glance->n_targets; i++) {
        tried += glance->targets[i].is_needed && glance->targets[i].is_tried;
        missing += glance->targets[i].is_needed && !glance->targets[i].is_tried;
    }
    if (missing == 0 || glance->n_points == 0)
        return OK;
    struct reason_draft draft = {
        .verdict = tried > 0 ? GLANCE_REPEAT : GLANCE_LOOK,
        .effect = (double)INFINITY,
        .action = tried > 0 ? "Measure what is missing before the car is touched."
                            : "Nothing, if that was meant."};
    key_text_say(&draft.what, "not-measured: ");
    if (missing > NAMED)
        key_text_say(&draft.what, "%zu targets of the main measure", missing);
    for (size_t i = 0; missing <= NAMED && i < glance->n_targets; i++)
        if (glance->targets[i].is_needed && !glance->targets[i].is_tried)
            key_text_say(&draft.what, "%s%s", named++ > 0 ? ", " : "", glance->targets[i].name);
    key_text_say(&draft.text, "%s: without %s the run has no value of the main measure",
                 draft.what.text == NULL ? "" : draft.what.text, missing == 1 ? "it" : "them");
    return glance_add_reason(glance, &draft, fault);
}

static int by_size(const void *a, const void *b)
{
    const double *x = a;
    const double *y = b;
    return (*x > *y) - (*x < *y);
}

/* How far a point sits from the earlier runs once the shift of the whole run is taken off. */
static double apart(const struct glance *glance, const struct glance_point *point)
{
    if (point->earlier.n == 0 || (point->reach != REACH_AT && point->reach != REACH_CARRIED))
        return (double)NAN;
    return point->values[0].value - point->earlier.mean - glance->earlier_shift;
}

enum {
    APART_LEAST = 5, /* points; fewer tell no scatter */
    DEVIATIONS = 4
};

/* The smallest delta worth having, and four robust standard deviations (1.4826 times the median of the
 * distances) of the run's points. NAN for too few. */
static double apart_limit(const struct glance *glance, double *room)
{
    const double robust = 1.4826;
    size_t n = 0;
    for (size_t i = 0; i < glance->n_points; i++) {
        double distance = fabs(apart(glance, &glance->points[i]));
        if (isfinite(distance))
            room[n++] = distance;
    }
    if (n < APART_LEAST)
        return (double)NAN;
    qsort(room, n, sizeof *room, by_size);
    double middle = (room[(n - 1) / 2] + room[n / 2]) / 2;
    return fmax(glance->metrics[0].worthwhile, DEVIATIONS * robust * middle);
}

/* Four standard uncertainties of the point and of the mean of as uncertain ones; 0 where not known. */
static double noise(const struct glance_point *point)
{
    double u = point->values[0].uncertainty;
    return isfinite(u) ? DEVIATIONS * u * sqrt(1 + 1 / (double)point->earlier.n) : 0;
}

static enum status add_apart(struct glance *glance, const struct beyond *beyond, double limit,
                             struct fault *fault)
{
    const struct glance_point *point = &glance->points[beyond->worst];
    struct reason_draft draft = {
        .action = "Look at the point's record; repeat the point if nothing explains it."};
    begin(glance, beyond, "apart", &draft);
    key_text_say(&draft.text, "%s is ", main_symbol(glance));
    glance_say_amount(glance, apart(glance, point), 1, &draft.text);
    key_text_say(&draft.text, " from %zu earlier run%s beyond the run's own shift, limit ",
                 point->earlier.n, point->earlier.n == 1 ? "" : "s");
    glance_say_amount(glance, fmax(limit, noise(point)), 0, &draft.text);
    return glance_add_reason(glance, &draft, fault);
}

enum status glance_apart_reasons(struct glance *glance, struct fault *fault)
{
    struct beyond beyond;
    double *room = calloc(glance->n_points + 1, sizeof *room);
    enum status status = beyond_make(glance, &beyond, fault);
    if (status == OK && room == NULL)
        status = FAIL(fault, NO_MEMORY, "no memory to judge %zu points", glance->n_points);
    double limit = status == OK && glance->n_metrics > 0 ? apart_limit(glance, room) : (double)NAN;
    for (size_t i = 0; status == OK && isfinite(limit) && i < glance->n_points; i++) {
        const struct glance_point *point = &glance->points[i];
        beyond_add(&beyond, (int)i, fabs(apart(glance, point)) / fmax(limit, noise(point)),
                   GLANCE_LOOK);
    }
    if (status == OK && beyond.n > 0)
        status = add_apart(glance, &beyond, limit, fault);
    free(beyond.points);
    free(room);
    return status;
}

static enum status note_zeros(struct glance *glance, struct fault *fault)
{
    const struct glance_zero *zero = &glance->zero;
    struct key_text text = {NULL, 0, 0, 0};
    if (zero->is_one_sided && zero->after[0] == '\0') {
        key_text_say(
            &text,
            "zero: %s before, none after yet; it is held until there is one, and the drift "
            "is not known",
            zero->before);
        return glance_add_note(glance, &text, fault);
    }
    if (zero->quantity[0] == '\0' || fabs(zero->drift) > zero->limit)
        return OK; /* not known, or a reason already */
    key_text_say(&text, "zero: from %s to %s %s moves by %+.3g%s%s, limit %.3g", zero->before,
                 zero->after, zero->quantity, zero->drift / zero->unit_size,
                 zero->unit[0] == '\0' ? "" : " ", zero->unit, zero->limit / zero->unit_size);
    return glance_add_note(glance, &text, fault);
}

enum status glance_notes(struct glance *glance, struct fault *fault)
{
    struct key_text text = {NULL, 0, 0, 0};
    enum status status = note_zeros(glance, fault);
    if (status != OK || glance->n_metrics == 0 || glance->n_points == 0)
        return status;
    if (glance->n_earlier == 0) {
        key_text_say(&text, "earlier runs: none of %s in this entry yet", glance->configuration);
        return glance_add_note(glance, &text, fault);
    }
    key_text_say(&text, "earlier runs: %zu of %s in this entry", glance->n_earlier,
                 glance->configuration);
    if (isfinite(glance->earlier_shift)) {
        key_text_say(&text, "; this one sits ");
        glance_say_amount(glance, glance->earlier_shift, 1, &text);
        key_text_say(&text, " of %s from their mean (median of its points)", main_symbol(glance));
    }
    return glance_add_note(glance, &text, fault);
}
