/* blockage_image_sum.c - solid blockage from the images of the car in the walls, plus its wake's.
 *
 *   eps_s = K tau V/C^1.5,   eps_w = CD S/(4C),   q_c/q = (1 + eps_s + eps_w)^2
 *
 * V volume m3, C section area m2, S frontal area m2, CD measured with buoyancy taken off; tau of
 * tunnel_factor.h. The floor is a plane of symmetry: with its image the car is one half of a body of
 * 2V and 2S in a section B x 2H, which multiplies the solid term by 0.7071 and moves tau to B/(2H).
 * K = (sqrt(pi)/2)(1 + k1) of a spheroid as long as the car with the frontal area of the body that is
 * imaged (the mirrored one when the floor mirrors), so that half a sphere on the floor is a sphere. In a jet
 * that is open on all sides but the floor tau is that of alternating images, negative, and the wake, which
 * the jet lets widen, has no term.
 *
 * Evidence: point doublets; S/C to about 0.10 and a car no longer than the section is wide. Attached
 *           or moderately separated flow: a bluff wake is under-corrected. It reproduces 1.054 of a
 *           maker's report on a racing saloon without floor image, and gives 1.040 with it
 *           (manufacturer's wind-tunnel report, c. 1969, table II).
 * Left out: the compressibility factor (1 + 0.4 M^2)/(1 - M^2) on the wake term, recalled, not read;
 *           3 % of eps_w at M 0.15.
 * Source:   Thom, "Blockage corrections in a closed high-speed tunnel", ARC R&M 2033, 1943; Herriot,
 *           "Blockage corrections for three-dimensional-flow closed-throat wind tunnels", NACA Report
 *           995, 1950. Titles and form from memory; tau and K are computed and agree with the values
 *           printed there.                                                                         */
#include "reduce/physics/blockage.h"

#include <math.h>

#include "reduce/physics/constants.h"
#include "reduce/physics/spheroid.h"
#include "reduce/physics/tunnel_factor.h"

/* K as given, or of the spheroid; NAN when the length is missing or shorter than the diameter. */
static double body_factor(const struct blockage_input *input, double body_area)
{
    if (input->shape != 0.0)
        return input->shape;
    return spheroid_body_factor(input->length / sqrt(4.0 * body_area / PI));
}

static enum outcome check_body(const struct blockage_input *input)
{
    if (!isfinite(input->volume) || !isfinite(input->length) || !isfinite(input->shape))
        return OUTCOME_NOT_FINITE;
    return input->volume > 0.0 && input->shape >= 0.0 ? OUTCOME_OK : OUTCOME_GEOMETRY;
}

double blockage_image_factor(double width, double height, int floor_image, int is_open)
{
    double aspect = width / (floor_image ? 2.0 * height : height);
    return is_open ? tunnel_factor_open(aspect) : tunnel_factor_closed(aspect);
}

enum outcome blockage_solid(const struct blockage_input *input, double *solid, int *beyond_evidence)
{
    enum outcome outcome = check_body(input);
    if (outcome != OUTCOME_OK)
        return outcome;
    double images = input->floor_image ? 2.0 : 1.0;
    double width = input->section_width, height = images * input->section_height;
    double section = width * height;
    double factor = input->image_factor;
    if (factor == 0.0)
        factor =
            blockage_image_factor(width, input->section_height, input->floor_image, input->is_open);
    double found = body_factor(input, images * input->area) * factor * images * input->volume /
                   (section * sqrt(section));
    if (!isfinite(found))
        return OUTCOME_GEOMETRY;
    *solid = found;
    *beyond_evidence = *beyond_evidence || input->length > width;
    return OUTCOME_OK;
}

enum outcome blockage_image_sum(const struct blockage_input *input, struct blockage_result *result)
{
    double share = 0.0, solid = 0.0;
    int beyond = 0;
    enum outcome outcome = blockage_area_share(input, &share, &beyond);
    if (outcome == OUTCOME_OK)
        outcome = blockage_solid(input, &solid, &beyond);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (!input->is_open && !isfinite(input->drag_coefficient))
        return OUTCOME_NOT_FINITE;
    double wake = input->is_open ? 0.0 : input->drag_coefficient * share / 4.0;
    double increment = solid + wake;
    *result = (struct blockage_result){.q_ratio = (1.0 + increment) * (1.0 + increment),
                                       .solid = solid,
                                       .wake = wake,
                                       .piece = {solid, wake},
                                       .beyond_evidence = beyond};
    return OUTCOME_OK;
}
