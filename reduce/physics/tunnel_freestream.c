/* tunnel_freestream.c - see tunnel_freestream.h. */
#include "reduce/physics/tunnel_freestream.h"

#include <math.h>

#include "reduce/physics/air.h"
#include "reduce/physics/freestream.h"

static const struct tunnel_freestream unknown = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, 0};

static enum outcome from_total_and_static(const struct tunnel_inputs *inputs,
                                          struct tunnel_freestream *freestream)
{
    double p = inputs->static_pressure, rise = inputs->total_minus_static;
    if (isnan(p))
        p = inputs->total_pressure - rise;
    if (isnan(rise))
        rise = inputs->total_pressure - p;
    enum outcome outcome = freestream_mach(p, rise, &freestream->mach);
    if (outcome != OUTCOME_OK)
        return outcome;
    freestream->static_pressure = p;
    freestream->dynamic_pressure = freestream_dynamic_pressure(p, freestream->mach);
    return OUTCOME_OK;
}

static enum outcome from_q(double q, double p, struct tunnel_freestream *freestream)
{
    enum outcome outcome = freestream_mach_from_q(p, q, &freestream->mach);
    if (outcome != OUTCOME_OK)
        return outcome;
    freestream->static_pressure = p;
    freestream->dynamic_pressure = q;
    return OUTCOME_OK;
}

static enum outcome from_pressures(const struct tunnel_recipe *recipe,
                                   const struct tunnel_inputs *inputs,
                                   struct tunnel_freestream *freestream)
{
    if (recipe->q_source == Q_FROM_TOTAL_AND_STATIC)
        return from_total_and_static(inputs, freestream);
    double q = recipe->q_source == Q_GIVEN
                   ? inputs->dynamic_pressure
                   : freestream_contraction(recipe->contraction, inputs->contraction_drop);
    return from_q(q, inputs->static_pressure, freestream);
}

static enum outcome weigh_air(const struct tunnel_recipe *recipe,
                              const struct tunnel_inputs *inputs,
                              struct tunnel_freestream *freestream)
{
    struct air air;
    double temperature =
        isnan(inputs->total_temperature)
            ? inputs->static_temperature
            : freestream_static_temperature(inputs->total_temperature, freestream->mach);
    enum outcome outcome = air_density(freestream->static_pressure, temperature,
                                       recipe->dry_air ? 0.0 : inputs->relative_humidity, &air);
    if (outcome != OUTCOME_OK)
        return outcome;
    freestream->static_temperature = temperature;
    freestream->density = air.density;
    freestream->air_in_range = air.in_range;
    freestream->viscosity = air_viscosity(temperature);
    return OUTCOME_OK;
}

enum outcome tunnel_freestream(const struct tunnel_recipe *recipe,
                               const struct tunnel_inputs *inputs,
                               struct tunnel_freestream *freestream)
{
    *freestream = unknown;
    enum outcome outcome = from_pressures(recipe, inputs, freestream);
    if (outcome != OUTCOME_OK)
        return outcome;
    freestream->stagnation_cp = freestream_stagnation_cp(freestream->mach);
    outcome = weigh_air(recipe, inputs, freestream);
    if (outcome != OUTCOME_OK)
        return outcome;
    freestream->speed = freestream_speed(freestream->dynamic_pressure, freestream->density);
    if (!isfinite(recipe->wheelbase))
        return OUTCOME_NOT_FINITE;
    if (recipe->wheelbase <= 0.0)
        return OUTCOME_GEOMETRY;
    freestream->reynolds =
        freestream->density * freestream->speed * recipe->wheelbase / freestream->viscosity;
    return OUTCOME_OK;
}

double tunnel_pressure_disagreement(const struct tunnel_inputs *inputs)
{
    double rise = inputs->total_minus_static;
    double share = (inputs->total_pressure - inputs->static_pressure - rise) / fabs(rise);
    return isfinite(share) ? share : (double)NAN;
}
