/* test_convex_weights.c - interpolation among scattered places: exact for planes, refused outside. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/convex_weights.h"
#include "tests/check.h"

static const double line[] = {0, 1, 3, 7};
/* Two triangles; the shorter diagonal of the four-cornered figure is from (0, 0) to (2, 1). */
static const double kite[] = {0, 0, 2, 1, 0, 4, 4, -1};

static double sum_of(const double *weight, const double *value, int n)
{
    double sum = 0;
    for (int i = 0; i < n; i++)
        sum += weight[i] * value[i];
    return sum;
}

static void along_a_line_the_two_neighbours_are_taken(void)
{
    double weight[4];
    const double at = 1.5;
    CHECK(convex_weights(line, 4, 1, &at, weight) == OUTCOME_OK);
    CHECK_NEAR(weight[0], 0, 0, "by hand: linear interpolation between 1 and 3");
    CHECK_NEAR(weight[1], 0.75, 1e-12, "by hand: linear interpolation between 1 and 3");
    CHECK_NEAR(weight[2], 0.25, 1e-12, "by hand: linear interpolation between 1 and 3");
    CHECK_NEAR(weight[3], 0, 0, "by hand: linear interpolation between 1 and 3");
    for (int i = 0; i < 4; i++) {
        CHECK(convex_weights(line, 4, 1, &line[i], weight) == OUTCOME_OK);
        CHECK_NEAR(weight[i], 1, 1e-12, "identity: exact at a place");
    }
}

/* Barycentric by hand in the triangle (0,0) (2,1) (0,4): at (0.5, 1) the second has 1/4, the third
 * (1 - 1/4)/4. */
static void in_a_plane_the_delaunay_triangle_is_taken(void)
{
    double weight[4];
    const double at[] = {0.5, 1};
    CHECK(convex_weights(kite, 4, 2, at, weight) == OUTCOME_OK);
    CHECK_NEAR(weight[1], 0.25, 1e-12, "barycentric coordinates by hand");
    CHECK_NEAR(weight[2], 0.1875, 1e-12, "barycentric coordinates by hand");
    CHECK_NEAR(weight[0], 0.5625, 1e-12, "barycentric coordinates by hand");
    CHECK_NEAR(weight[3], 0, 0, "barycentric coordinates by hand");
}

/* A lattice in three dimensions, with all its ties: any plane comes back. */
static void a_plane_is_found_again_on_a_lattice(void)
{
    double place[64 * 3], value[64], weight[64];
    for (size_t i = 0; i < 64; i++) {
        const size_t row = i / 4 % 4;
        const size_t layer = i / 16;
        double *x = place + 3 * i;
        x[0] = (double)(i % 4);
        x[1] = (double)row;
        x[2] = (double)layer;
        value[i] = 2 - 3 * x[0] + 0.5 * x[1] + 7 * x[2];
    }
    for (int i = 0; i < 200; i++) {
        const double at[] = {3 * fmod(i * 0.618034, 1), 3 * fmod(i * 0.414214, 1),
                             3 * fmod(i * 0.732051, 1)};
        double total = 0;
        CHECK(convex_weights(place, 64, 3, at, weight) == OUTCOME_OK);
        for (int k = 0; k < 64; k++) {
            CHECK(weight[k] >= 0);
            total += weight[k];
            if (weight[k] > 1e-9)
                for (int j = 0; j < 3; j++)
                    CHECK(fabs(place[3 * k + j] - at[j]) <= 1 + 1e-9);
        }
        CHECK_NEAR(total, 1, 1e-12, "identity");
        CHECK_NEAR(sum_of(weight, value, 64), 2 - 3 * at[0] + 0.5 * at[1] + 7 * at[2], 1e-10,
                   "identity: linear interpolation is exact for a plane");
    }
}

static void outside_is_refused(void)
{
    double weight[4] = {9, 9, 9, 9};
    const double beyond = 7.001, before = -1e-3, edge = 7;
    const double off[] = {2.5, 2};
    CHECK(convex_weights(line, 4, 1, &beyond, weight) == OUTCOME_OUTSIDE);
    CHECK(convex_weights(line, 4, 1, &before, weight) == OUTCOME_OUTSIDE);
    CHECK_NEAR(weight[0], 9, 0, "identity: not written");
    CHECK(convex_weights(line, 4, 1, &edge, weight) == OUTCOME_OK);
    CHECK(convex_weights(kite, 4, 2, off, weight) == OUTCOME_OUTSIDE);
}

/* All places on one line of a plane: on it they serve, off it they do not. */
static void places_on_a_line_serve_on_that_line(void)
{
    static const double diagonal[] = {0, 0, 1, 1, 3, 3};
    double weight[3];
    const double on[] = {2, 2}, off[] = {2, 2.01};
    CHECK(convex_weights(diagonal, 3, 2, on, weight) == OUTCOME_OK);
    CHECK_NEAR(weight[1], 0.5, 1e-12, "by hand");
    CHECK_NEAR(weight[2], 0.5, 1e-12, "by hand");
    CHECK(convex_weights(diagonal, 3, 2, off, weight) == OUTCOME_OUTSIDE);
}

static void what_is_no_question_has_no_answer(void)
{
    double weight[4];
    const double at = NAN;
    CHECK(convex_weights(line, 4, 1, &at, weight) == OUTCOME_NOT_FINITE);
    CHECK(convex_weights(line, 0, 1, line, weight) == OUTCOME_TOO_FEW);
    CHECK(convex_weights(line, 1, CONVEX_AXES_MAX + 1, line, weight) == OUTCOME_GEOMETRY);
    CHECK(convex_weights(line, 4, 0, line, weight) == OUTCOME_OK);
    CHECK_NEAR(weight[0], 1, 0, "convex_weights.h: the first has all the weight");
}

CU_TestInfo convex_weights_tests[] = {
    {"along a line the two neighbours are taken", along_a_line_the_two_neighbours_are_taken},
    {"in a plane the Delaunay triangle is taken", in_a_plane_the_delaunay_triangle_is_taken},
    {"a plane is found again on a lattice", a_plane_is_found_again_on_a_lattice},
    {"outside is refused", outside_is_refused},
    {"places on a line serve on that line", places_on_a_line_serve_on_that_line},
    {"what is no question has no answer", what_is_no_question_has_no_answer},
    CU_TEST_INFO_NULL};
