/* test_open_jet.c - the pieces of the open-jet correction, one by one. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/constants.h"
#include "reduce/physics/open_jet.h"
#include "tests/check.h"

/* A, A_N, x_M, L, V, R_N, x_s, eps_qN, eps_N, eps_S of a slender body; nozzle twice as wide as high */
static const double blocks[][10] = {
    {1.6, 25.0, 4.5, 4.6, 6.0, 3.98942280401, 2.7046265044, 0.0140432386775, 0.00409973576405,
     -0.00714640444721},
    {2.2, 22.0, 3.5, 4.8, 9.0, 3.74241031851, 1.69172702727, 0.0294044230301, 0.0114560019426,
     -0.0129853853481},
    {0.4, 7.0, 2.2, 2.5, 0.55, 2.11100412282, 1.2023132522, 0.0144312846573, 0.00478965630841,
     -0.00442142215756},
};

static struct open_jet jet_of(const double *row)
{
    return (struct open_jet){.nozzle_width = sqrt(2.0 * row[1]),
                             .nozzle_height = sqrt(row[1] / 2.0),
                             .area = row[0],
                             .length = row[3],
                             .volume = row[4],
                             .distance = row[2],
                             .shape = 0.5 * sqrt(PI),
                             .collector_area = 1.3 * row[1],
                             .collector_distance = 3.0 * row[2]};
}

static void pieces_of_three_tunnels(void)
{
    const char *source = "potential flow of source, ring and images, computed independently";
    for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++) {
        const double *row = blocks[i];
        struct open_jet jet = jet_of(row);
        struct open_jet_nozzle nozzle = {0};
        double expansion = NAN;
        CHECK(open_jet_nozzle(&jet, &nozzle) == OUTCOME_OK);
        CHECK(open_jet_expansion(&jet, &expansion) == OUTCOME_OK);
        CHECK_RELATIVE(nozzle.radius, row[5], 1e-11, source);
        CHECK_RELATIVE(nozzle.source, row[6], 1e-11, source);
        CHECK_RELATIVE(nozzle.in_nozzle, row[7], 1e-11, source);
        CHECK_RELATIVE(nozzle.at_car, row[8], 1e-11, source);
        CHECK_RELATIVE(expansion, row[9], 1e-10, source);
    }
}

/* eps_qN is the flux of the nose's source, 2 pi of solid angle less what passes the disc, over the disc:
 * integrated ring by ring here. */
static void the_source_slows_the_nozzle(void)
{
    enum { RINGS = 20000 };
    struct open_jet jet = jet_of(blocks[0]);
    struct open_jet_nozzle nozzle = {0};
    CHECK(open_jet_nozzle(&jet, &nozzle) == OUTCOME_OK);
    double flux = 0.0, strength = jet.area; /* Q/U of a half-body: its area far behind */
    for (int i = 0; i < RINGS; i++) {
        double r = nozzle.radius * (i + 0.5) / RINGS, s = nozzle.source;
        double axial =
            2.0 * strength / (4.0 * PI) * s / pow(r * r + s * s, 1.5); /* with its mirror */
        flux += axial * 2.0 * PI * r * nozzle.radius / RINGS;
    }
    CHECK_RELATIVE(flux / (PI * nozzle.radius * nozzle.radius), nozzle.in_nozzle, 1e-7,
                   "the same by quadrature");
}

static void limits(void)
{
    struct open_jet jet = jet_of(blocks[0]);
    struct open_jet_nozzle near = {0}, far = {0};
    double collector = NAN, expansion = NAN;
    CHECK(open_jet_nozzle(&jet, &near) == OUTCOME_OK);
    jet.distance = 450.0;
    CHECK(open_jet_nozzle(&jet, &far) == OUTCOME_OK);
    CHECK(far.in_nozzle < 1e-3 * near.in_nozzle && far.at_car < 1e-8 * near.at_car);
    jet = jet_of(blocks[0]);
    jet.area *= 1e-6;
    jet.volume *= 1e-9;
    CHECK(open_jet_nozzle(&jet, &far) == OUTCOME_OK && far.at_car < 1e-5 * near.at_car);
    CHECK(open_jet_expansion(&jet, &expansion) == OUTCOME_OK);
    CHECK(expansion < 0.0 && expansion > -1e-10);
    jet = jet_of(blocks[0]);
    CHECK(open_jet_collector(&jet, 0.4, 0.25, 0.41, &collector) == OUTCOME_OK);
    double radius = sqrt(2.0 * 32.5 / PI), behind = 9.0;
    CHECK_RELATIVE(collector,
                   1.6 / 32.5 * 0.51 * pow(1.0 + behind * behind / radius / radius, -1.5), 1e-14,
                   "worked by hand");
    CHECK(open_jet_collector(&jet, 0.4, 0.0, 0.0, &collector) == OUTCOME_OK && collector == 0.0);
}

