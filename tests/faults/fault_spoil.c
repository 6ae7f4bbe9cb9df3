/* fault_spoil.c - see fault_spoil.h. */
#include "tests/faults/fault_spoil.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "tests/faults/fault_draw.h"
#include "tests/faults/fault_drift.h"
#include "tests/faults/fault_gusts.h"
#include "tests/faults/injectors.h"

static const double held_share = 0.9; /* of a point, cut to one value */

__attribute__((format(printf, 2, 3))) static void say(struct injecting *work, const char *format,
                                                      ...)
{
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(work->made->about, sizeof work->made->about, format, arguments);
    va_end(arguments);
}

static double *numbers_of(const struct injecting *work, const char *name, size_t *column)
{
    *column = fault_log_find(work->log, name);
    return *column < work->log->columns ? fault_log_numbers(work->log, *column) : NULL;
}

static const struct fault_point *any_point(const struct injecting *work)
{
    return &work->log->points[draw_index((int)work->log->n_points, work->state)];
}

int spoil_stuck(struct injecting *work)
{
    size_t column = 0;
    double *x = numbers_of(work, work->made->channels[0], &column);
    const struct fault_point *point = any_point(work);
    if (x == NULL)
        return 0;
    double most = (double)point->rows * work->log->step;
    double seconds = fmin(most, 0.5 * exp(draw_between(0, log(most / 0.5), work->state)));
    size_t rows = (size_t)ceil(seconds / work->log->step - 1e-6);
    size_t from = (size_t)draw_between(0, (double)(point->rows - rows + 1), work->state);
    inject_stuck(x + point->first, point->rows, from, rows);
    say(work, "%zu of %zu rows", rows, point->rows);
    return 1;
}

int spoil_spikes(struct injecting *work)
{
    size_t column = 0;
    double *x = numbers_of(work, work->made->channels[0], &column);
    const struct fault_point *point = any_point(work);
    double deviations = draw_between(8, 12, work->state);
    size_t count = (size_t)ceil(0.005 * (double)point->rows);
    if (x == NULL)
        return 0;
    inject_spikes(x + point->first, point->rows, count, deviations, work->state);
    say(work, "%zu of %zu at %.1f sd", count, point->rows, deviations);
    return 1;
}

/* Share of a point that is at its lowest or at its highest value, whichever is more. */
static double share_at_an_end(const double *x, size_t n)
{
    double low = x[0];
    double high = x[0];
    size_t at_low = 0;
    size_t at_high = 0;
    for (size_t i = 0; i < n; i++) {
        low = fmin(low, x[i]);
        high = fmax(high, x[i]);
    }
    for (size_t i = 0; i < n; i++) {
        at_low += x[i] <= low;
        at_high += x[i] >= high;
    }
    return (double)(at_low > at_high ? at_low : at_high) / (double)n;
}

int spoil_clipping(struct injecting *work)
{
    size_t column = 0;
    double *x = numbers_of(work, work->made->channels[0], &column);
    double share = draw_between(0.01, 0.05, work->state);
    int at_upper_end = draw_index(2, work->state);
    double flattened = 0;
    say(work, "%.1f %% at the %s end", 100 * share, at_upper_end ? "upper" : "lower");
    if (x == NULL || inject_clipping(x, work->log->rows, share, at_upper_end) == 0)
        return 0;
    for (size_t i = 0; i < work->log->n_points; i++)
        flattened = fmax(
            flattened, share_at_an_end(x + work->log->points[i].first, work->log->points[i].rows));
    work->made->is_held = flattened > held_share;
    return 1;
}

