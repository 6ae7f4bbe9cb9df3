/* test_duct.c - a source in a duct: against the duct's modes, plain sums and the doublet's factor. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/constants.h"
#include "reduce/physics/duct.h"
#include "reduce/physics/tunnel_factor.h"
#include "tests/check.h"
#include "tests/duct_modes.h"

static const struct duct duct = {3.2, 2.4};

static double speed(struct duct_place source, struct duct_place at, enum duct_part part)
{
    return duct_source_speed(&duct, &source, &at, part);
}

static void the_modes_of_the_duct(void)
{
    static const double places[][6] = {
        {0, 0, 0.3, 1.1, 1.6, 0.4},      {0.4, 0, 0, -0.3, -1.6, 1.2}, {0.4, 0, 0, -5, 1.6, 0.2},
        {0, 0.5, 1.0, 0.5, 0.2, 2.4},    {-1, 0.2, 0.4, 7, -1.6, 0},   {0, 0, 1.2, 0.25, 0, 1.1},
        {0.2, -1.5, 2.3, 1.5, 1.4, 0.1}, {0, 0, 0, 20, 0, 0},
    };
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        const double *p = places[i];
        double want = duct_modes_speed(duct.width, duct.height, p, p + 3);
        CHECK_NEAR(speed((struct duct_place){p[0], p[1], p[2]},
                         (struct duct_place){p[3], p[4], p[5]}, DUCT_ALL),
                   want, 1e-14, "Laplace's equation by separation of variables");
    }
}

static void far_away_and_in_its_own_plane(void)
{
    struct duct_place source = {0.3, 0.0, 0.4};
    double section = duct.width * duct.height;
    CHECK_NEAR(speed(source, (struct duct_place){-300, 0.2, 1}, DUCT_ALL), 0.0, 1e-16,
               "definition: still upstream");
    CHECK_NEAR(speed(source, (struct duct_place){300, 0.2, 1}, DUCT_ALL), 1 / section, 1e-16,
               "continuity: Q/C downstream");
    CHECK_NEAR(speed(source, (struct duct_place){0.3, 1.6, 1}, DUCT_ALL), 0.5 / section, 1e-16,
               "symmetry: half in its own plane");
    CHECK_NEAR(speed(source, source, DUCT_WITHOUT_SELF), 0.5 / section, 1e-16,
               "wake blockage: CD S/(4C) of a source S CD/2");
}

/* What is left out is what a source, and its mirror, make in free air. */
static void what_is_left_out(void)
{
    struct duct_place source = {0.1, 0.2, 0.4}, at = {0.9, -0.3, 0.7};
    double all = speed(source, at, DUCT_ALL);
    double self = 0.8 / (4 * PI * pow(0.64 + 0.25 + 0.09, 1.5)),
           mirror = 0.8 / (4 * PI * pow(0.64 + 0.25 + 1.21, 1.5));
    CHECK_NEAR(all - speed(source, at, DUCT_WITHOUT_SELF), self, 1e-15, "u = Q x/(4 pi r^3)");
    CHECK_NEAR(all - speed(source, at, DUCT_WITHOUT_PAIR), self + mirror, 1e-15,
               "u = Q x/(4 pi r^3), twice");
    struct duct_place beside = {source.x + 1e-9, source.y, source.z};
    CHECK_NEAR(speed(source, beside, DUCT_WITHOUT_SELF), speed(source, source, DUCT_WITHOUT_SELF),
               1e-9, "continuous where the source was");
}

/* A source before and a sink behind make a doublet, whose images are the tunnel factor's. */
static void a_doublet_on_the_floor(void)
{
    const double apart = 1e-3;
    struct duct_place middle = {0, 0, 0}, before = {-apart, 0, 0}, behind = {apart, 0, 0};
    double pair =
        (speed(before, middle, DUCT_WITHOUT_PAIR) - speed(behind, middle, DUCT_WITHOUT_PAIR)) /
        (2 * apart);
    double section = 2 * duct.width * duct.height;
    double lattice = 2 * pow(PI, 1.5) * tunnel_factor_closed(duct.width / (2 * duct.height)) /
                     pow(section, 1.5); /* sum of 1/r^3 */
    CHECK_RELATIVE(pair, 2 * lattice / (4 * PI), 1e-6, "tunnel_factor.h: two images at each place");
}

static void what_is_no_duct(void)
{
    struct duct_place source = {0, 0, 0}, at = {1, 0, 0}, nowhere = {NAN, 0, 0};
    struct duct flat = {60, 2}, none = {0, 2}, negative = {3, -2};
    CHECK(isnan(duct_source_speed(&flat, &source, &at, DUCT_ALL)));
    CHECK(isnan(duct_source_speed(&none, &source, &at, DUCT_ALL)));
    CHECK(isnan(duct_source_speed(&negative, &source, &at, DUCT_ALL)));
    CHECK(isnan(speed(nowhere, at, DUCT_ALL)) && isnan(speed(source, nowhere, DUCT_ALL)));
}

CU_TestInfo duct_tests[] = {
    {"the same as the modes of the duct", the_modes_of_the_duct},
    {"far upstream, far downstream, and in its own plane", far_away_and_in_its_own_plane},
    {"what is left out is the flow in free air", what_is_left_out},
    {"a doublet has the tunnel factor", a_doublet_on_the_floor},
    {"what is no duct has no speed", what_is_no_duct},
    CU_TEST_INFO_NULL};
