/* point_taps.c - tap pressures of a run's points; see point_taps.h. */
#include "reduce/point_taps.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/freestream.h"
#include "reduce/physics/tunnel_taps.h"
#include "reduce/point_spread.h"
#include "reduce/rows.h"
#include "reduce/tap_zero.h"

enum { FROZEN_SAMPLES = 8, FROZEN_HOLDS = 2, IMPOSSIBLE_UNCERTAINTIES = 3 };

enum tap_trouble { TAP_FROZEN, TAP_IMPOSSIBLE, TAP_SILENT, TAP_WITHOUT_ZERO, TAP_TROUBLES };

/* One tap: its channel here and in the zeros (-1: none), and the points at which it failed. */
struct tap_channel {
    int here, before, after;
    size_t points[TAP_TROUBLES];
    double worst[TAP_TROUBLES]; /* Cp farthest out, or samples of the longest run; NAN for none */
    double limit[TAP_TROUBLES];
    size_t points_held; /* at which one of two zeros was held */
};

struct tap_work {
    const struct run_work *work;
    struct tap_channel *channels;
    size_t n_channels;
    size_t n_points;
    struct statement *insert;
    int64_t reduction;
};

static enum status find_channels(struct tap_work *taps, struct fault *fault)
{
    const struct run_work *work = taps->work;
    void *array = NULL;
    enum status status = array_make(&array, work->data.n_channels, sizeof *taps->channels, fault);
    if (status != OK)
        return status;
    taps->channels = array;
    for (size_t i = 0; i < work->data.n_channels; i++) {
        const struct channel_row *channel = &work->data.channels[i];
        if (channel->role != ROLE_TAP)
            continue;
        struct tap_channel *tap = &taps->channels[taps->n_channels++];
        tap->here = (int)i;
        tap->before = run_data_tap(&work->zeros.before.data, channel->tap);
        tap->after = run_data_tap(&work->zeros.after.data, channel->tap);
    }
    return OK;
}

enum status tap_work_open(const struct run_work *work, int64_t reduction, struct tap_work **taps,
                          struct fault *fault)
{
    void *array = NULL;
    *taps = NULL;
    enum status status = array_make(&array, 1, sizeof **taps, fault);
    if (status != OK)
        return status;
    struct tap_work *made = array;
    made->work = work;
    made->reduction = reduction;
    status = find_channels(made, fault);
    if (status == OK)
        status = statement_prepare(work->night->store,
                                   "INSERT INTO tap_result (reduction, point, tap, cp_raw, cp, "
                                   "cp_u, n, state) VALUES (?,?,?,?,?,?,?,?)",
                                   &made->insert, fault);
    if (status != OK) {
        tap_work_end(made);
        return status;
    }
    *taps = made;
    return OK;
}

void tap_work_end(struct tap_work *taps)
{
    if (taps == NULL)
        return;
    statement_free(taps->insert);
    free(taps->channels);
    free(taps);
}

/* A tap that its logger repeats may stay constant through a short point: its run is then about one hold
 * long (ingest/hold_watch.h). */
static int is_frozen(const struct channel_statistics *channel)
{
    return channel->n > FROZEN_SAMPLES && channel->stuck >= FROZEN_HOLDS &&
           (channel->sd == 0 || channel->stuck >= channel->n - 1);
}

static void note_trouble(struct tap_channel *tap, enum tap_trouble trouble, double value,
                         double limit)
{
    if (tap->points[trouble] == 0 || fabs(value) > fabs(tap->worst[trouble])) {
        tap->worst[trouble] = value;
        tap->limit[trouble] = limit;
    }
    tap->points[trouble]++;
}

/* Where the Mach number is not known, the value at the largest one that is taken. */
static double stagnation_or_most(const struct tunnel_freestream *wind)
{
    return isnan(wind->stagnation_cp) ? freestream_stagnation_cp(FREESTREAM_FASTEST)
                                      : wind->stagnation_cp;
}

