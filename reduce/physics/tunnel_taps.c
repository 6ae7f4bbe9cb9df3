/* tunnel_taps.c - see tunnel_taps.h. */
#include "reduce/physics/tunnel_taps.h"

#include <math.h>

#include "reduce/physics/pressure.h"

static enum outcome raw_coefficient(const struct tap_reading *reading,
                                    const struct tunnel_freestream *freestream, double *cp)
{
    double above_static = reading->pressure - reading->zero;
    if (reading->measure == TAP_ABSOLUTE)
        above_static -= freestream->static_pressure;
    if (reading->measure != TAP_AS_COEFFICIENT)
        return pressure_coefficient(above_static, freestream->dynamic_pressure, cp);
    if (!isfinite(reading->pressure))
        return OUTCOME_NOT_FINITE;
    *cp = reading->pressure;
    return OUTCOME_OK;
}

enum outcome tunnel_tap_reduce(const struct tap_reading *reading,
                               const struct tunnel_freestream *freestream, double q_ratio,
                               struct tap_coefficient *tap)
{
    struct tap_coefficient found;
    enum outcome outcome = raw_coefficient(reading, freestream, &found.raw);
    if (outcome != OUTCOME_OK)
        return outcome;
    found.corrected = found.raw;
    if (reading->measure != TAP_AS_COEFFICIENT || q_ratio != 1.0)
        outcome =
            pressure_corrected(found.raw, freestream->stagnation_cp, q_ratio, &found.corrected);
    if (outcome == OUTCOME_OK)
        *tap = found;
    return outcome;
}
