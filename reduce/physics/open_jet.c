/* open_jet.c - see open_jet.h. */
#include "reduce/physics/open_jet.h"

#include <math.h>

#include "reduce/physics/constants.h"
#include "reduce/physics/finite.h"
#include "reduce/physics/tunnel_factor.h"

static enum outcome check_nozzle(const struct open_jet *jet)
{
    const double sizes[] = {jet->nozzle_width, jet->nozzle_height, jet->area};
    if (!all_finite(sizes, 3))
        return OUTCOME_NOT_FINITE;
    for (int i = 0; i < 3; i++)
        if (sizes[i] <= 0.0)
            return OUTCOME_GEOMETRY;
    return jet->area < jet->nozzle_width * jet->nozzle_height ? OUTCOME_OK : OUTCOME_GEOMETRY;
}

/* Field of a vortex ring on its axis over that in its plane. */
static double ring_decay(double radius, double distance)
{
    double r = hypot(radius, distance);
    return radius * radius * radius / (r * r * r);
}

enum outcome open_jet_nozzle(const struct open_jet *jet, struct open_jet_nozzle *nozzle)
{
    enum outcome outcome = check_nozzle(jet);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (!isfinite(jet->length) || !isfinite(jet->distance))
        return OUTCOME_NOT_FINITE;
    if (jet->length <= 0.0 || jet->distance < jet->length / 2.0)
        return OUTCOME_GEOMETRY;
    double area = jet->nozzle_width * jet->nozzle_height;
    struct open_jet_nozzle found = {.radius = sqrt(2.0 * area / PI)};
    found.source = jet->distance - jet->length / 2.0 + sqrt(jet->area / (2.0 * PI));
    found.in_nozzle =
        jet->area / (2.0 * area) * (1.0 - found.source / hypot(found.source, found.radius));
    found.at_car = found.in_nozzle * ring_decay(found.radius, jet->distance);
    *nozzle = found;
    return OUTCOME_OK;
}

enum outcome open_jet_expansion(const struct open_jet *jet, double *expansion)
{
    enum outcome outcome = check_nozzle(jet);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (!isfinite(jet->volume) || !isfinite(jet->shape))
        return OUTCOME_NOT_FINITE;
    double section = 2.0 * jet->nozzle_width * jet->nozzle_height;
    double factor = tunnel_factor_open(jet->nozzle_width / (2.0 * jet->nozzle_height));
    if (jet->volume <= 0.0 || jet->shape <= 0.0 || !isfinite(factor))
        return OUTCOME_GEOMETRY;
    *expansion = jet->shape * factor * 2.0 * jet->volume / (section * sqrt(section));
    return OUTCOME_OK;
}

enum outcome open_jet_collector(const struct open_jet *jet, double drag, double wake_factor,
                                double wake_constant, double *collector)
{
    const double given[] = {jet->area, jet->distance, jet->collector_area, jet->collector_distance,
                            drag,      wake_factor,   wake_constant};
    if (!all_finite(given, sizeof given / sizeof *given))
        return OUTCOME_NOT_FINITE;
    double behind = jet->collector_distance - jet->distance;
    if (jet->area <= 0.0 || jet->collector_area <= 0.0 || jet->distance <= 0.0 || behind <= 0.0)
        return OUTCOME_GEOMETRY;
    double radius = sqrt(2.0 * jet->collector_area / PI);
    *collector = jet->area / jet->collector_area * (wake_factor * drag + wake_constant) *
                 ring_decay(radius, behind);
    return OUTCOME_OK;
}
