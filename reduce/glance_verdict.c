/* glance_verdict.c - flags, limits and targets to a verdict with its reasons; see glance_verdict.h. */
#include "reduce/glance_verdict.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/glance_reasons.h"
#include "reduce/statistics/record_rules.h"

double glance_ratio(double value, double limit)
{
    double ratio = fabs(value / limit);
    if (!isfinite(value) || !isfinite(limit) || isnan(ratio))
        return (double)NAN;
    return ratio < 1 ? 1 / ratio : ratio;
}

double glance_uncertainty_limit(const struct glance *glance)
{
    return glance->metrics[0].worthwhile / 2;
}

double glance_uncertainty_share(const struct glance *glance, const struct glance_point *point)
{
    return point->is_guess ? (double)NAN
                           : point->values[0].uncertainty / glance_uncertainty_limit(glance);
}

double glance_trend_share(const struct glance *glance, const struct glance_point *point)
{
    double delta = point->half[1] - point->half[0];
    double u = point->values[0].uncertainty;
    struct record_judgement trend = record_trend(delta, u, glance->metrics[0].worthwhile);
    double share = trend.value / trend.limit;
    return trend.raised || isnan(share) ? share : fmin(share, 1);
}

int glance_rule_is_of_taps(enum flag_rule rule)
{
    return rule == FLAG_TAP_IMPOSSIBLE || rule == FLAG_TAP_FROZEN ||
           rule == FLAG_TAP_ZERO_MISSING || rule == FLAG_TAP_ZERO_SILENT ||
           rule == FLAG_TAP_ZERO_HELD;
}

/* What holds for every run of the facility, whatever was done in this one. */
static int is_standing(enum flag_rule rule)
{
    return rule == FLAG_CORRECTIONS_UNKNOWN || rule == FLAG_BLOCKAGE_EVIDENCE ||
           rule == FLAG_ATTITUDE_NOT_MEASURED;
}

static int is_note(const struct glance *glance, const struct glance_flag *flag)
{
    if (flag->rule == FLAG_ZERO_AFTER_MISSING)
        return glance->zero.after[0] ==
               '\0'; /* without one before, the zero to come mends nothing */
    return is_standing(flag->rule) || (flag->is_known && flag->is_of_taps);
}

static size_t points_with(const struct glance *glance, enum flag_rule rule)
{
    size_t n = 0;
    for (size_t i = 0; i < glance->n_flags; i++)
        n += glance->flags[i].rule == rule && glance->flags[i].point != GLANCE_WHOLE_RUN;
    return n;
}

static int loses_target(const struct glance *glance, int index)
{
    const struct glance_point *point = &glance->points[index];
    if (point->target == GLANCE_NO_TARGET)
        return 0;
    const struct glance_target *target = &glance->targets[point->target];
    return target->is_needed && !target->is_covered;
}

enum glance_verdict glance_flag_verdict(const struct glance *glance, const struct glance_flag *flag)
{
    if (flag->state == FLAG_INFO || is_note(glance, flag))
        return GLANCE_USABLE;
    if (flag->rule == FLAG_LOAD_BOX)
        return GLANCE_REPEAT;
    if (flag->rule == FLAG_Q_UNSTEADY)
        return 2 * points_with(glance, FLAG_Q_UNSTEADY) > glance->n_points ? GLANCE_REPEAT
                                                                           : GLANCE_LOOK;
    if (flag->state < FLAG_FAILED || flag->is_of_taps || flag->rule == FLAG_TARGET_REFUSED)
        return GLANCE_LOOK;
    if (flag->point == GLANCE_WHOLE_RUN)
        return GLANCE_REPEAT;
    return loses_target(glance, flag->point) ? GLANCE_REPEAT : GLANCE_LOOK;
}

enum glance_verdict glance_point_verdict(const struct glance *glance,
                                         const struct glance_point *point)
{
    int is_needed = point->target != GLANCE_NO_TARGET && glance->targets[point->target].is_needed;
    return is_needed ? GLANCE_REPEAT : GLANCE_LOOK;
}

/* A reason and the place it was found at, so that equal ones keep it. */
struct placed {
    struct glance_reason reason;
    size_t place;
};

static int worst_first(const void *a, const void *b)
{
    const struct placed *x = a;
    const struct placed *y = b;
    if (x->reason.verdict != y->reason.verdict)
        return (x->reason.verdict < y->reason.verdict) - (x->reason.verdict > y->reason.verdict);
    if (x->reason.effect != y->reason.effect)
        return (x->reason.effect < y->reason.effect) - (x->reason.effect > y->reason.effect);
    return (x->place > y->place) - (x->place < y->place);
}

static enum status sort_reasons(struct glance *glance, struct fault *fault)
{
    struct placed *placed = calloc(glance->n_reasons + 1, sizeof *placed);
    if (placed == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to sort the reasons");
    for (size_t i = 0; i < glance->n_reasons; i++)
        placed[i] = (struct placed){glance->reasons[i], i};
    qsort(placed, glance->n_reasons, sizeof *placed, worst_first);
    for (size_t i = 0; i < glance->n_reasons; i++)
        glance->reasons[i] = placed[i].reason;
    free(placed);
    return OK;
}

enum status glance_judge(struct glance *glance, struct fault *fault)
{
    enum status status = glance_flag_reasons(glance, fault);
    if (status == OK)
        status = glance_limit_reasons(glance, fault);
    if (status == OK)
        status = glance_target_reasons(glance, fault);
    if (status == OK)
        status = glance_apart_reasons(glance, fault);
    if (status == OK)
        status = glance_notes(glance, fault);
    if (status == OK)
        status = sort_reasons(glance, fault);
    glance->verdict = GLANCE_USABLE;
    for (size_t i = 0; i < glance->n_reasons; i++)
        if (glance->reasons[i].verdict > glance->verdict)
            glance->verdict = glance->reasons[i].verdict;
    return status;
}