/* 1 when the tap is to be believed at this point; else what is wrong is noted. */
static int judge(struct tap_channel *tap, enum tap_zero_kind zero,
                 const struct channel_statistics *channel, const struct tunnel_freestream *wind,
                 double cp, double u)
{
    if (zero == TAP_ZERO_SILENT) {
        note_trouble(tap, TAP_WITHOUT_ZERO, (double)NAN, (double)NAN);
        return 0;
    }
    double allowance = isfinite(u) ? IMPOSSIBLE_UNCERTAINTIES * u : 0;
    double highest = stagnation_or_most(wind) + allowance;
    double lowest = isnan(wind->mach) ? (double)-INFINITY : -2 / (1.4 * wind->mach * wind->mach);
    if (!isfinite(cp)) {
        note_trouble(tap, TAP_SILENT, channel->n_missing, 0);
        return 0;
    }
    if (is_frozen(channel)) {
        note_trouble(tap, TAP_FROZEN, channel->stuck, channel->n - 1);
        return 0;
    }
    if (cp <= highest && cp >= lowest)
        return 1;
    note_trouble(tap, TAP_IMPOSSIBLE, cp, cp > highest ? highest : lowest);
    return 0;
}

/* Standard error of the static pressure that an absolute tap is referred to. */
static double static_error(const struct run_work *work, const struct point_row *point)
{
    static const double weights[] = {1, -1};
    int still = run_data_channel(&work->data, ROLE_STATIC_PRESSURE);
    const int apart[] = {run_data_channel(&work->data, ROLE_TOTAL_PRESSURE),
                         run_data_channel(&work->data, ROLE_TOTAL_MINUS_STATIC)};
    if (still >= 0)
        return point_sum_error(work, point, &still, weights, 1);
    return apart[0] < 0 || apart[1] < 0 ? 0 : point_sum_error(work, point, apart, weights, 2);
}

/* What the taps of a point share: standard errors of the wind, relative, and of static, Pa. */
struct shared_error {
    double wind, still;
};

/* Standard uncertainty of the raw Cp from the tap's own scatter, the wind's and, of an absolute tap,
 * that of static; their covariance was not kept and is left out. */
static double raw_uncertainty(const struct channel_statistics *channel, enum tap_measure measure,
                              double cp, double q, const struct shared_error *error)
{
    if (measure == TAP_AS_COEFFICIENT) /* the wind's is in it already */
        return point_standard_error(channel, NULL);
    double own = point_standard_error(channel, NULL) / q;
    double wind = isfinite(error->wind) ? cp * error->wind : 0;
    double still = measure == TAP_ABSOLUTE ? error->still / q : 0;
    return sqrt(own * own + wind * wind + still * still);
}

static enum status write_tap(struct tap_work *taps, const char *point, const char *tap,
                             const double values[4], const char *state, struct fault *fault)
{
    struct statement *insert = taps->insert;
    const char *const texts[] = {point, tap};
    enum status status = statement_bind_integer(insert, 1, taps->reduction, fault);
    for (int i = 0; status == OK && i < 2; i++)
        status = statement_bind_text(insert, i + 2, texts[i], fault);
    for (int i = 0; status == OK && i < 4; i++)
        status = statement_bind_real(insert, i + 4, values[i], fault);
    if (status == OK)
        status = statement_bind_text(insert, 8, state, fault);
    return status == OK ? statement_run(insert, fault) : status;
}

static const enum tap_measure measures[] = {
    [TAPS_RELATIVE] = TAP_ABOVE_STATIC,
    [TAPS_ABSOLUTE] = TAP_ABSOLUTE,
    [TAPS_AS_COEFFICIENT] = TAP_AS_COEFFICIENT,
};

static enum status reduce_tap(struct tap_work *taps, struct tap_channel *tap,
                              const struct reduced_point *made, const struct shared_error *error,
                              struct fault *fault)
{
    const struct run_work *work = taps->work;
    const struct channel_statistics *channel = &made->point->channels[tap->here];
    const struct tunnel_freestream *wind = &made->result.freestream;
    enum tap_measure measure = measures[work->data.channels[tap->here].measured];
    struct tap_zero zero = {TAP_ZERO_NONE, 0};
    if (measure != TAP_AS_COEFFICIENT)
        zero = tap_zero_at(work, tap->before, tap->after, made->point);
    struct tap_reading reading = {channel->mean, zero.value, measure};
    struct tap_coefficient cp = {(double)NAN, (double)NAN};
    if (tunnel_tap_reduce(&reading, wind, made->result.q_ratio, &cp) != OUTCOME_OK)
        cp = (struct tap_coefficient){(double)NAN, (double)NAN};
    double u = raw_uncertainty(channel, measure, cp.raw, wind->dynamic_pressure, error);
    int good = judge(tap, zero.kind, channel, wind, cp.raw, u);
    tap->points_held += zero.kind == TAP_ZERO_HELD;
    const double values[] = {cp.raw, cp.corrected, u / made->result.q_ratio, channel->n};
    return write_tap(taps, made->point->point, work->data.channels[tap->here].tap, values,
                     good ? "ok" : "failed", fault);
}

