/* zero_flags.c - see zero_flags.h. */
#include "reduce/zero_flags.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/wind_floor.h"

/* Share of the time between two zeros by which a point may lie outside it: clocks and means. */
static const double extrapolation_limit = 0.05;

/* Of the run's q: a larger share of the loads is missing when it is in the zero. */
static const double still_share = 0.005;

/* What sensors show in still air, Pa: 0.1 % of a difference transducer's 2 kPa, 0.05 % of an atmosphere
 * where two absolute ones are subtracted. Common practice, no source. */
static const double difference_offset = 2;
static const double absolute_offset = 50;

/* Zeros that are read for nothing need no flag. */
static int zeros_are_used(const struct run_work *work)
{
    if (work->zeros.choice.kind < ZERO_KIND_CONSTANT)
        return 0;
    if (recipe_needs_zero(&work->recipe.tunnel))
        return 1;
    return run_data_channel(&work->data, ROLE_TAP) >= 0;
}

static int has_nameless_choice(const struct zero_end *end, const struct zero_reading *reading)
{
    return end->run != NULL && end->point == NULL && reading->data.n_points > 1;
}

static enum status flag_first_point(const struct run_work *work, struct flagger *flagger,
                                    struct fault *fault)
{
    const struct zeros *zeros = &work->zeros;
    int before = has_nameless_choice(&zeros->choice.before, &zeros->before);
    int after = has_nameless_choice(&zeros->choice.after, &zeros->after);
    const struct zero_end *end = before ? &zeros->choice.before : &zeros->choice.after;
    const struct zero_reading *reading = before ? &zeros->before : &zeros->after;
    if (!before && !after)
        return OK;
    struct flag_note note =
        flag_note_make(FLAG_ZERO_FIRST_POINT, work->run->run, "", end->run->run);
    (void)snprintf(note.detail, sizeof note.detail,
                   "zero %.80s holds %zu points and its first, %.80s, is taken%s", end->run->run,
                   reading->data.n_points, reading->point->point,
                   before && after ? "; the other zero alike" : "");
    return flagger_write(flagger, &note, fault);
}

static enum status flag_extrapolated(const struct run_work *work, struct flagger *flagger,
                                     const struct zeros *zeros, const struct run_data *data,
                                     const char *subject, struct fault *fault)
{
    double worst = zeros_worst_fraction(zeros, data);
    if (worst >= -extrapolation_limit && worst <= 1 + extrapolation_limit)
        return OK;
    struct flag_note note = flag_note_make(FLAG_ZERO_EXTRAPOLATED, work->run->run, "", subject);
    note.value = worst;
    note.limit = worst < 0 ? -extrapolation_limit : 1 + extrapolation_limit;
    note.unit = "1";
    (void)snprintf(note.detail, sizeof note.detail,
                   "the worst point is at %.2f of the way from zero %.80s (0) to zero %.80s (1)",
                   worst, zeros->choice.before.run->run, zeros->choice.after.run->run);
    return flagger_write(flagger, &note, fault);
}

struct used_zero {
    const struct zero_end *end;
    const struct zero_reading *reading;
};

static int is_same_zero(const struct used_zero *a, const struct used_zero *b)
{
    return a->end->run == b->end->run &&
           strcmp(a->reading->point->point, b->reading->point->point) == 0;
}

static double still_limit(const struct run_work *work, const struct zero_reading *zero, double q)
{
    int subtracts = work->recipe.tunnel.q_source == Q_FROM_TOTAL_AND_STATIC &&
                    isnan(run_data_mean(&zero->data, zero->point, ROLE_TOTAL_MINUS_STATIC));
    return fmax(still_share * q, subtracts ? absolute_offset : difference_offset);
}

static enum status flag_wind(const struct run_work *work, const struct used_zero *zero, double q,
                             struct flagger *flagger, struct fault *fault)
{
    double zero_q = wind_floor_q(work, &zero->reading->data, zero->reading->point);
    double limit = still_limit(work, zero->reading, q);
    if (!(q > 0) || !(zero_q > limit))
        return OK;
    struct flag_note note =
        flag_note_make(FLAG_ZERO_WITH_WIND, work->run->run, "", zero->end->run->run);
    note.value = zero_q;
    note.limit = limit;
    note.unit = "Pa";
    (void)snprintf(note.detail, sizeof note.detail,
                   "zero %.80s has a q of %.4g Pa, %.2g %% of the run's median of %.4g Pa, limit "
                   "%.3g Pa",
                   zero->end->run->run, zero_q, 100 * zero_q / q, q, limit);
    return flagger_write(flagger, &note, fault);
}

/* The zeros of the run and of its tare, each once. */
static enum status flag_winds(const struct run_work *work, double q, struct flagger *flagger,
                              struct fault *fault)
{
    const struct zeros *own = &work->zeros;
    const struct zeros *tare = &work->tare.zeros;
    const struct used_zero used[] = {{&own->choice.before, &own->before},
                                     {&own->choice.after, &own->after},
                                     {&tare->choice.before, &tare->before},
                                     {&tare->choice.after, &tare->after}};
    enum status status = OK;
    for (size_t i = 0; i < sizeof used / sizeof used[0] && status == OK; i++) {
        int is_told = used[i].reading->point == NULL;
        for (size_t k = 0; k < i && !is_told; k++)
            is_told = used[k].reading->point != NULL && is_same_zero(&used[k], &used[i]);
        if (!is_told)
            status = flag_wind(work, &used[i], q, flagger, fault);
    }
    return status;
}

enum status zero_flags(const struct run_work *work, double q, struct flagger *flagger,
                       struct fault *fault)
{
    const struct zeros *tare = &work->tare.zeros;
    enum status status = OK;
    if (zeros_are_used(work))
        status = flag_first_point(work, flagger, fault);
    if (status == OK && zeros_are_used(work))
        status = flag_winds(work, q, flagger, fault);
    if (status == OK && zeros_are_used(work))
        status = flag_extrapolated(work, flagger, &work->zeros, &work->data, "", fault);
    if (status == OK && work->tare.choice.kind == TARE_KIND_LOOKUP)
        status = flag_extrapolated(work, flagger, tare, &work->tare.data,
                                   work->tare.choice.run->run, fault);
    return status;
}
