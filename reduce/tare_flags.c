/* tare_flags.c - see tare_flags.h. */
#include "reduce/tare_flags.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/physics/constants.h"
#include "reduce/point_quantities.h"
#include "reduce/undeclared_change.h"
#include "reduce/wind_off_sweep.h"

static const double scales_limit = 0.002;
static const double residual_limit = 0.3; /* of the smallest worthwhile delta */

static int is_fitted(const struct tare_model *model)
{
    return model->is_wanted && model->outcome == OUTCOME_OK;
}

double tare_scales_share(const struct tare_model *model)
{
    if (!is_fitted(model) || !(model->setup.scales_weight > 0))
        return (double)NAN;
    return model->fit.weight / model->setup.scales_weight - 1;
}

static enum status flag_scales(const struct run_work *work, struct flagger *flagger,
                               struct fault *fault)
{
    const struct tare_model *model = &work->tare.model;
    double share = tare_scales_share(model);
    double noise = 2 * model->fit.weight_u / model->setup.scales_weight;
    if (!(fabs(share) - noise > scales_limit))
        return OK;
    struct flag_note note =
        flag_note_make(FLAG_SCALES_WEIGHT, work->run->run, "", work->tare.choice.run->run);
    note.value = share;
    note.limit = scales_limit;
    note.unit = "1";
    (void)snprintf(note.detail, sizeof note.detail,
                   "weight tare %.80s gives %.1f N, standard uncertainty %.1f N; the scales give "
                   "%.1f N: %+.2f %%, limit %g %%",
                   work->tare.choice.run->run, model->fit.weight, model->fit.weight_u,
                   model->setup.scales_weight, 100 * share, 100 * scales_limit);
    return flagger_write(flagger, &note, fault);
}

int tare_untold_words(const struct tare_model *model, char *out, size_t size)
{
    static const char *const names[] = {"x", "y", "z"};
    const struct weight_fit *fit = &model->fit;
    size_t used = 0;
    out[0] = '\0';
    if (!is_fitted(model))
        return 0;
    if (isnan(fit->weight))
        used += (size_t)snprintf(out, size,
                                 "W is not told: the balance tilts by %.4f deg rms over the sweep",
                                 fit->tilt * 180 / PI);
    for (int i = 0; i < 3 && used < size; i++) {
        if (!isnan(fit->position[i]))
            continue;
        used += (size_t)snprintf(out + used, size - used,
                                 "%s%s of the centre of gravity is not "
                                 "told",
                                 used > 0 ? "; " : "", names[i]);
        if (used < size && isfinite(fit->position_u[i]))
            used += (size_t)snprintf(out + used, size - used, ", standard uncertainty %.3f m",
                                     fit->position_u[i]);
    }
    if (used > 0 && used < size)
        (void)snprintf(out + used, size - used,
                       "; the sweep spans pitch %.2f, roll %.2f and yaw %.2f deg",
                       (fit->most.pitch - fit->least.pitch) * 180 / PI,
                       (fit->most.roll - fit->least.roll) * 180 / PI,
                       (fit->most.yaw - fit->least.yaw) * 180 / PI);
    return used > 0;
}

static enum status flag_untold(const struct run_work *work, struct flagger *flagger,
                               struct fault *fault)
{
    const struct tare_model *model = &work->tare.model;
    struct flag_note note =
        flag_note_make(FLAG_WEIGHT_NOT_TOLD, work->run->run, "", work->tare.choice.run->run);
    if (model->is_wanted && model->outcome != OUTCOME_OK) {
        (void)snprintf(note.detail, sizeof note.detail,
                       "weight tare %.80s is not fitted: %s; its points serve as they are",
                       work->tare.choice.run->run, outcome_sentence(model->outcome));
        return flagger_write(flagger, &note, fault);
    }
    if (!tare_untold_words(model, note.detail, sizeof note.detail))
        return OK;
    return flagger_write(flagger, &note, fault);
}

struct metric_share tare_residual_worth(const struct run_work *work, const struct load_probe *probe)
{
    const struct tare_model *model = &work->tare.model;
    double square[QUANTITY_COUNT] = {0};
    const struct metric_share none = {NULL, QUANTITY_COUNT, 0, 0};
    if (!is_fitted(model))
        return none;
    for (int i = 0; i < 6; i++) {
        double change[6] = {0};
        double quantity[QUANTITY_COUNT];
        change[i] = model->fit.rms[i];
        if (!load_probe_add(work, probe, change, quantity))
            return none;
        for (int q = 0; q < QUANTITY_COUNT; q++)
            square[q] += (quantity[q] - probe->quantity[q]) * (quantity[q] - probe->quantity[q]);
    }
    for (int q = 0; q < QUANTITY_COUNT; q++)
        square[q] = sqrt(square[q]);
    return metric_share_of(work->night->campaign, probe, square);
}

