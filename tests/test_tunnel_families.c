/* test_tunnel_families.c - a manufactured tunnel for every boundary correction: free air is chosen, the walls
 * are put on by equations written here, and the whole reduction must find free air back.
 *
 * The forward side calls nothing of the program; it knows free air, so it needs no root and no fit.  */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/tunnel_point.h"
#include "tests/check.h"
#include "tests/duct_modes.h"
#include "tests/tunnel_backwards.h"

static const double pi = 3.14159265358979323846;
static const double share = 0.40 / (3.2 * 2.4);
static const double gradient_drag = 0.0012 * 1.2 * 0.30 / 0.40;

/* eps of K 0.95, 2V 0.60 in the section 3.2 x 4.8, tau by exact lattice sums, computed independently */
static double solid_of(double tau)
{
    return 0.95 * tau * 0.60 / pow(3.2 * 4.8, 1.5);
}
static const double tau_closed = 0.8791757588, tau_open = -0.3128056921;

/* Taus are given with ten digits: the increment's share of 1e-10. */
static void check_free_air(const char *family, const struct tunnel_recipe *recipe,
                           const struct tunnel_inputs *inputs, double q_ratio)
{
    struct tunnel_result result;
    const double *want = backwards.free_air;
    enum outcome outcome = tunnel_point_reduce(recipe, inputs, &result);
    CHECK(outcome == OUTCOME_OK);
    if (outcome != OUTCOME_OK)
        return;
    CHECK_RELATIVE(result.q_ratio, q_ratio, 1e-9, family);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CD], want[0], 1e-9, family);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CY], want[1], 1e-9, family);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CL], want[2], 1e-9, family);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CLF], want[2] / 2 - want[4], 1e-9, family);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CLR], want[2] / 2 + want[4], 1e-9, family);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CRM], want[3], 1e-9, family);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CPM], want[4], 1e-9, family);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CYM], want[5], 1e-9, family);
}

static void round_trip(struct tunnel_recipe recipe, const char *family, double q_ratio)
{
    const struct backward_walls walls = {.q_ratio = q_ratio, .drag = gradient_drag};
    recipe.blockage = family;
    struct tunnel_inputs inputs = backward_reading_between(&recipe, &walls);
    check_free_air(family, &recipe, &inputs, q_ratio);
}

static void families_of_sizes_alone(void)
{
    struct tunnel_recipe recipe = backward_recipe();
    round_trip(recipe, "none", 1.0);
    round_trip(recipe, "area ratio", pow(1 - share, -2));
    round_trip(recipe, "quarter rule", pow(1 + share / 4, 2));
    recipe.constants.facility_factor = -0.42;
    round_trip(recipe, "slotted", 1 - 0.42 * share);
    recipe.section_is_open = 1;
    round_trip(recipe, "image sum", pow(1 + solid_of(tau_open), 2));
}

/* The wake knows the measured drag: solved for the ratio by repetition. */
static void image_sum_with_wake(void)
{
    double ratio = 1.0;
    for (int i = 0; i < 80; i++)
        ratio = pow(1 + solid_of(tau_closed) + backwards.free_air[0] * ratio * share / 4, 2);
    round_trip(backward_recipe(), "image sum", ratio);
}

/* theta = -1/Cpb_c; r = 1 + theta (r CDc) S/C; the walls raise the base's suction: 1 - Cpb = r (1 - Cpb_c). */
static void maskell_from_free_air(void)
{
    const double base = -0.34;
    double ratio = 1 / (1 + backwards.free_air[0] * share / base);
    const struct backward_walls walls = {.q_ratio = ratio, .drag = gradient_drag};
    struct tunnel_recipe recipe = backward_recipe();
    recipe.blockage = "maskell";
    recipe.constants.base_cp = NAN;
    struct tunnel_inputs inputs = backward_reading_between(&recipe, &walls);
    double q = 0.7 * backwards.static_pressure * backwards.mach * backwards.mach;
    inputs.base_pressure = (1 - ratio * (1 - base)) * q;
    check_free_air("maskell, base pressure in Pa", &recipe, &inputs, ratio);
    inputs.base_pressure = NAN;
    inputs.base_cp = 1 - ratio * (1 - base);
    check_free_air("maskell, base pressure as coefficient", &recipe, &inputs, ratio);
    inputs.base_cp = NAN;
    recipe.constants.base_cp = 1 - ratio * (1 - base);
    check_free_air("maskell, base pressure declared", &recipe, &inputs, ratio);
}

