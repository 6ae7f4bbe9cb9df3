/* test_tunnel_facility.c - coefficients that the facility reduced. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "tests/check.h"
#include "tests/tunnel_backwards.h"

static void coefficients_of_the_facility(void)
{
    struct tunnel_recipe recipe = backward_recipe();
    struct tunnel_inputs inputs = {.facility_coefficient = {0.9, NAN, 3.0, 1.3, 1.7, NAN, 0.2, NAN},
                                   .total_pressure = NAN,
                                   .static_pressure = NAN,
                                   .total_minus_static = NAN};
    struct tunnel_result result;
    recipe.source = LOADS_AS_COEFFICIENTS;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(isnan(result.freestream.mach) && isnan(result.balance[0]));
    CHECK_NEAR(result.raw[COEFFICIENT_CD], 0.9, 0.0, "identity");
    CHECK_NEAR(result.buoyancy[COEFFICIENT_CD], 0.9 - 0.00108, 1e-15, "worked by hand");
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CLF], 1.3 / result.q_ratio, 1e-15, "identity");
    CHECK(result.q_ratio > 1.01 && isnan(result.corrected[COEFFICIENT_CY]));
    CHECK_RELATIVE(result.derived.balance, 100 * 1.3 / 3.0, 1e-14, "identity");

    inputs.static_pressure =
        backwards.static_pressure; /* pressures there: the freestream is shown too */
    inputs.total_minus_static = 1200.0;
    inputs.total_temperature = backwards.total_temperature;
    inputs.relative_humidity = 0.4;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(result.freestream.speed > 40.0 && result.freestream.speed < 50.0);
    CHECK(result.wind == OUTCOME_OK);
    inputs.facility_coefficient[COEFFICIENT_CL] = NAN; /* decided by CLF and CLR */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK_NEAR(result.raw[COEFFICIENT_CL], 3.0, 1e-15, "identity: CLF + CLR");
    inputs.facility_coefficient[COEFFICIENT_CLR] = NAN; /* by CLF and CPM */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK_NEAR(result.raw[COEFFICIENT_CL], 3.0, 1e-15, "identity: 2 (CLF + CPM)");
    inputs.facility_coefficient[COEFFICIENT_CPM] = NAN; /* by nothing */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
    inputs.facility_coefficient[COEFFICIENT_CL] = 3.0;
    inputs.facility_coefficient[COEFFICIENT_CY] = INFINITY;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
}

/* What is wrong with a wind that nobody needs is kept, and the coefficients stand. */
static void coefficients_of_the_facility_need_no_wind(void)
{
    struct tunnel_recipe recipe = backward_recipe();
    struct tunnel_inputs inputs = {.facility_coefficient = {0.9, NAN, 3.0, 1.3, 1.7, NAN, 0.2, NAN},
                                   .total_pressure = NAN,
                                   .static_pressure = backwards.static_pressure,
                                   .total_minus_static = 1200.0,
                                   .total_temperature = backwards.total_temperature,
                                   .relative_humidity = 1.05};
    struct tunnel_result result;
    recipe.source = LOADS_AS_COEFFICIENTS;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(result.wind == OUTCOME_AIR_RANGE);
    CHECK(isnan(result.freestream.density) && isnan(result.freestream.speed));
    CHECK(isfinite(result.freestream.mach)); /* the pressures alone decide it */
    CHECK_NEAR(result.raw[COEFFICIENT_CD], 0.9, 0.0, "identity");
    inputs.total_minus_static = -3.0;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(result.wind == OUTCOME_NO_WIND && isnan(result.freestream.mach));
}

CU_TestInfo tunnel_facility_tests[] = {
    {"coefficients reduced by the facility", coefficients_of_the_facility},
    {"coefficients of the facility need no wind", coefficients_of_the_facility_need_no_wind},
    CU_TEST_INFO_NULL};
