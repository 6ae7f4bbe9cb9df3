/* undeclared_change.c - see undeclared_change.h. */
#include "reduce/undeclared_change.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/point_quantities.h"
#include "reduce/sensed_heights.h"
#include "reduce/tare_fit.h"

enum { OUTPUTS = 6 };

static const double drifts_most = 3;

const struct run_row *undeclared_reference(const struct night *night, const struct run_row *run)
{
    const struct run_row *before = NULL;
    for (size_t i = 0; i < night->n_runs; i++) {
        const struct run_row *other = &night->runs[i];
        if (other == run || !run_is_wind_on(other) || !other->usable ||
            !run_same_entry(other, run) || strcmp(other->balance, run->balance) != 0 ||
            !(other->start < run->start) || (before != NULL && other->start <= before->start))
            continue;
        before = other;
    }
    if (before == NULL || strcmp(before->configuration, run->configuration) != 0 ||
        strcmp(before->mounting, run->mounting) != 0)
        return NULL;
    return before;
}

/* What is asked of one pair of runs. */
struct asking {
    const struct run_work *work;
    const struct load_probe *probe;
    const struct run_row *before;
    struct flagger *flagger;
};

/* What a change of the zero's readings does to the quantities; 0 when there is no number. */
static int zero_effect(const struct asking *asking, const double step[OUTPUTS],
                       double change[QUANTITY_COUNT])
{
    struct tunnel_inputs inputs = asking->probe->made.inputs;
    for (int i = 0; i < OUTPUTS; i++) {
        inputs.zero_before[i] += step[i];
        inputs.zero_after[i] += step[i];
    }
    if (!point_quantities(asking->work, &inputs, change))
        return 0;
    for (int q = 0; q < QUANTITY_COUNT; q++)
        change[q] -= asking->probe->quantity[q];
    return 1;
}

static const struct zero_reading *last_of(const struct zeros *zeros)
{
    return zeros->choice.kind == ZERO_KIND_LINEAR ? &zeros->after : &zeros->before;
}

/* One zero's readings over another's, outputs or loads. */
static int readings_apart(const struct asking *asking, const struct zero_reading *to,
                          const struct zero_reading *from, double step[OUTPUTS])
{
    int first = (int)recipe_first_role(asking->work->recipe.tunnel.source);
    unsigned absent = asking->work->recipe.tunnel.not_measured;
    for (int i = 0; i < OUTPUTS; i++) {
        enum role role = (enum role)(first + i);
        step[i] = absent >> i & 1U ? 0
                                   : run_data_mean(&to->data, to->point, role) -
                                         run_data_mean(&from->data, from->point, role);
        if (!isfinite(step[i]))
            return 0;
    }
    return 1;
}

/* What the drift within a run makes plausible of a quantity over a time; 0 where it has one zero. */
static double plausible_drift(const struct asking *asking, const struct zeros *zeros, double gap,
                              enum quantity quantity)
{
    double step[OUTPUTS];
    double change[QUANTITY_COUNT];
    if (zeros->choice.kind != ZERO_KIND_LINEAR ||
        !readings_apart(asking, &zeros->after, &zeros->before, step) ||
        !zero_effect(asking, step, change))
        return 0;
    double span = zeros->after.point->time - zeros->before.point->time;
    double times = span > 0 ? fmax(1, gap / span) : 1;
    return fabs(change[quantity]) * times;
}

static void begin_note(const struct asking *asking, const char *subject,
                       const struct metric_share *worth, const double change[QUANTITY_COUNT],
                       struct flag_note *note)
{
    const struct campaign *campaign = asking->work->night->campaign;
    double to[QUANTITY_COUNT];
    *note = flag_note_make(FLAG_UNDECLARED_CHANGE, asking->work->run->run, "", subject);
    for (int q = 0; q < QUANTITY_COUNT; q++)
        to[q] = asking->probe->quantity[q] + change[q];
    note->value = worth->change;
    note->limit = campaign->limits.zero_drift * worth->metric->worthwhile;
    note->unit = quantity_row(worth->quantity)->unit;
    note->effect = effect_in_counts(campaign, asking->probe->quantity, to);
}

static int matters(const struct asking *asking, const double change[QUANTITY_COUNT],
                   struct metric_share *worth)
{
    const struct campaign *campaign = asking->work->night->campaign;
    *worth = metric_share_of(campaign, asking->probe, change);
    return worth->metric != NULL && worth->share > campaign->limits.zero_drift;
}

static enum status tell_zero(const struct asking *asking, const struct zeros *others,
                             struct fault *fault)
{
    const struct campaign *campaign = asking->work->night->campaign;
    const struct zeros *own = &asking->work->zeros;
    const struct zero_reading *from = last_of(others);
    const struct zero_reading *to = &own->before;
    const char *from_run = (others->choice.kind == ZERO_KIND_LINEAR ? others->choice.after.run
                                                                    : others->choice.before.run)
                               ->run;
    double step[OUTPUTS];
    double change[QUANTITY_COUNT];
    struct metric_share worth;
    char said[80];
    if (!readings_apart(asking, to, from, step) || !zero_effect(asking, step, change) ||
        !matters(asking, change, &worth))
        return OK;
    double gap = fabs(to->point->time - from->point->time);
    double drift = fmax(plausible_drift(asking, own, gap, worth.quantity),
                        plausible_drift(asking, others, gap, worth.quantity));
    if (!(fabs(worth.change) > drifts_most * drift))
        return OK;
    struct flag_note note;
    begin_note(asking, "zero", &worth, change, &note);
    quantity_change_say(campaign, worth.quantity, worth.change, said, sizeof said);
    (void)snprintf(
        note.detail, sizeof note.detail,
        "zero %.40s reads otherwise than zero %.40s, though run %.40s and the run before "
        "it, %.40s, declare one configuration: %s if it is taken for the other, %.2f of "
        "the smallest worthwhile delta, limit %g; drift makes %.2f of it plausible",
        own->choice.before.run->run, from_run, asking->work->run->run, asking->before->run, said,
        worth.share, campaign->limits.zero_drift, drift / fabs(worth.change));
    effect_say(campaign, note.effect, note.detail, sizeof note.detail);
    return flagger_write(asking->flagger, &note, fault);
}