static void maskell_in_parts(void)
{
    const double attached = 0.21, vortex = 0.031;
    double ratio = 1.0;
    for (int i = 0; i < 200; i++) {
        double drag = backwards.free_air[0] * ratio, lift = backwards.free_air[2] * ratio;
        double wake = attached / 4 + 1.25 * (drag - vortex * lift * lift - attached);
        ratio = pow(1 + solid_of(tau_closed) + share * wake, 2);
    }
    struct tunnel_recipe recipe = backward_recipe();
    recipe.constants.attached_drag = attached;
    recipe.constants.vortex_drag = vortex;
    recipe.constants.wake_factor = 2.5;
    round_trip(recipe, "maskell split", ratio);
}

static void open_jet_with_all_its_pieces(void)
{
    const double distance = 2.6, collector = 11.0, test_section = 7.5;
    double nozzle = 3.2 * 2.4, radius = sqrt(2 * nozzle / pi), ratio = 1.0;
    double source = distance - 2.35 / 2 + sqrt(0.40 / (2 * pi));
    double in_nozzle = 0.40 / (2 * nozzle) * (1 - source / sqrt(source * source + radius * radius));
    double at_car = in_nozzle * pow(1 + distance * distance / (radius * radius), -1.5);
    double behind = (test_section - distance) / sqrt(2 * collector / pi);
    for (int i = 0; i < 80; i++) {
        double wake = 0.40 / collector * (0.3 * backwards.free_air[0] * ratio + 0.2) *
                      pow(1 + behind * behind, -1.5);
        ratio = pow(1 + 1.1 * solid_of(tau_open) + 0.9 * at_car - 0.5 * in_nozzle + wake, 2);
    }
    struct tunnel_recipe recipe = backward_recipe();
    recipe.section_is_open = 1;
    recipe.constants = (struct blockage_constants){.car_distance = distance,
                                                   .collector_area = collector,
                                                   .collector_distance = test_section,
                                                   .collector_wake_factor = 0.3,
                                                   .collector_wake_constant = 0.2,
                                                   .expansion = 1.1,
                                                   .nozzle = 0.9,
                                                   .nozzle_q = -0.5,
                                                   .collector = 1.0};
    round_trip(recipe, "open jet", ratio);
}

enum { WALL_TAPS = 18 };

/* Sources of the car, their speeds on the walls and, less free air and its mirror image, at the car. */
static void walls_tell_their_own_increment(void)
{
    static const double station[] = {-0.75, 0.3, 0.85}, strength[] = {0.09, -0.02, -0.045};
    static const double axis = 0.2;
    struct duct_place tap[WALL_TAPS];
    double value[WALL_TAPS], empty[WALL_TAPS], eps = 0.0;
    double q = 0.7 * backwards.static_pressure * backwards.mach * backwards.mach;
    for (int j = 0; j < 3; j++) {
        const double source[] = {station[j], 0, axis}, middle[] = {0, 0, axis};
        double x = -station[j];
        eps +=
            strength[j] * (duct_modes_speed(3.2, 2.4, source, middle) -
                           x / (4 * pi) * (pow(fabs(x), -3) + pow(x * x + 4 * axis * axis, -1.5)));
    }
    for (int i = 0; i < WALL_TAPS; i++) {
        double u = 0.0;
        tap[i] = (struct duct_place){-2.51 + 0.31 * i, i % 2 == 0 ? 1.6 : -1.6, 0.5};
        const double at[] = {tap[i].x, tap[i].y, tap[i].z};
        for (int j = 0; j < 3; j++) {
            const double source[] = {station[j], 0, axis};
            u += strength[j] * duct_modes_speed(3.2, 2.4, source, at);
        }
        empty[i] = 0.003 * sin(0.8 * i);
        value[i] = (empty[i] + 1 - (1 + u) * (1 + u)) * q;
    }
    const struct wall_layout layout = {.duct = {3.2, 2.4},
                                       .tap = tap,
                                       .n = WALL_TAPS,
                                       .station = {-0.75, 0.3, 0.85},
                                       .stations = 3,
                                       .axis_height = axis,
                                       .floor_image = 1,
                                       .nose = -1.175,
                                       .tail = 1.175};
    struct wall_signature signature;
    CHECK(wall_signature_make(&layout, &signature) == OUTCOME_OK);
    const struct backward_walls walls = {.q_ratio = (1 + eps) * (1 + eps), .drag = gradient_drag};
    struct tunnel_recipe recipe = backward_recipe();
    recipe.blockage = "wall signature";
    struct tunnel_inputs inputs = backward_reading_between(&recipe, &walls);
    inputs.wall = (struct wall_reading){&signature, value, empty, 0.0};
    CHECK(eps > 0.004);
    check_free_air("wall signature", &recipe, &inputs, walls.q_ratio);
    wall_signature_end(&signature);
}

