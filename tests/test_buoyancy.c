/* test_buoyancy.c - horizontal buoyancy: size, sign, and that it touches the drag alone. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/buoyancy.h"
#include "reduce/physics/spheroid.h"
#include "tests/check.h"

/* length/diameter, thickness m, dp/dx Pa/m, V m3, dD N of V alone, dD N of (1 + k1) V */
static const double spheroids[][6] = {
    {1.0, 0.3, -20.0, 0.0141371669412, 0.282743338823, 0.424115008235},
    {4.0, 0.3, -20.0, 0.0565486677646, 1.13097335529, 1.22321243207},
    {5.0, 0.25, 15.0, 0.0409061543436, -0.613592315154, -0.64986861128},
};

static void spheroids_in_a_gradient(void)
{
    const char *source = "Glauert, ARC R&M 1566, 1933, computed independently";
    const double q = 1000.0, area = 0.5;
    for (size_t i = 0; i < sizeof spheroids / sizeof *spheroids; i++) {
        const double *row = spheroids[i];
        double alone = 0.0, full = 0.0, factor = 1.0 + spheroid_added_mass(row[0]);
        CHECK(buoyancy_drag(row[2] / q, 1.0, row[3], area, &alone) == OUTCOME_OK);
        CHECK(buoyancy_drag(row[2] / q, factor, row[3], area, &full) == OUTCOME_OK);
        CHECK_RELATIVE(alone * q * area, row[4], 1e-11, source);
        CHECK_RELATIVE(full * q * area, row[5], 1e-11, source);
    }
}

static void falling_pressure_is_taken_off_the_drag_alone(void)
{
    const double measured[COEFFICIENTS] = {1.0, 0.1, 3.0, 1.3, 1.7, 0.01, 0.2, 0.03};
    double without[COEFFICIENTS] = {0}, contained = 0.0;
    CHECK(buoyancy_drag(-0.0012, 1.0, 0.3, 0.4, &contained) == OUTCOME_OK);
    CHECK_NEAR(contained, 0.0009, 1e-15, "worked by hand: 0.0012 x 0.3/0.4");
    buoyancy_take_off(measured, contained, without);
    CHECK_NEAR(without[COEFFICIENT_CD], 0.9991, 1e-15, "worked by hand");
    for (int i = 1; i < COEFFICIENTS; i++)
        CHECK_NEAR(without[i], measured[i], 0.0, "identity");
    CHECK(buoyancy_drag(0.0, 1.0, 0.3, 0.4, &contained) == OUTCOME_OK && contained == 0.0);
}

static void refusals(void)
{
    double contained = -1.0;
    CHECK(buoyancy_drag(NAN, 1, 1, 1, &contained) == OUTCOME_NOT_FINITE);
    CHECK(buoyancy_drag(0.1, NAN, 1, 1, &contained) == OUTCOME_NOT_FINITE);
    CHECK(buoyancy_drag(0.1, 1, NAN, 1, &contained) == OUTCOME_NOT_FINITE);
    CHECK(buoyancy_drag(0.1, 1, 1, NAN, &contained) == OUTCOME_NOT_FINITE);
    CHECK(buoyancy_drag(0.1, 0, 1, 1, &contained) == OUTCOME_GEOMETRY);
    CHECK(buoyancy_drag(0.1, 1, 0, 1, &contained) == OUTCOME_GEOMETRY);
    CHECK(buoyancy_drag(0.1, 1, 1, 0, &contained) == OUTCOME_GEOMETRY);
    CHECK(contained == -1.0);
}

CU_TestInfo buoyancy_tests[] = {
    {"three spheroids in a pressure gradient", spheroids_in_a_gradient},
    {"falling pressure pushed the car: taken off the drag and nothing else",
     falling_pressure_is_taken_off_the_drag_alone},
    {"no volume, no area and NAN are refused", refusals},
    CU_TEST_INFO_NULL};
