/* record_trend.c - see record_trend.h. */
#include "reduce/record_trend.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/point_quantities.h"
#include "reduce/point_rows.h"
#include "reduce/point_spread.h"
#include "reduce/record_state.h"
#include "reduce/rows.h"
#include "reduce/statistics/record_rules.h"
#include "reduce/statistics/robust.h"

enum { WATCHED = QUANTITY_COUNT + 1, RELATIVE_Q = QUANTITY_COUNT, POINTS_MIN = 5 };

static const double q_limit = 0.001;
static const double own_uncertainty_most = 1.5; /* of the run's median */
static const double median_efficiency = 1.2533; /* sqrt(pi/2): sd of a median over that of a mean */

/* Second half less first at one point, and the standard uncertainty of the whole; NAN: not known. */
struct movement {
    double delta[WATCHED], u[WATCHED];
};

struct trend_work {
    struct record_run *run;
    struct movement *points;
    double *scratch;
};

/* Everything of the point with the halves' means in the place of the whole's; 0 when a channel that is
 * needed has none or there is no number. */
static int reduce_half(const struct record_run *run, const struct point_row *point, int second,
                       double watched[WATCHED])
{
    const struct run_work *work = &run->work;
    struct point_row copy = *point;
    struct tunnel_inputs inputs;
    struct tunnel_result result;
    memcpy(run->varied, point->channels, work->data.n_channels * sizeof *run->varied);
    copy.channels = run->varied;
    for (size_t c = 0; c < work->data.n_channels; c++) {
        struct channel_statistics *s = &run->varied[c];
        enum role role = work->data.channels[c].role;
        if (record_is_position(role) || role == ROLE_TAP)
            continue;
        double half = second ? s->mean_second_half : s->mean_first_half;
        if (!isfinite(half) && record_is_needed(work, role))
            return 0;
        s->mean = isfinite(half) ? half : s->mean;
    }
    if (!point_inputs_fill(work, &copy, &inputs) ||
        tunnel_point_reduce(&work->recipe.tunnel, &inputs, &result) != OUTCOME_OK)
        return 0;
    quantities_from_coefficients(result.corrected, work->recipe.tunnel.reference_area, watched);
    watched[RELATIVE_Q] = result.freestream.dynamic_pressure;
    return 1;
}

static void fill_uncertainty(const struct run_work *work, const struct point_row *point,
                             double u[WATCHED])
{
    struct reduced_point made;
    memset(&made, 0, sizeof made);
    made.point = point;
    if (!point_inputs_fill(work, point, &made.inputs))
        return;
    point_spread_fill(work, &made);
    double area = work->recipe.tunnel.reference_area;
    for (int i = 0; i < COEFFICIENTS; i++)
        u[i] = made.spread.coefficient[i];
    u[QUANTITY_BALANCE] = made.spread.balance;
    u[QUANTITY_LD] = made.spread.lift_to_drag;
    u[QUANTITY_CDA] = area * u[QUANTITY_CD];
    u[QUANTITY_CLA] = area * u[QUANTITY_CL];
    u[RELATIVE_Q] = point_wind_spread(work, point).error;
}

static void measure(struct trend_work *work, size_t point)
{
    double first[WATCHED];
    double second[WATCHED];
    struct movement *movement = &work->points[point];
    const struct point_row *row = &work->run->work.data.points[point];
    for (int i = 0; i < WATCHED; i++)
        movement->delta[i] = movement->u[i] = (double)NAN;
    if (!reduce_half(work->run, row, 0, first) || !reduce_half(work->run, row, 1, second))
        return;
    for (int i = 0; i < WATCHED; i++)
        movement->delta[i] = second[i] - first[i];
    movement->delta[RELATIVE_Q] /= (first[RELATIVE_Q] + second[RELATIVE_Q]) / 2;
    fill_uncertainty(&work->run->work, row, movement->u);
}

static struct robust over_points(struct trend_work *work, int watched, int uncertainty)
{
    size_t n = work->run->work.data.n_points;
    for (size_t i = 0; i < n; i++)
        work->scratch[i] =
            uncertainty ? work->points[i].u[watched] : work->points[i].delta[watched];
    return robust_of(work->scratch, n);
}

/* What one watched quantity did over the run. */
struct trend {
    int watched;
    size_t points, worst;
    int is_common;   /* 1: all points moved alike */
    double severity; /* of the worst, over the limit */
    double delta, limit;
};

static void judge_points(struct trend_work *work, struct trend *trend, unsigned char *hit)
{
    double usual = over_points(work, trend->watched, 1).median;
    for (size_t i = 0; i < work->run->work.data.n_points; i++) {
        double delta = work->points[i].delta[trend->watched];
        double u = fmin(work->points[i].u[trend->watched], own_uncertainty_most * usual);
        hit[i] = (unsigned char)record_trend(delta, u, trend->limit).raised;
        if (!hit[i])
            continue;
        trend->points++;
        if (fabs(delta) / trend->limit <= trend->severity)
            continue;
        trend->severity = fabs(delta) / trend->limit;
        trend->delta = delta;
        trend->worst = i;
    }
}