enum status tap_work_point(struct tap_work *taps, const struct reduced_point *made,
                           struct fault *fault)
{
    int needs_wind = !taps->work->recipe.tunnel.taps_are_coefficients;
    if ((needs_wind && !isfinite(made->result.freestream.stagnation_cp)) ||
        !isfinite(made->result.q_ratio))
        return OK;
    struct shared_error error = {point_wind_spread(taps->work, made->point).error,
                                 static_error(taps->work, made->point)};
    enum status status = OK;
    taps->n_points++;
    for (size_t i = 0; status == OK && i < taps->n_channels; i++)
        status = reduce_tap(taps, &taps->channels[i], made, &error, fault);
    return status;
}

static void describe(struct flag_note *note, const struct tap_work *taps,
                     const struct tap_channel *tap, enum tap_trouble trouble)
{
    static const char *const words[] = {"longest run of one value, samples:", "worst Cp",
                                        "samples missing", ""};
    if (trouble == TAP_WITHOUT_ZERO)
        (void)snprintf(
            note->detail, sizeof note->detail,
            "at %zu of %zu points; its zero holds no value of it, or no static pressure, "
            "or is refused",
            tap->points[trouble], taps->n_points);
    else
        (void)snprintf(note->detail, sizeof note->detail,
                       "at %zu of %zu points; %s %.4g, limit %.4g", tap->points[trouble],
                       taps->n_points, words[trouble], note->value, note->limit);
}

/* Taps with one zero of two: said once a run. */
static enum status flag_held_zeros(const struct tap_work *taps, struct flagger *flagger,
                                   struct fault *fault)
{
    size_t held = 0;
    const char *first = "";
    for (size_t i = taps->n_channels; i > 0; i--) {
        const struct tap_channel *tap = &taps->channels[i - 1];
        if (tap->points_held == 0)
            continue;
        first = taps->work->data.channels[tap->here].tap;
        held++;
    }
    if (held == 0)
        return OK;
    struct flag_note note = flag_note_make(FLAG_TAP_ZERO_HELD, taps->work->run->run, "", "taps");
    (void)snprintf(
        note.detail, sizeof note.detail,
        "%zu of %zu taps, the first is %.80s, have a value in one of the zeros %.80s and "
        "%.80s only; it is held constant",
        held, taps->n_channels, first, taps->work->zeros.choice.before.run->run,
        taps->work->zeros.choice.after.run->run);
    return flagger_write(flagger, &note, fault);
}

/* Taps without any zero reading, when zeros of the loads were found: said once a run. */
static enum status flag_missing_zeros(const struct tap_work *taps, struct flagger *flagger,
                                      struct fault *fault)
{
    size_t missing = 0;
    if (taps->work->zeros.choice.kind < ZERO_KIND_CONSTANT)
        return OK;
    for (size_t i = 0; i < taps->n_channels; i++)
        missing += taps->channels[i].before < 0 && taps->channels[i].after < 0;
    if (missing == 0)
        return OK;
    struct flag_note note = flag_note_make(FLAG_TAP_ZERO_MISSING, taps->work->run->run, "", "taps");
    (void)snprintf(note.detail, sizeof note.detail, "%zu of %zu taps are not in the run's zeros",
                   missing, taps->n_channels);
    return flagger_write(flagger, &note, fault);
}

enum status tap_work_flags(struct tap_work *taps, struct flagger *flagger, struct fault *fault)
{
    static const enum flag_rule rules[] = {FLAG_TAP_FROZEN, FLAG_TAP_IMPOSSIBLE,
                                           FLAG_SAMPLES_MISSING, FLAG_TAP_ZERO_SILENT};
    static const char *const units[] = {"samples", "1", "samples", ""};
    enum status status = flag_missing_zeros(taps, flagger, fault);
    if (status == OK)
        status = flag_held_zeros(taps, flagger, fault);
    for (size_t i = 0; i < taps->n_channels; i++) {
        const struct tap_channel *tap = &taps->channels[i];
        for (int k = 0; status == OK && k < TAP_TROUBLES; k++) {
            if (tap->points[k] == 0)
                continue;
            struct flag_note note = flag_note_make(rules[k], taps->work->run->run, "",
                                                   taps->work->data.channels[tap->here].tap);
            note.state = FLAG_FAILED;
            note.value = tap->worst[k];
            note.limit = tap->limit[k];
            note.unit = units[k];
            describe(&note, taps, tap, (enum tap_trouble)k);
            status = flagger_write(flagger, &note, fault);
        }
    }
    return status;
}