static enum status ask_zero(const struct asking *asking, struct fault *fault)
{
    struct zeros others;
    enum status status = OK;
    if (asking->work->zeros.choice.kind < ZERO_KIND_CONSTANT)
        return OK;
    status = zeros_read(asking->work->night, asking->before, &others, fault);
    if (status != OK)
        return status;
    if (others.choice.kind >= ZERO_KIND_CONSTANT)
        status = tell_zero(asking, &others, fault);
    zeros_end(&others);
    return status;
}

/* "; W 7963.0 N was 8010.2 N; x of the centre of gravity 0.050 m was 0.047 m". */
static void say_weights(const struct tare_model *now, const struct tare_model *then, char *out,
                        size_t size)
{
    static const char *const names[] = {"x", "y", "z"};
    size_t used = strlen(out);
    if (!now->is_wanted || now->outcome != OUTCOME_OK || then->outcome != OUTCOME_OK)
        return;
    if (isfinite(now->fit.weight) && isfinite(then->fit.weight) && used < size)
        used += (size_t)snprintf(out + used, size - used, "; W %.1f N was %.1f N", now->fit.weight,
                                 then->fit.weight);
    for (int i = 0; i < 3; i++)
        if (isfinite(now->fit.position[i]) && isfinite(then->fit.position[i]) && used < size)
            used +=
                (size_t)snprintf(out + used, size - used, "; %s of its centre %.3f m was %.3f m",
                                 names[i], now->fit.position[i], then->fit.position[i]);
}

static enum status tell_tare(const struct asking *asking, const struct tare_table *other,
                             struct fault *fault)
{
    const struct run_work *work = asking->work;
    const struct campaign *campaign = work->night->campaign;
    const double *tolerance = work->recipe.facility->tare_tolerance;
    double attitude[ATTITUDE_COUNT];
    double step[6];
    double change[QUANTITY_COUNT];
    struct tare_found then;
    struct metric_share worth;
    struct flag_note note;
    char said[80];
    attained_attitude(campaign, work->recipe.facility, &work->data, asking->probe->made.point,
                      attitude);
    if (tare_at(other, tolerance, attitude, &then, NULL, NULL) != OUTCOME_OK)
        return OK;
    for (int i = 0; i < 6; i++)
        step[i] = asking->probe->made.inputs.tare[i] - then.load[i];
    if (!load_probe_add(work, asking->probe, step, change))
        return OK;
    for (int q = 0; q < QUANTITY_COUNT; q++)
        change[q] -= asking->probe->quantity[q];
    if (!matters(asking, change, &worth))
        return OK;
    begin_note(asking, "weight tare", &worth, change, &note);
    quantity_change_say(campaign, worth.quantity, worth.change, said, sizeof said);
    (void)snprintf(note.detail, sizeof note.detail,
                   "at the attitude of point %.20s weight tare %.40s is another than %.40s, though "
                   "run %.40s and the run before it, %.40s, declare one configuration: %s with the "
                   "other one, %.2f of the smallest worthwhile delta, limit %g",
                   asking->probe->made.point->point, work->tare.choice.run->run,
                   other->choice.run->run, work->run->run, asking->before->run, said, worth.share,
                   campaign->limits.zero_drift);
    say_weights(&work->tare.model, &other->model, note.detail, sizeof note.detail);
    effect_say(campaign, note.effect, note.detail, sizeof note.detail);
    return flagger_write(asking->flagger, &note, fault);
}

static enum status ask_tare(const struct asking *asking, struct fault *fault)
{
    const struct run_work *work = asking->work;
    struct tare_choice choice;
    struct tare_table other;
    tare_choose(work->night, asking->before, &choice);
    if (work->tare.choice.kind != TARE_KIND_LOOKUP || choice.kind != TARE_KIND_LOOKUP ||
        choice.run == work->tare.choice.run)
        return OK;
    enum status status = tare_table_read(work->night, asking->before, &work->recipe, &other, fault);
    if (status != OK)
        return status;
    if (other.choice.kind == TARE_KIND_LOOKUP)
        status = tell_tare(asking, &other, fault);
    tare_table_end(&other);
    return status;
}

enum status undeclared_change_flags(const struct run_work *work, const struct load_probe *probe,
                                    struct flagger *flagger, struct fault *fault)
{
    const struct asking asking = {work, probe, undeclared_reference(work->night, work->run),
                                  flagger};
    if (asking.before == NULL || probe->made.point == NULL ||
        !recipe_has_loads(&work->recipe.tunnel))
        return OK;
    enum status status = ask_zero(&asking, fault);
    return status == OK ? ask_tare(&asking, fault) : status;
}
