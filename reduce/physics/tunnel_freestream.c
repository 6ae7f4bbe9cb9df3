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
    if (recipe->q_source == Q_FROM_SPEED) /* only of a declared density */
        return OUTCOME_NOT_FINITE;
    double q = recipe->q_source == Q_GIVEN
                   ? inputs->dynamic_pressure
                   : freestream_of_drop(recipe->drop_polynomial, inputs->drop);
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

/* q of a fluid of constant density, from whichever of its four sources. */
static double incompressible_q(const struct tunnel_recipe *recipe,
                               const struct tunnel_inputs *inputs)
{
    switch (recipe->q_source) {
    case Q_FROM_TOTAL_AND_STATIC:
        return isnan(inputs->total_minus_static) ? inputs->total_pressure - inputs->static_pressure
                                                 : inputs->total_minus_static;
    case Q_FROM_DROP:
        return freestream_of_drop(recipe->drop_polynomial, inputs->drop);
    case Q_FROM_SPEED:
        return recipe->density * inputs->speed * inputs->speed / 2.0;
    case Q_GIVEN:
        break;
    }
    return inputs->dynamic_pressure;
}

static enum outcome of_constant_density(const struct tunnel_recipe *recipe,
                                        const struct tunnel_inputs *inputs,
                                        struct tunnel_freestream *freestream)
{
    double q = incompressible_q(recipe, inputs);
    freestream->density = recipe->density;
    freestream->stagnation_cp = 1.0;
    freestream->air_in_range = 1; /* no air is weighed */
    freestream->static_pressure = inputs->static_pressure;
    freestream->static_temperature = inputs->static_temperature;
    if (recipe->viscosity > 0.0)
        freestream->viscosity = recipe->viscosity;
    if (!isfinite(q))
        return OUTCOME_NOT_FINITE;
    if (q <= 0.0)
        return OUTCOME_NO_WIND;
    freestream->dynamic_pressure = q;
    freestream->speed = freestream_speed(q, recipe->density);
    return OUTCOME_OK;
}

static enum outcome of_air(const struct tunnel_recipe *recipe, const struct tunnel_inputs *inputs,
                           struct tunnel_freestream *freestream)
{
    enum outcome outcome = from_pressures(recipe, inputs, freestream);
    if (outcome != OUTCOME_OK)
        return outcome;
    freestream->stagnation_cp = freestream_stagnation_cp(freestream->mach);
    outcome = weigh_air(recipe, inputs, freestream);
    if (outcome != OUTCOME_OK)
        return outcome;
    freestream->speed = freestream_speed(freestream->dynamic_pressure, freestream->density);
    return OUTCOME_OK;
}

enum outcome tunnel_freestream(const struct tunnel_recipe *recipe,
                               const struct tunnel_inputs *inputs,
                               struct tunnel_freestream *freestream)
{
    *freestream = unknown;
    enum outcome outcome = recipe->density > 0.0 ? of_constant_density(recipe, inputs, freestream)
                                                 : of_air(recipe, inputs, freestream);
    if (outcome != OUTCOME_OK)
        return outcome;
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
