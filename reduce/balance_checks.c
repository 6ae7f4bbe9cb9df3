/* balance_checks.c - loads against the balance's rating and against its calibration; see point_checks.h. */
#include <math.h>
#include <stdio.h>

#include "reduce/point_checks.h"
#include "schema/calibration.h"

static struct flag_note begin(enum flag_rule rule, const struct run_work *work,
                              const struct reduced_point *made, size_t load, double limit)
{
    struct flag_note note =
        flag_note_make(rule, work->run->run, made->point->point, calibration_load_name(load));
    note.value = made->result.balance[load];
    note.limit = limit;
    note.unit = calibration_load_unit(load);
    return note;
}

int check_load_box(const struct run_work *work, const struct reduced_point *made,
                   struct flag_note *note)
{
    const struct balance *balance = work->recipe.balance;
    double worst = 1;
    int load = -1;
    for (int i = 0; balance != NULL && i < LOAD_COUNT; i++) {
        double share =
            balance->rated[i] > 0 ? fabs(made->result.balance[i]) / balance->rated[i] : 0;
        if (!(share > worst))
            continue;
        worst = share;
        load = i;
    }
    if (load < 0)
        return 0;
    *note = begin(FLAG_LOAD_BOX, work, made, (size_t)load, balance->rated[load]);
    (void)snprintf(note->detail, sizeof note->detail, "%s is %.1f %s, rated %.1f %s: %.0f %% of it",
                   note->subject, note->value, note->unit, note->limit, note->unit, 100 * worst);
    return 1;
}

int check_calibration_temperature(const struct run_work *work, const struct reduced_point *made,
                                  struct flag_note *note)
{
    const struct balance_temperature *range = &work->recipe.tunnel.calibration.temperature;
    double at = made->inputs.balance_temperature;
    if (work->recipe.tunnel.source != LOADS_FROM_OUTPUTS || !range->is_given ||
        !(at < range->lowest || at > range->highest))
        return 0;
    *note = flag_note_make(FLAG_BEYOND_TEMPERATURE, work->run->run, made->point->point,
                           "balance_temperature");
    note->value = at;
    note->limit = at < range->lowest ? range->lowest : range->highest;
    note->unit = "K";
    (void)snprintf(note->detail, sizeof note->detail,
                   "the balance is at %.2f K, calibrated from %.2f to %.2f K", at, range->lowest,
                   range->highest);
    return 1;
}

int check_calibration_box(const struct run_work *work, const struct reduced_point *made,
                          struct flag_note *note)
{
    const struct balance_calibration *calibration = &work->recipe.tunnel.calibration;
    double share = 0;
    int load = work->recipe.tunnel.source == LOADS_FROM_OUTPUTS
                   ? balance_outside(calibration, made->result.balance, &share)
                   : -1;
    if (load < 0)
        return 0;
    int is_low = made->result.balance[load] < calibration->lowest[load];
    *note = begin(FLAG_BEYOND_CALIBRATION, work, made, (size_t)load,
                  is_low ? calibration->lowest[load] : calibration->highest[load]);
    int used =
        snprintf(note->detail, sizeof note->detail,
                 "%s is %.1f %s, calibrated from %.1f to %.1f %s", note->subject, note->value,
                 note->unit, calibration->lowest[load], calibration->highest[load], note->unit);
    if (isfinite(share) && used > 0 && (size_t)used < sizeof note->detail)
        (void)snprintf(note->detail + used, sizeof note->detail - (size_t)used, ": %.1f %% beyond",
                       100 * share);
    return 1;
}
