/* equal_balance.c - see equal_balance.h. */
#include "reduce/statistics/equal_balance.h"

#include <math.h>
#include <stddef.h>

static int is_usable(const struct trim_pair *pair)
{
    return isfinite(pair->measure) && isfinite(pair->balance) && isfinite(pair->variance_measure) &&
           isfinite(pair->variance_balance) && isfinite(pair->covariance) &&
           pair->variance_measure >= 0 && pair->variance_balance >= 0;
}

/* Variance of measure - exchange balance. */
static double variance_of(const struct trim_pair *pair, double exchange)
{
    return fmax(pair->variance_measure - 2 * exchange * pair->covariance +
                    exchange * exchange * pair->variance_balance,
                0);
}

enum outcome equal_balance(const struct trim_pair *part, const struct trim_pair *device,
                           const struct trim_shared *shared, double setting_least,
                           double setting_most, struct trimmed *trimmed)
{
    static const struct trim_shared nothing = {0, 0, 0};
    const struct trim_shared *common = shared != NULL ? shared : &nothing;

    *trimmed = (struct trimmed){NAN, NAN, NAN};
    if (!is_usable(part) || !is_usable(device) || !isfinite(setting_least) ||
        !isfinite(setting_most) || !isfinite(common->measures + common->balances + common->crossed))
        return OUTCOME_NOT_FINITE;
    if (!(fabs(device->balance) > 2 * sqrt(device->variance_balance)))
        return OUTCOME_SINGULAR;
    double exchange = device->measure / device->balance;
    trimmed->setting = -part->balance / device->balance;
    if (!(trimmed->setting >= setting_least && trimmed->setting <= setting_most))
        return OUTCOME_UNMEASURED;
    trimmed->delta = part->measure - exchange * part->balance;
    double between =
        common->measures - exchange * common->crossed + exchange * exchange * common->balances;
    double variance = variance_of(part, exchange) + 2 * trimmed->setting * between +
                      trimmed->setting * trimmed->setting * variance_of(device, exchange);
    trimmed->standard = sqrt(fmax(variance, 0));
    return OUTCOME_OK;
}