static enum outcome nozzle_of(struct open_jet jet)
{
    struct open_jet_nozzle nozzle = {.radius = -1.0};
    enum outcome outcome = open_jet_nozzle(&jet, &nozzle);
    CHECK(outcome == OUTCOME_OK || nozzle.radius == -1.0);
    return outcome;
}

static enum outcome expansion_of(struct open_jet jet)
{
    double expansion = -1.0;
    enum outcome outcome = open_jet_expansion(&jet, &expansion);
    CHECK(outcome == OUTCOME_OK || expansion == -1.0);
    return outcome;
}

static enum outcome collector_of(struct open_jet jet, double drag, double a, double b)
{
    double collector = -1.0;
    enum outcome outcome = open_jet_collector(&jet, drag, a, b, &collector);
    CHECK(outcome == OUTCOME_OK || collector == -1.0);
    return outcome;
}

/* The good jet with one of its sizes another. */
static struct open_jet with_size(size_t which, double value)
{
    struct open_jet jet = jet_of(blocks[0]);
    double *const sizes[] = {&jet.nozzle_width, &jet.nozzle_height, &jet.area, &jet.length,
                             &jet.distance,     &jet.volume,        &jet.shape};
    *sizes[which] = value;
    return jet;
}

static void sizes_that_are_not_are_refused(void)
{
    for (size_t i = 0; i < 5; i++) {
        CHECK(nozzle_of(with_size(i, NAN)) == OUTCOME_NOT_FINITE);
        CHECK(nozzle_of(with_size(i, 0.0)) == OUTCOME_GEOMETRY);
    }
    CHECK(nozzle_of(with_size(4, 2.2)) == OUTCOME_GEOMETRY); /* nose in the nozzle */
    CHECK(nozzle_of(with_size(2, 25.5)) == OUTCOME_GEOMETRY);
    CHECK(expansion_of(with_size(2, 25.5)) == OUTCOME_GEOMETRY);
    for (size_t i = 5; i < 7; i++) {
        CHECK(expansion_of(with_size(i, NAN)) == OUTCOME_NOT_FINITE);
        CHECK(expansion_of(with_size(i, 0.0)) == OUTCOME_GEOMETRY);
    }
    CHECK(expansion_of(with_size(0, 220.0)) == OUTCOME_GEOMETRY); /* wider than the sums reach */
}

static void collectors_that_are_not_are_refused(void)
{
    const struct open_jet good = jet_of(blocks[0]);
    struct open_jet jet = good;
    jet.collector_area = 0.0;
    CHECK(collector_of(jet, 0.4, 0.25, 0.4) == OUTCOME_GEOMETRY);
    jet.collector_area = NAN;
    CHECK(collector_of(jet, 0.4, 0.25, 0.4) == OUTCOME_NOT_FINITE);
    jet = good;
    jet.collector_distance = jet.distance; /* the car stands in it */
    CHECK(collector_of(jet, 0.4, 0.25, 0.4) == OUTCOME_GEOMETRY);
    CHECK(collector_of(good, NAN, 0.25, 0.4) == OUTCOME_NOT_FINITE);
    CHECK(collector_of(good, 0.4, NAN, 0.4) == OUTCOME_NOT_FINITE);
    CHECK(collector_of(good, 0.4, 0.25, NAN) == OUTCOME_NOT_FINITE);
}

CU_TestInfo open_jet_tests[] = {
    {"the pieces of three tunnels", pieces_of_three_tunnels},
    {"the nose's source slows the nozzle", the_source_slows_the_nozzle},
    {"small cars and far nozzles need no correction", limits},
    {"nozzles and cars that are not are refused", sizes_that_are_not_are_refused},
    {"collectors that are not are refused", collectors_that_are_not_are_refused},
    CU_TEST_INFO_NULL};
