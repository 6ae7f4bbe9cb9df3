/* test_slotted.c - a facility's factor from one shape in several sizes.
 *
 * Numbers of tests/oracles/boundary_fits.py: exact fractions; data invented. No published series of one
 * road-vehicle shape in several sizes could be had in numbers, so none is collapsed here.          */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/slotted.h"
#include "tests/check.h"

static const char oracle[] = "tests/oracles/boundary_fits.py";
static const double share[] = {0.02, 0.02, 0.045, 0.045, 0.08, 0.08};
static const double series[] = {0.403, 0.405, 0.411, 0.409, 0.419, 0.416};

static void a_series_of_three_sizes(void)
{
    struct slotted_factor found = {0};
    CHECK(slotted_from_series(share, series, 6, &found) == OUTCOME_OK);
    CHECK_RELATIVE(found.factor, 0.561259332801534, 1e-12, oracle);
    CHECK_RELATIVE(found.factor_u, 0.0628342784337851, 1e-8, oracle);
    CHECK_RELATIVE(found.free_air, 0.399658256880734, 1e-13, oracle);
    CHECK_RELATIVE(found.residual_sd, 0.00147358235403673, 1e-11, oracle);
    CHECK(found.degrees_of_freedom == 4.0 && found.highest == 0.08);
}

/* An invented body in an invented tunnel: three sizes fall on one free-air coefficient. */
static void sizes_collapse(void)
{
    const double sizes[] = {0.015, 0.04, 0.09};
    double measured[3];
    struct slotted_factor found = {0};
    for (int i = 0; i < 3; i++)
        measured[i] = 0.37 * (1.0 - 0.8 * sizes[i]);
    CHECK(slotted_from_series(sizes, measured, 3, &found) == OUTCOME_OK);
    CHECK_RELATIVE(found.factor, -0.8, 1e-12, "invented, found back");
    for (int i = 0; i < 3; i++)
        CHECK_RELATIVE(measured[i] / (1.0 + found.factor * sizes[i]), 0.37, 1e-13,
                       "the same shape in free air");
}

static void refusals(void)
{
    double x[] = {0.02, 0.04, 0.08}, y[] = {0.40, 0.41, 0.42};
    struct slotted_factor found = {.factor = -7};
    CHECK(slotted_from_series(x, y, 2, &found) == OUTCOME_TOO_FEW);
    y[0] = NAN;
    CHECK(slotted_from_series(x, y, 3, &found) == OUTCOME_NOT_FINITE);
    y[0] = 0.40;
    x[0] = 0.0;
    CHECK(slotted_from_series(x, y, 3, &found) == OUTCOME_GEOMETRY);
    x[0] = 0.35;
    CHECK(slotted_from_series(x, y, 3, &found) == OUTCOME_GEOMETRY);
    x[0] = x[1] = x[2];
    CHECK(slotted_from_series(x, y, 3, &found) == OUTCOME_SINGULAR);
    const double sizes[] = {0.02, 0.04, 0.08}, through_zero[] = {0.02, 0.05, 0.07};
    CHECK(slotted_from_series(sizes, through_zero, 3, &found) == OUTCOME_SINGULAR);
    CHECK(found.factor == -7);
}

CU_TestInfo slotted_tests[] = {{"a series of three sizes", a_series_of_three_sizes},
                               {"the sizes collapse", sizes_collapse},
                               {"series that tell nothing are refused", refusals},
                               CU_TEST_INFO_NULL};
