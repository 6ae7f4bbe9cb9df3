/* derive_trimmed.c - what parts are worth once a device has taken their change of balance back.
 *
 * The device's slopes are this entry's own: its deltas over its change of setting. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/derive_work.h"
#include "reduce/statistics/equal_balance.h"

enum { REASON = 200 };

struct trimming {
    struct derive_work *work;
    const struct trim_device *device;
    size_t at; /* the device's configuration in the family */
    enum quantity quantity;
    const struct measured_deltas *measure, *balance;
    const double *crossed; /* between both */
};

static struct trim_pair pair_of(const struct trimming *trimming, size_t configuration, double step)
{
    size_t at = configuration * trimming->measure->n + configuration;
    return (struct trim_pair){trimming->measure->readings[configuration].delta / step,
                              trimming->balance->readings[configuration].delta / step,
                              trimming->measure->covariance[at] / (step * step),
                              trimming->balance->covariance[at] / (step * step),
                              trimming->crossed[at] / 2 / (step * step)};
}

static double step_of(const struct trimming *trimming)
{
    return trimming->device->to - trimming->device->from;
}

/* Why there is no number, with its size and the limit. */
static void say_refusal(const struct trimming *trimming, enum outcome outcome,
                        const struct trimmed *trimmed, char reason[REASON])
{
    const struct trim_device *device = trimming->device;
    const struct delta_reading *moved = &trimming->balance->readings[trimming->at];
    if (outcome == OUTCOME_SINGULAR)
        (void)snprintf(reason, REASON,
                       "%.40s does not move the balance for certain: %+.2f, standard uncertainty "
                       "%.2f; limit: twice that; measure it with a larger change, or again",
                       device->name, moved->delta, moved->standard_uncertainty);
    else if (outcome == OUTCOME_UNMEASURED)
        (void)snprintf(reason, REASON,
                       "%.40s would have to stand at %.3g %.20s; it goes from %g to %g",
                       device->name, device->from + trimmed->setting, device->unit, device->least,
                       device->most);
    else
        (void)snprintf(reason, REASON, "its deltas' correlation is not known");
}

static enum status write_trimmed(const struct trimming *trimming, size_t configuration,
                                 const struct trimmed *trimmed, double freedom, const char *reason,
                                 struct fault *fault)
{
    struct derive_work *work = trimming->work;
    const struct family *family = &work->family;
    struct derived_interval interval =
        derive_interval(trimmed->delta, trimmed->standard, freedom, work->measuring.confidence);
    const char *const texts[] = {family->configurations[configuration],
                                 family->configurations[0],
                                 trimming->device->name,
                                 quantity_row(trimming->quantity)->symbol,
                                 family->measures[work->measuring.measure],
                                 trimming->device->unit,
                                 reason};
    const double reals[] = {trimmed->delta,      interval.standard,   interval.freedom,
                            interval.multiplier, interval.half_width, interval.lower,
                            interval.upper,      trimmed->setting};
    return derive_write(work, work->trimmed, texts, 7, reals, 8, fault);
}

static int is_known(const struct trimming *trimming, size_t configuration)
{
    return measured_delta_is_known(trimming->measure, configuration) &&
           measured_delta_is_known(trimming->balance, configuration);
}

static double freedom_of(const struct trimming *trimming, size_t configuration)
{
    return fmin(trimming->measure->readings[configuration].degrees_of_freedom,
                trimming->balance->readings[configuration].degrees_of_freedom);
}

/* What part and device have in common: the baseline. */
static struct trim_shared shared_of(const struct trimming *trimming, size_t configuration)
{
    size_t at = configuration * trimming->measure->n + trimming->at;
    double step = step_of(trimming);
    return (struct trim_shared){trimming->measure->covariance[at] / step,
                                trimming->balance->covariance[at] / step,
                                trimming->crossed[at] / step};
}

static enum status trim(const struct trimming *trimming, size_t configuration, struct fault *fault)
{
    const struct trim_device *device = trimming->device;
    struct trimmed trimmed = {(double)NAN, (double)NAN, (double)NAN};
    char reason[REASON] = "";
    if (isnan(trimming->measure->readings[configuration].delta))
        return OK;
    if (!is_known(trimming, configuration) || !is_known(trimming, trimming->at)) {
        size_t lacking = is_known(trimming, configuration) ? trimming->at : configuration;
        (void)snprintf(reason, sizeof reason,
                       "%.60s has no uncertainty here, so that nothing can be trimmed by it",
                       trimming->work->family.configurations[lacking]);
        return write_trimmed(trimming, configuration, &trimmed, (double)NAN, reason, fault);
    }
    struct trim_pair part = pair_of(trimming, configuration, 1);
    struct trim_pair slope = pair_of(trimming, trimming->at, step_of(trimming));
    struct trim_shared shared = shared_of(trimming, configuration);
    enum outcome outcome = equal_balance(&part, &slope, &shared, device->least - device->from,
                                         device->most - device->from, &trimmed);
    if (outcome != OUTCOME_OK)
        say_refusal(trimming, outcome, &trimmed, reason);
    double freedom = fmin(freedom_of(trimming, configuration), freedom_of(trimming, trimming->at));
    return write_trimmed(trimming, configuration, &trimmed, freedom, reason, fault);
}

static enum status trim_quantity(struct trimming *trimming, struct fault *fault)
{
    struct derive_work *work = trimming->work;
    double *crossed = NULL;
    enum status status = derive_deltas(work, trimming->quantity, &trimming->measure, fault);
    if (status == OK)
        status = derive_deltas(work, QUANTITY_BALANCE, &trimming->balance, fault);
    if (status == OK)
        status = measured_deltas_cross(&work->measuring, trimming->quantity, QUANTITY_BALANCE,
                                       trimming->measure, trimming->balance, &crossed, fault);
    trimming->crossed = crossed;
    for (size_t i = 1; status == OK && i < work->family.n_configurations; i++)
        if (i != trimming->at)
            status = trim(trimming, i, fault);
    free(crossed);
    return status;
}

static size_t find_configuration(const struct family *family, const char *name)
{
    size_t i = 0;
    while (i < family->n_configurations && strcmp(family->configurations[i], name) != 0)
        i++;
    return i;
}

/* The first metric of a quantity speaks for it. */
static int is_first(const struct campaign *campaign, size_t metric)
{
    for (size_t i = 0; i < metric; i++)
        if (strcmp(campaign->metrics[i].quantity, campaign->metrics[metric].quantity) == 0)
            return 0;
    return 1;
}

enum status derive_trimmed(struct derive_work *work, struct fault *fault)
{
    const struct campaign *campaign = work->night->campaign;
    enum status status = OK;
    for (size_t d = 0; d < campaign->n_trims; d++) {
        struct trimming trimming = {.work = work, .device = &campaign->trims[d]};
        trimming.at = find_configuration(&work->family, trimming.device->configuration);
        if (trimming.at == 0 || trimming.at == work->family.n_configurations)
            continue;
        for (size_t i = 0; status == OK && i < campaign->n_metrics; i++) {
            trimming.quantity = quantity_from_symbol(campaign->metrics[i].quantity);
            if (trimming.quantity != QUANTITY_BALANCE && is_first(campaign, i))
                status = trim_quantity(&trimming, fault);
        }
    }
    return status;
}