int spoil_lag(struct injecting *work)
{
    size_t column = 0;
    int is_delay = work->made->about[0] != '\0';
    double seconds = draw_between(0.5, is_delay ? 1.5 : 2, work->state);
    double rows = seconds / work->log->step;
    if (is_delay && !gusts_add(work->log, work->state))
        return 0;
    double *x = numbers_of(work, work->made->channels[0], &column);
    if (x == NULL)
        return 0;
    for (size_t i = 0; i < work->log->n_points; i++) {
        const struct fault_point *point = &work->log->points[i];
        if (is_delay)
            inject_delay(x + point->first, point->rows, (size_t)ceil(rows));
        else
            inject_first_order(x + point->first, point->rows, rows);
    }
    say(work, "%s of %.2f s", is_delay ? "delay" : "time constant", seconds);
    return 1;
}

int spoil_gusts(struct injecting *work)
{
    say(work, "gusts");
    return gusts_add(work->log, work->state);
}

int spoil_swapped(struct injecting *work)
{
    size_t a = fault_log_find(work->log, work->made->channels[0]);
    size_t b = fault_log_find(work->log, work->made->channels[1]);
    if (a >= work->log->columns || b >= work->log->columns)
        return 0;
    work->log->order[a] = b;
    work->log->order[b] = a;
    say(work, "swapped");
    return 1;
}

static int scale_column(struct injecting *work, size_t column, const struct wrong_unit *unit)
{
    double *x = fault_log_numbers(work->log, column);
    if (x == NULL)
        return 0;
    inject_unit(x, work->log->rows, unit->factor, unit->offset);
    work->log->decimals[column] = -1;
    return 1;
}

/* Of taps every other time the whole scanner. */
int spoil_unit(struct injecting *work)
{
    const char *name = work->made->channels[0];
    size_t column = fault_log_find(work->log, name);
    const struct wrong_unit *unit = draw_unit(name, work->state);
    int all = is_tap_name(name) && draw_index(2, work->state);
    int good = unit != NULL && column < work->log->columns;
    for (size_t c = 2; good && all && c < work->log->columns; c++)
        good = c == column || scale_column(work, c, unit);
    good = good && scale_column(work, column, unit);
    say(work, "in %s%s", unit != NULL ? unit->unit : "", all ? ", all taps" : "");
    if (all)
        (void)snprintf(work->made->channels[0], FAULT_NAME, "taps");
    return good;
}

/* Half the smallest worthwhile delta or more, up to the whole of it, in drag or downforce as corrected:
 * the load behind a corrected coefficient is larger by the blockage's ratio of q, and that of drag by its
 * own wake's part in that ratio, twice A/(4 C) CD: 1.5 % in the demo, 2 % here. */
static double drift_load(struct injecting *work, int *load)
{
    static const double worthwhile[] = {0.003, 0.010}; /* CD, CL of the demo's campaign */
    int is_downforce = draw_index(2, work->state);
    double share = draw_between(0.5, 1, work->state);
    double q = work->season->wind[work->made->run];
    *load = is_downforce ? 2 : 0;
    say(work, "%.2f of worthwhile %s", share, is_downforce ? "CL" : "CD");
    return (draw_index(2, work->state) ? 1 : -1) * share * worthwhile[is_downforce] * q * 0.40 *
           (is_downforce ? 1 : 1.02);
}

static int drift_logs(struct injecting *work, struct fault_log *before, struct fault_log *after)
{
    double wanted[DRIFT_OUTPUTS];
    double added[DRIFT_OUTPUTS];
    int load = 0;
    double size = drift_load(work, &load);
    return isfinite(size) && drift_outputs(work->season, load, size, wanted) &&
           drift_zero(before, after, wanted, added) && drift_run(work->log, added);
}

int spoil_drift(struct injecting *work)
{
    char path[FAULT_PATH];
    struct fault_log before = {0};
    struct fault_log after = {0};
    fault_season_log(work->season, work->made->run, "zero_before", path);
    int good = fault_log_read(path, ',', 2, &before);
    fault_season_log(work->season, work->made->run, "zero_after", path);
    good = good && fault_take_log(work->made, path, "zero_after", &after) &&
           drift_logs(work, &before, &after) && fault_log_write(&after, path);
    fault_log_end(&before);
    fault_log_end(&after);
    return good;
}
