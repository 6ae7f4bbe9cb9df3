/* test_blockage_families.c - the families that need more than sizes: their parts, limits, refusals. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/physics/blockage.h"
#include "reduce/physics/constants.h"
#include "reduce/physics/open_jet.h"
#include "reduce/physics/tunnel_factor.h"
#include "tests/check.h"

static const struct blockage_input car = {
    .area = 0.40,
    .length = 2.35,
    .volume = 0.30,
    .section_width = 3.20,
    .section_height = 2.40,
    .shape = 0.95,
    .floor_image = 1,
    .drag_coefficient = 0.9,
    .downforce_coefficient = 2.0,
    .base_cp = -0.5,
    .constants = {.base_cp = NAN, .wake_factor = 2.5, .attached_drag = 0.3, .vortex_drag = 0.06}};

static const struct blockage_input jet = {.area = 1.6,
                                          .length = 4.6,
                                          .volume = 6.0,
                                          .section_width = 7.0710678118654755,
                                          .section_height = 3.5355339059327378,
                                          .shape = 0.88622692545275794,
                                          .floor_image = 1,
                                          .is_open = 1,
                                          .drag_coefficient = 0.4,
                                          .constants = {.car_distance = 4.5,
                                                        .collector_area = 32.5,
                                                        .collector_distance = 13.5,
                                                        .collector_wake_factor = 0.25,
                                                        .collector_wake_constant = 0.41}};

static enum outcome run(const char *name, const struct blockage_input *input,
                        struct blockage_result *result)
{
    const struct blockage_family *family = blockage_family(name);
    *result = (struct blockage_result){.q_ratio = -1.0};
    CHECK(family != NULL);
    if (family == NULL)
        return OUTCOME_UNKNOWN_FAMILY;
    enum outcome outcome = family->correct(input, result);
    CHECK(outcome == OUTCOME_OK || result->q_ratio == -1.0);
    return outcome;
}

static enum outcome outcome_of(const char *name, struct blockage_input input)
{
    struct blockage_result result;
    return run(name, &input, &result);
}

/* CDc 0.9, Cpb_c -0.4, S/C 0.05 forward: CD 1.01408450704, Cpb -0.577464788732, q_c/q 1.12676056338. */
static void maskell_by_base_pressure(void)
{
    struct blockage_result result;
    struct blockage_input input = car;
    input.section_width = input.section_height = sqrt(8.0); /* S/C 0.05 */
    input.drag_coefficient = 1.01408450704;
    input.base_cp = -0.577464788732;
    CHECK(run("maskell", &input, &result) == OUTCOME_OK);
    CHECK_RELATIVE(result.q_ratio, 1.12676056338, 2e-11, "computed independently, forward");
    CHECK_RELATIVE(result.piece[0], 2.5, 1e-10, "theta");
    CHECK_RELATIVE(result.piece[1], 1.4, 1e-11, "k_c^2");
    CHECK(result.piece[2] == input.base_cp && result.beyond_evidence == 0);
    input.constants.base_cp = -0.577464788732; /* declared: the tap is not looked at */
    input.base_cp = NAN;
    CHECK(run("maskell", &input, &result) == OUTCOME_OK);
    CHECK_RELATIVE(result.q_ratio, 1.12676056338, 2e-11, "computed independently, forward");
    input.constants.base_cp = -0.45; /* no root from CD 0.8336 on */
    input.drag_coefficient = 0.832;
    CHECK(run("maskell", &input, &result) == OUTCOME_OK && result.beyond_evidence == 1);
    input.drag_coefficient = 0.9;
    CHECK(outcome_of("maskell", input) == OUTCOME_NO_ROOT);
    input.constants.base_cp = NAN; /* measured nowhere */
    CHECK(outcome_of("maskell", input) == OUTCOME_NOT_FINITE);
}

