/* tunnel_taps.c - see tunnel_taps.h. */
#include "reduce/physics/tunnel_taps.h"

#include "reduce/physics/pressure.h"

enum outcome tunnel_tap_reduce(const struct tap_reading *reading,
                               const struct tunnel_freestream *freestream, double q_ratio,
                               struct tap_coefficient *tap)
{
    struct tap_coefficient found;
    double above_static = reading->pressure - reading->zero;
    if (reading->is_absolute)
        above_static -= freestream->static_pressure;
    enum outcome outcome =
        pressure_coefficient(above_static, freestream->dynamic_pressure, &found.raw);
    if (outcome == OUTCOME_OK)
        outcome =
            pressure_corrected(found.raw, freestream->stagnation_cp, q_ratio, &found.corrected);
    if (outcome == OUTCOME_OK)
        *tap = found;
    return outcome;
}
