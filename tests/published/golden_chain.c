/* golden_chain.c - one point end to end: six loads and three pressures to corrected coefficients.
 *
 * Source: a worked case computed in 40 digits by a program that shares no code with this one: freestream
 * by NACA Report 1135 and CIPM-2007, moment transfer, buoyancy of the volume alone, quarter rule, axle
 * split of SAE J1594 directions. Its lifts are up positive, ours are downforce.                     */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/tunnel_point.h"
#include "tests/check.h"

static const char *const source = "end-to-end case computed in 40 digits";

static const struct tunnel_recipe recipe = {.source = LOADS_READY,
                                            .origin = {0.12, 0.0, -0.30},
                                            .axis_sign = {1, 1, 1},
                                            .moment_sign = {1, 1, 1},
                                            .q_source = Q_FROM_TOTAL_AND_STATIC,
                                            .reference_area = 1.55,
                                            .wheelbase = 3.05,
                                            .volume = 3.1,
                                            .section_width = 6.0,
                                            .section_height = 4.0,
                                            .buoyancy = 1,
                                            .pressure_gradient = -0.0012,
                                            .buoyancy_volume_factor = 1.0,
                                            .blockage = "quarter rule"};

static const struct tunnel_inputs inputs = {.output = {2450, 35, -6120, 110, -420, 65},
                                            .tare = {4, -2, 12, 1.5, -6, 0.8},
                                            .total_pressure = NAN,
                                            .static_pressure = 100800.0,
                                            .total_minus_static = 1560.0,
                                            .total_temperature = 297.15,
                                            .static_temperature = NAN,
                                            .relative_humidity = 0.45};

static void freestream_of_the_case(void)
{
    struct tunnel_result result;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    const struct tunnel_freestream *stream = &result.freestream;
    CHECK_RELATIVE(stream->mach, 0.148282543676185, 1e-13, source);
    CHECK_RELATIVE(stream->static_temperature, 295.848991471094, 1e-14, source);
    CHECK_RELATIVE(stream->density, 1.18183293550017, 1e-13, source);
    CHECK_RELATIVE(stream->dynamic_pressure, 1551.45301228067, 1e-13, source);
    CHECK_RELATIVE(stream->speed, 51.2396632547337, 1e-13, source);
    CHECK_RELATIVE(stream->viscosity, 1.82629263557719e-5, 1e-13, source);
    CHECK_RELATIVE(stream->reynolds, 3315827.94885681 * 3.05, 1e-13, source);
    CHECK_RELATIVE(stream->stagnation_cp, 1560.0 / 1551.45301228067, 1e-13, source);
    CHECK(stream->air_in_range == 1);
}

static void loads_of_the_case(void)
{
    const double want[6] = {2446, 37, -6132, 119.6, -411.96, 68.64};
    struct tunnel_result result;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    for (int i = 0; i < 6; i++)
        CHECK_NEAR(result.transferred[i], want[i], 1e-11, source);
    double force = result.freestream.dynamic_pressure * 1.55;
    CHECK_NEAR((result.raw[COEFFICIENT_CD] - result.buoyancy[COEFFICIENT_CD]) * force,
               5.77140520568409, 1e-10, source);
}

static void coefficients_of_the_case(void)
{
    struct tunnel_result result;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK_RELATIVE(result.q_ratio, 1.03255235460069, 1e-14, source);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CD], 0.982761434122892, 1e-12, source);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CY], 0.0149011339102073, 1e-12, source);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CL], 2.46956089560516, 1e-12, source);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CPM], -0.0543967312862116, 1e-12, source);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CRM], 0.0157924290266796, 1e-12, source);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CYM], 0.0090634810066161, 1e-12, source);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CLF], 1.28917717908879, 1e-12, source);
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CLR], 1.18038371651637, 1e-12, source);
    CHECK_RELATIVE(result.derived.balance, 52.2026883962658, 1e-12, source);
    CHECK_RELATIVE(result.derived.drag_area, 1.52328022289048, 1e-12, source);
    CHECK_RELATIVE(result.derived.lift_to_drag, 2.51287933150249, 1e-12, source);
}

CU_TestInfo golden_chain_tests[] = {
    {"freestream of the end-to-end case", freestream_of_the_case},
    {"loads of the end-to-end case", loads_of_the_case},
    {"corrected coefficients of the end-to-end case", coefficients_of_the_case},
    CU_TEST_INFO_NULL};