static void maskell_in_three_parts(void)
{
    struct blockage_result result;
    double share = 0.40 / (3.2 * 2.4), tau = tunnel_factor_closed(3.2 / 4.8);
    double solid = 0.95 * tau * 0.60 / pow(3.2 * 4.8, 1.5);
    double wake = share * (0.3 / 4 + 1.25 * (0.9 - 0.24 - 0.3));
    CHECK(run("maskell split", &car, &result) == OUTCOME_OK);
    CHECK_RELATIVE(result.solid, solid, 1e-14, "image sum, worked by hand");
    CHECK_RELATIVE(result.wake, wake, 1e-14, "CD0 S/(4C) + 5 S/(4C) (CD - CDi - CD0)");
    CHECK_RELATIVE(result.q_ratio, pow(1 + solid + wake, 2), 1e-15, "identity");
    CHECK_NEAR(result.piece[3], 0.24, 1e-15, "CDi = K CL^2");
    struct blockage_input input = car;
    input.constants.wake_factor = 0.0; /* from the base */
    CHECK(run("maskell split", &input, &result) == OUTCOME_OK);
    double theta = result.piece[2], kc2 = 1 + 1 / theta;
    CHECK_RELATIVE(kc2 * (1 + theta * 0.36 * share), 1.5, 1e-13,
                   "k^2 = k_c^2 (1 + theta CDs S/C), forward");
    input.base_cp = NAN;
    CHECK(outcome_of("maskell split", input) == OUTCOME_NOT_FINITE);
    input = car;
    input.constants.vortex_drag = 0.16; /* 0.64 + 0.3 is more than the drag */
    CHECK(outcome_of("maskell split", input) == OUTCOME_NO_ROOT);
    input = car;
    input.downforce_coefficient = NAN;
    CHECK(outcome_of("maskell split", input) == OUTCOME_NOT_FINITE);
    input = car;
    input.volume = 0.0;
    CHECK(outcome_of("maskell split", input) == OUTCOME_GEOMETRY);
}

static void image_sum_of_an_open_jet(void)
{
    struct blockage_result result;
    CHECK(run("image sum", &jet, &result) == OUTCOME_OK);
    CHECK_RELATIVE(result.solid, -0.00714640444721, 1e-10, "point doublet, computed independently");
    CHECK(result.wake == 0.0 && result.beyond_evidence == 0);
    struct blockage_input input = jet;
    input.drag_coefficient = NAN; /* not asked for */
    CHECK(outcome_of("image sum", input) == OUTCOME_OK);
    input.area = 0.151 * 25.0;
    CHECK(run("image sum", &input, &result) == OUTCOME_OK && result.beyond_evidence == 1);
    input.area = 0.149 * 25.0;
    CHECK(run("image sum", &input, &result) == OUTCOME_OK && result.beyond_evidence == 0);
}

static void the_jet_piece_by_piece(void)
{
    const char *source = "potential flow, computed independently";
    struct blockage_result result;
    struct blockage_input input = jet;
    CHECK(run("open jet", &input, &result) == OUTCOME_OK);
    CHECK(result.q_ratio == 1.0); /* all are off by default */
    input.constants.expansion = 1.0;
    CHECK(run("open jet", &input, &result) == OUTCOME_OK);
    CHECK_RELATIVE(result.piece[0], -0.00714640444721, 1e-10, source);
    CHECK_RELATIVE(result.q_ratio, pow(1 - 0.00714640444721, 2), 1e-11, source);
    input.constants.nozzle = 0.5;
    input.constants.nozzle_q = -1.0;
    CHECK(run("open jet", &input, &result) == OUTCOME_OK);
    CHECK_RELATIVE(result.piece[1], 0.5 * 0.00409973576405, 1e-10, source);
    CHECK_RELATIVE(result.piece[2], -0.0140432386775, 1e-10, source);
    input.constants.collector = 1.0;
    CHECK(run("open jet", &input, &result) == OUTCOME_OK);
    double radius2 = 2 * 32.5 / PI;
    double collector = 1.6 / 32.5 * 0.51 * pow(1 + 81 / radius2, -1.5);
    CHECK_RELATIVE(result.piece[3], collector, 1e-13, "worked by hand");
    CHECK_RELATIVE(
        result.q_ratio,
        pow(1 - 0.00714640444721 + 0.5 * 0.00409973576405 - 0.0140432386775 + collector, 2), 1e-11,
        source);
}