static enum status flag_residual(const struct run_work *work, const struct load_probe *probe,
                                 struct flagger *flagger, struct fault *fault)
{
    struct metric_share worth = tare_residual_worth(work, probe);
    const double *rms = work->tare.model.fit.rms;
    char change[80];
    if (worth.metric == NULL || !(worth.share > residual_limit))
        return OK;
    struct flag_note note =
        flag_note_make(FLAG_TARE_RESIDUAL, work->run->run, "", work->tare.choice.run->run);
    note.value = worth.share;
    note.limit = residual_limit;
    note.unit = "1";
    quantity_change_say(work->night->campaign, worth.quantity, worth.change, change, sizeof change);
    (void)snprintf(note.detail, sizeof note.detail,
                   "a rigid weight leaves %.3g, %.3g, %.3g N and %.3g, %.3g, %.3g N m rms of "
                   "weight tare %.60s: %s, %.2f of the smallest worthwhile delta, limit %g",
                   rms[0], rms[1], rms[2], rms[3], rms[4], rms[5], work->tare.choice.run->run,
                   change, worth.share, residual_limit);
    return flagger_write(flagger, &note, fault);
}

static void say_yaw(const struct run_work *work, const struct load_probe *probe,
                    const struct wind_off_sweep *sweep, const struct yaw_change *change,
                    struct flag_note *note)
{
    const struct quantity_row *largest = quantity_row(change->largest);
    double q = probe->made.result.freestream.dynamic_pressure;
    (void)snprintf(
        note->detail, sizeof note->detail,
        "from yaw %.2f to %.2f deg (points %.20s and %.20s of run %.40s) the wind-off reading "
        "changes CY by %+.5f and CN (CYM) by %+.5f at q %.0f Pa, %s most of all by %+.5f: Fy "
        "%+.3f N, Mx %+.3f N m, My %+.3f N m, Mz %+.3f N m in the car's axes; %s",
        change->from->attitude[ATTITUDE_YAW] * 180 / PI,
        change->to->attitude[ATTITUDE_YAW] * 180 / PI, change->from->point, change->to->point,
        sweep->run->run, change->coefficient[QUANTITY_CY], change->coefficient[QUANTITY_CYM], q,
        largest->symbol, change->coefficient[change->largest], change->load[1], change->load[3],
        change->load[4], change->load[5],
        sweep->is_taken_off ? "the weight tare takes it off at each point's attitude"
                            : "one zero serves all yaw angles, so it is inside the coefficients");
    (void)work;
}

static enum status flag_yaw(const struct run_work *work, const struct load_probe *probe,
                            struct flagger *flagger, struct fault *fault)
{
    const struct campaign *campaign = work->night->campaign;
    struct wind_off_sweep sweep;
    struct yaw_change change;
    enum status status = wind_off_sweep_make(work, &sweep, fault);
    if (status == OK)
        status = wind_off_sweep_yaw(work, probe, &sweep, &change, fault);
    double limit = campaign->limits.zero_drift * smallest_worthwhile(campaign);
    if (status == OK && change.from != NULL && fabs(change.coefficient[change.largest]) > limit) {
        struct flag_note note =
            flag_note_make(FLAG_ZERO_DEPENDS_ON_YAW, work->run->run, "", sweep.run->run);
        note.state = sweep.is_taken_off ? FLAG_INFO : FLAG_FLAGGED;
        note.value = change.coefficient[change.largest];
        note.limit = limit;
        note.unit = "1";
        say_yaw(work, probe, &sweep, &change, &note);
        status = flagger_write(flagger, &note, fault);
    }
    wind_off_sweep_end(&sweep);
    return status;
}

enum status tare_flags(const struct run_work *work, struct flagger *flagger, struct fault *fault)
{
    struct load_probe probe;
    enum status status = OK;
    load_probe_find(work, &probe);
    if (work->tare.choice.kind == TARE_KIND_LOOKUP)
        status = flag_scales(work, flagger, fault);
    if (status == OK && work->tare.choice.kind == TARE_KIND_LOOKUP)
        status = flag_untold(work, flagger, fault);
    if (status == OK)
        status = flag_residual(work, &probe, flagger, fault);
    if (status == OK)
        status = flag_yaw(work, &probe, flagger, fault);
    return status == OK ? undeclared_change_flags(work, &probe, flagger, fault) : status;
}
