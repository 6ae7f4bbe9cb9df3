/* target_stall.c - see target_stall.h. */
#include "reduce/target_stall.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/load_probe.h"
#include "reduce/physics/constants.h"
#include "reduce/statistics/local_bend.h"

static const double BREAK_SHARE = 0.5; /* of the smallest worthwhile delta */

static struct carry_stall look_at_break(const struct target_fits *fits, int i, const double *step,
                                        double matters)
{
    const struct local_break *broken = &fits->broken[i];
    int value = target_stall_value(i);
    double plain = (double)NAN;
    double uncertainty = (double)NAN;
    struct carry_stall none = {.kind = STALL_NONE};

    if (!broken->is_found)
        return none;
    (void)local_gradient_carry(&fits->gradient[value], step, fits->axes, &plain, &uncertainty);
    double change = local_break_change(broken, step, fits->axes) - plain;
    if (!(fabs(change) > BREAK_SHARE * matters))
        return none;
    return (struct carry_stall){STALL_BROKEN,   value,  fits->axis[broken->axis],
                                broken->height, change, BREAK_SHARE * matters,
                                broken->place};
}

static struct carry_stall look_at_bend(const struct target_fits *fits, int i, const double *step,
                                       double matters)
{
    int value = target_stall_value(i);
    struct local_bend bend;

    for (size_t a = 0; a < fits->axes; a++) {
        if (step[a] == 0 || !target_axis_may_stall(fits->axis[a]) ||
            !local_gradient_bends(&fits->gradient[value], fits->axes, a, step[a], matters, &bend))
            continue;
        return (struct carry_stall){bend.is_turned ? STALL_TURNED : STALL_CURVED,
                                    value,
                                    fits->axis[a],
                                    bend.linear,
                                    bend.square,
                                    bend.limit,
                                    0};
    }
    return (struct carry_stall){.kind = STALL_NONE};
}

struct carry_stall target_carry_stall(const struct target_fits *fits,
                                      const struct attained_point *point,
                                      const struct attitude_match *match, double matters)
{
    double step[LOCAL_AXES_MAX] = {0};
    struct carry_stall stall = {.kind = STALL_NONE};

    target_carry_steps(fits, match, step);
    for (int i = 0; i < STALL_VALUES && stall.kind == STALL_NONE; i++) {
        int value = target_stall_value(i);
        if (isnan(point->value[value]) || fits->outcome[value] != OUTCOME_OK)
            continue;
        stall = look_at_break(fits, i, step, matters);
        if (stall.kind == STALL_NONE)
            stall = look_at_bend(fits, i, step, matters);
    }
    return stall;
}

double target_stall_matters(const struct campaign *campaign)
{
    for (size_t i = 0; i < campaign->n_metrics; i++) {
        const struct metric *metric = &campaign->metrics[i];
        if (quantity_from_symbol(metric->quantity) == QUANTITY_CL && metric->worthwhile > 0)
            return metric->worthwhile;
    }
    return smallest_worthwhile(campaign);
}

/* In the units people set attitudes in: mm and degrees. */
static double place_said(const struct carry_stall *stall, const char **unit)
{
    int is_length = strcmp(attitude_axis_unit((enum attitude_axis)stall->axis), "m") == 0;
    *unit = is_length ? "mm" : "deg";
    return stall->place * (is_length ? 1e3 : 180 / PI);
}

void target_stall_say(const struct carry_stall *stall, const char *target, char *out, size_t size)
{
    const char *symbol = quantity_row((enum quantity)stall->value)->symbol;
    const char *axis = attitude_axis_words((enum attitude_axis)stall->axis);
    const char *unit = "";
    double place = place_said(stall, &unit);
    if (stall->kind == STALL_BROKEN)
        (void)snprintf(
            out, size,
            "%s steps by %+.3g beyond %s %+.2f %s from target %.80s, among the points of its "
            "fit; that makes %.2g of the carry",
            symbol, stall->linear, axis, place, unit, target, fabs(stall->change));
    else
        (void)snprintf(
            out, size,
            "%s along %s to target %.80s: the slope makes %+.2g of the carry and the curve "
            "%+.2g, at most a third is carried%s",
            symbol, axis, target, -stall->linear, -stall->change,
            stall->kind == STALL_TURNED ? "; the slope changes sign on the way" : "");
}