/* Half of the difference's own standard uncertainty, as the rule wants that of a whole point. */
static void judge_all(struct trend_work *work, struct trend *trend, unsigned char *hit)
{
    struct robust all = over_points(work, trend->watched, 0);
    double u = median_efficiency * all.scale / sqrt((double)all.n);
    if (all.n < POINTS_MIN || !record_trend(all.median, u / 2, trend->limit).raised)
        return;
    trend->is_common = 1;
    trend->points = all.n;
    trend->delta = all.median;
    trend->severity = fmax(trend->severity, fabs(all.median) / trend->limit);
    for (size_t i = 0; i < work->run->work.data.n_points; i++)
        hit[i] = isfinite(work->points[i].delta[trend->watched]);
}

static struct trend judge(struct trend_work *work, int watched, double limit)
{
    struct trend trend = {.watched = watched, .limit = limit};
    judge_points(work, &trend, work->run->hit);
    judge_all(work, &trend, work->run->hit);
    return trend;
}

static void say_where(const struct trend_work *work, const struct trend *trend, char *text,
                      size_t size)
{
    if (trend->is_common)
        (void)snprintf(text, size, "in the median of the points");
    else
        (void)snprintf(text, size, "at point %.20s",
                       work->run->work.data.points[trend->worst].point);
}

static enum status flag_metric(struct trend_work *work, const struct trend *trend,
                               struct fault *fault)
{
    char points[240];
    char where[60];
    const struct run_work *run = &work->run->work;
    const struct campaign *campaign = run->night->campaign;
    const struct quantity_row *row = quantity_row((enum quantity)trend->watched);
    double size = row->in_counts ? count_size(campaign) : 1;
    const char *unit = row->in_counts ? " counts" : strcmp(row->unit, "1") == 0 ? "" : row->unit;
    struct flag_note note =
        flag_note_make(FLAG_TREND, run->run->run, record_only_point(work->run), row->symbol);
    note.value = trend->delta;
    note.limit = trend->limit;
    note.unit = row->unit;
    double zero[QUANTITY_COUNT] = {0};
    note.effect = effect_in_counts(campaign, zero, work->points[trend->worst].delta);
    record_say_points(work->run, points, sizeof points);
    say_where(work, trend, where, sizeof where);
    (void)snprintf(
        note.detail, sizeof note.detail,
        "%s: %s in the second half is %+.3g%s%s above the first %s, limit %.3g (%g of the "
        "smallest worthwhile delta)",
        points, row->symbol, trend->delta / size, row->in_counts || unit[0] == '\0' ? "" : " ",
        unit, where, trend->limit / size, campaign->limits.trend);
    return record_flag(work->run, &note, fault);
}

static enum status flag_wind(struct trend_work *work, const struct trend *trend,
                             struct fault *fault)
{
    char points[240];
    char where[60];
    struct flag_note note =
        flag_note_make(FLAG_Q_TREND, work->run->work.run->run, record_only_point(work->run), "q");
    note.value = trend->delta;
    note.limit = trend->limit;
    note.unit = "1";
    record_say_points(work->run, points, sizeof points);
    say_where(work, trend, where, sizeof where);
    (void)snprintf(note.detail, sizeof note.detail,
                   "%s: q in the second half is %+.3g %% above the first %s, limit %g %%", points,
                   100 * trend->delta, where, 100 * trend->limit);
    return record_flag(work->run, &note, fault);
}

/* The metric that moved most against its limit; hit is left as that one set it. */
static struct trend worst_metric(struct trend_work *work)
{
    const struct campaign *campaign = work->run->work.night->campaign;
    struct trend worst = {.points = 0};
    for (size_t i = 0; i < campaign->n_metrics; i++) {
        enum quantity quantity = quantity_from_symbol(campaign->metrics[i].quantity);
        double limit = campaign->limits.trend * campaign->metrics[i].worthwhile;
        if (quantity == QUANTITY_COUNT || !(limit > 0))
            continue;
        struct trend trend = judge(work, (int)quantity, limit);
        if (trend.points > 0 && trend.severity > worst.severity)
            worst = trend;
    }
    if (worst.points > 0)
        worst = judge(work, worst.watched, worst.limit);
    return worst;
}

static enum status judge_run(struct trend_work *work, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; i < work->run->work.data.n_points; i++)
        measure(work, i);
    struct trend trend = worst_metric(work);
    if (trend.points > 0)
        status = flag_metric(work, &trend, fault);
    if (status != OK || work->run->work.recipe.tunnel.source == LOADS_AS_COEFFICIENTS)
        return status;
    trend = judge(work, RELATIVE_Q, q_limit);
    return trend.points > 0 ? flag_wind(work, &trend, fault) : OK;
}

enum status record_trend_judge(struct record_run *run, struct fault *fault)
{
    struct trend_work work = {.run = run};
    void *points = NULL;
    void *scratch = NULL;
    size_t n = run->work.data.n_points;
    if (!run->has_recipe)
        return OK;
    enum status status = array_make(&points, n, sizeof *work.points, fault);
    if (status == OK)
        status = array_make(&scratch, n, sizeof *work.scratch, fault);
    work.points = points;
    work.scratch = scratch;
    if (status == OK)
        status = judge_run(&work, fault);
    free(points);
    free(scratch);
    return status;
}
