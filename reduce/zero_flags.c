/* zero_flags.c - see zero_flags.h. */
#include "reduce/zero_flags.h"

#include <stdio.h>

/* Share of the time between two zeros by which a point may lie outside it: clocks and means. */
static const double extrapolation_limit = 0.05;

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

enum status zero_flags(const struct run_work *work, struct flagger *flagger, struct fault *fault)
{
    const struct zeros *tare = &work->tare.zeros;
    enum status status = OK;
    if (zeros_are_used(work))
        status = flag_first_point(work, flagger, fault);
    if (status == OK && zeros_are_used(work))
        status = flag_extrapolated(work, flagger, &work->zeros, &work->data, "", fault);
    if (status == OK && work->tare.choice.kind == TARE_KIND_LOOKUP)
        status = flag_extrapolated(work, flagger, tare, &work->tare.data,
                                   work->tare.choice.run->run, fault);
    return status;
}