/* A gradient that acts on drag, downforce and its front share by sensitivities of its own. */
static void two_gradients(void)
{
    const double gradient = -0.0012;
    const struct backward_walls walls = {.q_ratio = pow(1 + share / 4, 2),
                                         .drag = -2.1 * gradient,
                                         .downforce = 3.4 * gradient,
                                         .front = 1.3 * gradient};
    struct tunnel_recipe recipe = backward_recipe();
    recipe.buoyancy = 0;
    recipe.two_gradients = 1;
    recipe.gradient_part[CARRIED_CD] = -2.1 * gradient;
    recipe.gradient_part[CARRIED_CL] = 3.4 * gradient;
    recipe.gradient_part[CARRIED_CLF] = 1.3 * gradient;
    recipe.blockage = "quarter rule";
    struct tunnel_inputs inputs = backward_reading_between(&recipe, &walls);
    check_free_air("two gradients", &recipe, &inputs, walls.q_ratio);
    recipe.gradient_part[CARRIED_CL] = NAN;
    struct tunnel_result result;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
}

/* Free air at the tunnel's Reynolds number; the reference is 1.25 times that. */
static void reynolds_number(void)
{
    const double slope[] = {-0.04, 0.11, 0.05};
    struct tunnel_recipe recipe = backward_recipe();
    struct tunnel_inputs inputs = backward_reading(&recipe);
    struct tunnel_result result;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    double here = result.freestream.reynolds, step = log10(1.25);
    recipe.reynolds.to = 1.25 * here;
    for (int i = 0; i < CARRIED; i++) {
        recipe.reynolds.has[i] = 1;
        recipe.reynolds.fit[i] = (struct line_fit){
            .slope = slope[i], .lowest = log10(0.8 * here), .highest = log10(1.3 * here)};
    }
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    const double *want = backwards.free_air;
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CD], want[0] + slope[0] * step, 1e-9, "forward");
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CL], want[2] + slope[1] * step, 1e-9, "forward");
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CLF], want[2] / 2 - want[4] + slope[2] * step, 1e-9,
                   "forward");
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CLR],
                   want[2] / 2 + want[4] + (slope[1] - slope[2]) * step, 1e-9, "forward");
    CHECK_NEAR(result.corrected[COEFFICIENT_CPM],
               (result.corrected[COEFFICIENT_CLR] - result.corrected[COEFFICIENT_CLF]) / 2, 1e-12,
               "identity");
    CHECK(result.reynolds_unmeasured == 0);
    recipe.reynolds.to = 1.31 * here; /* beyond the sweep: left where it is */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CD], want[0], 1e-9, "forward");
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CL], want[2], 1e-9, "forward");
    CHECK(result.reynolds_unmeasured == 1);
}

CU_TestInfo tunnel_families_tests[] = {
    {"none, area ratio, quarter rule, slotted, images of an open jet", families_of_sizes_alone},
    {"the image sum with its wake", image_sum_with_wake},
    {"Maskell from the base pressure in free air", maskell_from_free_air},
    {"Maskell with the drag in three parts", maskell_in_parts},
    {"the open jet with all its pieces", open_jet_with_all_its_pieces},
    {"walls tell their own increment", walls_tell_their_own_increment},
    {"two gradients", two_gradients},
    {"the Reynolds number, inside its sweep only", reynolds_number},
    CU_TEST_INFO_NULL};