static void jets_that_are_not(void)
{
    struct blockage_input input = jet;
    input.constants.nozzle = 1.0;
    input.constants.car_distance = 2.0;
    CHECK(outcome_of("open jet", input) == OUTCOME_GEOMETRY);
    input.constants.car_distance = NAN;
    CHECK(outcome_of("open jet", input) == OUTCOME_NOT_FINITE);
    input = jet;
    input.constants.collector = 1.0;
    input.constants.collector_area = 0.0;
    CHECK(outcome_of("open jet", input) == OUTCOME_GEOMETRY);
    input = jet;
    input.constants.expansion = NAN;
    CHECK(outcome_of("open jet", input) == OUTCOME_NOT_FINITE);
    input = jet;
    input.constants.expansion = 1.0;
    input.volume = 0.0;
    CHECK(outcome_of("open jet", input) == OUTCOME_GEOMETRY);
    input = jet;
    input.constants.expansion = 1.0;
    input.shape = 0.0;
    input.length = 0.5; /* shorter than it is thick, and no shape */
    CHECK(outcome_of("open jet", input) == OUTCOME_GEOMETRY);
    input = jet;
    input.constants.nozzle = -400.0;
    CHECK(outcome_of("open jet", input) == OUTCOME_BLOCKAGE_RANGE);
}

static void a_slotted_section(void)
{
    struct blockage_result result;
    struct blockage_input input = car;
    double share = 0.40 / (3.2 * 2.4);
    input.constants.facility_factor = -0.35;
    CHECK(run("slotted", &input, &result) == OUTCOME_OK);
    CHECK_RELATIVE(result.q_ratio, 1 - 0.35 * share, 1e-15, "definition");
    CHECK(result.beyond_evidence == 0);
    input.constants.facility_share = 0.05;
    CHECK(run("slotted", &input, &result) == OUTCOME_OK && result.beyond_evidence == 1);
    input.constants.facility_share = 0.06;
    CHECK(run("slotted", &input, &result) == OUTCOME_OK && result.beyond_evidence == 0);
    input.constants.facility_factor = NAN;
    CHECK(outcome_of("slotted", input) == OUTCOME_NOT_FINITE);
    input.constants.facility_factor = -20.0;
    CHECK(outcome_of("slotted", input) == OUTCOME_BLOCKAGE_RANGE);
}

static void walls_without_taps(void)
{
    CHECK(outcome_of("wall signature", car) == OUTCOME_GEOMETRY);
}

/* What all of them check of car and section. */
static void sections_that_are_not(void)
{
    static const char *const names[] = {"maskell", "maskell split", "wall signature", "open jet",
                                        "slotted"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        struct blockage_input input = car;
        input.area = NAN;
        CHECK(outcome_of(names[i], input) == OUTCOME_NOT_FINITE);
        input = car;
        input.section_width = 0.0;
        CHECK(outcome_of(names[i], input) == OUTCOME_GEOMETRY);
        input = car;
        input.area = 0.35 * 3.2 * 2.4 * (1 + 1e-12);
        CHECK(outcome_of(names[i], input) == OUTCOME_BLOCKAGE_RANGE);
    }
}

CU_TestInfo blockage_families_tests[] = {
    {"Maskell by the base pressure, measured or declared", maskell_by_base_pressure},
    {"Maskell in three parts", maskell_in_three_parts},
    {"the image sum of an open jet", image_sum_of_an_open_jet},
    {"the open jet piece by piece, off by default", the_jet_piece_by_piece},
    {"open jets that are not", jets_that_are_not},
    {"a slotted section", a_slotted_section},
    {"walls without taps", walls_without_taps},
    {"sections that are not", sections_that_are_not},
    CU_TEST_INFO_NULL};
