/* maskell.c - Maskell's correction of bluff bodies: forward and back, where there is no answer, the drag
 * in three parts.
 *
 * Source: Maskell, ARC R&M 3400, 1963: dq/q = theta CD S/C, theta a function of the base pressure and a
 * little above 5/2 for axisymmetric bodies (abstract). Rows computed independently in 40 digits from free
 * air forward (theta = -1/Cpb_c, q_c/q = 1 + theta CD S/C with the measured CD, k^2 = (q_c/q) k_c^2); the
 * equations themselves from memory.                                                                */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/maskell.h"
#include "tests/check.h"

/* CDc, Cpb_c, S/C, theta, q_c/q, CD measured, Cpb measured, k_c^2, the smaller root */
static const double forward[][9] = {
    {1.14, -0.38, 0.01, 2.63157894737, 1.03092783505, 1.17525773196, -0.422680412371, 1.38,
     1.03092783505},
    {1.14, -0.38, 0.025, 2.63157894737, 1.08108108108, 1.23243243243, -0.491891891892, 1.38,
     1.08108108108},
    {1.14, -0.38, 0.05, 2.63157894737, 1.17647058824, 1.34117647059, -0.623529411765, 1.38,
     1.17647058824},
    {0.9, -0.4, 0.05, 2.5, 1.12676056338, 1.01408450704, -0.577464788732, 1.4, 1.12676056338},
    {0.9, -0.4, 0.075, 2.5, 1.2030075188, 1.08270676692, -0.684210526316, 1.4, 1.2030075188},
    {0.35, -0.2, 0.05, 5.0, 1.09589041096, 0.383561643836, -0.315068493151, 1.2, 1.09589041096},
};

static void free_air_is_found_back(void)
{
    const char *source = "computed independently from free air forward";
    for (size_t i = 0; i < sizeof forward / sizeof *forward; i++) {
        const double *row = forward[i];
        struct maskell found = {0};
        CHECK(maskell_from_base_pressure(row[5], row[6], row[2], &found) == OUTCOME_OK);
        /* twelve digits of input, times ln(q_c/q)'s slope 1/(k_c^2 - q_c/q), here up to 10 */
        CHECK_RELATIVE(found.base_parameter, row[7], 2e-11, source);
        CHECK_RELATIVE(found.q_ratio, row[4], 2e-11, source);
        CHECK_RELATIVE(found.q_ratio, row[8], 2e-11, "q_c/q is the smaller root");
        CHECK_RELATIVE(found.factor, row[3], 2e-10, source);
        CHECK_RELATIVE(row[5] / found.q_ratio, row[0], 2e-11, source);
        CHECK_RELATIVE(1.0 - (1.0 - row[6]) / found.q_ratio, row[1], 1e-10, source);
        CHECK_RELATIVE(found.q_ratio, 1.0 + found.factor * row[5] * row[2], 1e-13, "identity");
    }
}

/* The printed iteration, k_c^2 <- k^2/[1 + m/(k_c^2 - 1)] from k^2, runs to the larger root. */
static void the_iteration_ends_at_the_same_root(void)
{
    static const double iterates[] = {1.40395203891, 1.38616436972, 1.38165415838};
    const double *row = forward[1];
    double k = 1.0 - row[6];
    for (int i = 0; i < 200; i++) {
        k = (1.0 - row[6]) / (1.0 + row[5] * row[2] / (k - 1.0));
        if (i < 3)
            CHECK_NEAR(k, iterates[i], 2e-11, "computed independently, first iterates");
    }
    struct maskell found = {0};
    CHECK(maskell_from_base_pressure(row[5], row[6], row[2], &found) == OUTCOME_OK);
    CHECK_RELATIVE(found.base_parameter, k, 1e-13, "identity: fixed point");
}

/* CD, Cpb, S/C, discriminant */
static void without_a_real_root_there_is_no_answer(void)
{
    static const double rows[][4] = {{1.2, -0.5, 0.05, -0.0464},
                                     {0.9, -0.35, 0.05, -0.086975},
                                     {0.9, -0.45, 0.075, -0.12369375},
                                     {0.4, -0.2, 0.05, -0.0476}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const double *row = rows[i];
        struct maskell found = {.q_ratio = -1.0};
        double sum = 2.0 - row[1] - row[0] * row[2];
        CHECK_NEAR(sum * sum - 4.0 * (1.0 - row[1]), row[3], 1e-12, "computed independently");
        CHECK(maskell_from_base_pressure(row[0], row[1], row[2], &found) == OUTCOME_NO_ROOT);
        CHECK(found.q_ratio == -1.0);
    }
}

/* How fast ln(q_c/q) goes with m, by differences. */
static void near_the_last_root_it_amplifies(void)
{
    const double step = 1e-7, *row = forward[4];
    struct maskell found = {0}, more = {0}, less = {0};
    CHECK(maskell_from_base_pressure(row[5], row[6], row[2], &found) == OUTCOME_OK);
    CHECK(maskell_from_base_pressure(row[5], row[6], row[2] + step / row[5], &more) == OUTCOME_OK);
    CHECK(maskell_from_base_pressure(row[5], row[6], row[2] - step / row[5], &less) == OUTCOME_OK);
    double slope = log(more.q_ratio / less.q_ratio) / (2.0 * step);
    CHECK_RELATIVE(found.amplification, slope / found.factor, 1e-6, "difference quotient");
    CHECK(found.amplification > 2.0);
    CHECK(maskell_from_base_pressure(0.01, -0.38, 0.001, &found) == OUTCOME_OK);
    CHECK_NEAR(found.amplification, 1.0, 1e-3, "identity: no feedback in a large section");
}

static void no_wake_no_correction(void)
{
    struct maskell found = {0};
    CHECK(maskell_from_base_pressure(0.0, -0.38, 0.05, &found) == OUTCOME_OK);
    CHECK_NEAR(found.q_ratio, 1.0, 1e-15, "limit");
    CHECK_NEAR(found.factor, 1.0 / 0.38, 1e-14, "definition");
}

static void refusals(void)
{
    struct maskell found = {.q_ratio = -1.0};
    CHECK(maskell_from_base_pressure(NAN, -0.4, 0.05, &found) == OUTCOME_NOT_FINITE);
    CHECK(maskell_from_base_pressure(1.0, NAN, 0.05, &found) == OUTCOME_NOT_FINITE);
    CHECK(maskell_from_base_pressure(1.0, -0.4, NAN, &found) == OUTCOME_NOT_FINITE);
    CHECK(maskell_from_base_pressure(1.0, -0.4, 0.0, &found) == OUTCOME_GEOMETRY);
    CHECK(maskell_from_base_pressure(-0.1, -0.4, 0.05, &found) == OUTCOME_NO_ROOT);
    CHECK(maskell_from_base_pressure(0.0, 0.0, 0.05, &found) == OUTCOME_NO_ROOT);
    CHECK(maskell_from_base_pressure(0.9, 0.3, 0.05, &found) == OUTCOME_NO_ROOT);
    CHECK(found.q_ratio == -1.0);
}

/* A wholly separated drag with 5/2 is Maskell's 5/4 on the speed; a wholly attached one the wake term. */
static void the_drag_in_three_parts(void)
{
    double w = NAN;
    CHECK(maskell_split(0.9, 0.0, 0.0, 2.5, 0.05, &w) == OUTCOME_OK);
    CHECK_NEAR(w, 1.25 * 0.9 * 0.05, 1e-16, "Barlow, Rae, Pope, 5S/4C (from memory)");
    CHECK(maskell_split(0.9, 0.9, 0.0, 2.5, 0.05, &w) == OUTCOME_OK);
    CHECK_NEAR(w, 0.9 * 0.05 / 4.0, 1e-16, "identity: the wake term alone");
    CHECK(maskell_split(0.9, 0.35, 0.25, 2.5, 0.05, &w) == OUTCOME_OK);
    CHECK_NEAR(w, 0.0125 * 0.35 + 0.0625 * 0.30, 1e-16, "worked by hand");
    CHECK(maskell_split(0.9, 0.0, 0.9, 2.5, 0.05, &w) == OUTCOME_OK);
    CHECK_NEAR(w, 0.0, 1e-16, "identity: vortex drag makes no wake");
    w = -1.0;
    CHECK(maskell_split(0.9, 0.6, 0.4, 2.5, 0.05, &w) == OUTCOME_NO_ROOT);
    CHECK(maskell_split(NAN, 0.1, 0.1, 2.5, 0.05, &w) == OUTCOME_NOT_FINITE);
    CHECK(maskell_split(0.9, NAN, 0.1, 2.5, 0.05, &w) == OUTCOME_NOT_FINITE);
    CHECK(maskell_split(0.9, 0.1, NAN, 2.5, 0.05, &w) == OUTCOME_NOT_FINITE);
    CHECK(maskell_split(0.9, 0.1, 0.1, NAN, 0.05, &w) == OUTCOME_NOT_FINITE);
    CHECK(maskell_split(0.9, 0.1, 0.1, 2.5, NAN, &w) == OUTCOME_NOT_FINITE);
    CHECK(maskell_split(0.9, 0.1, 0.1, 2.5, 0.0, &w) == OUTCOME_GEOMETRY);
    CHECK(maskell_split(0.9, 0.1, 0.1, 0.0, 0.05, &w) == OUTCOME_GEOMETRY);
    CHECK(maskell_split(0.9, -0.1, 0.1, 2.5, 0.05, &w) == OUTCOME_GEOMETRY);
    CHECK(maskell_split(0.9, 0.1, -0.1, 2.5, 0.05, &w) == OUTCOME_GEOMETRY);
    CHECK(w == -1.0);
}

static void vortex_drag_of_a_sweep(void)
{
    const double cl[] = {1.0, 2.0, 3.0, -2.5}, none[] = {2.0, -2.0, 2.0, 2.0};
    double cd[4];
    struct line_fit fit = {0};
    for (int i = 0; i < 4; i++)
        cd[i] = 0.42 + 0.05 * cl[i] * cl[i];
    CHECK(maskell_vortex_fit(cd, cl, 4, &fit) == OUTCOME_OK);
    CHECK_NEAR(fit.intercept, 0.42, 1e-14, "invented, found back");
    CHECK_NEAR(fit.slope, 0.05, 1e-15, "invented, found back");
    CHECK(maskell_vortex_fit(cd, cl, 2, &fit) == OUTCOME_TOO_FEW);
    CHECK(maskell_vortex_fit(cd, cl, 0, &fit) == OUTCOME_TOO_FEW);
    CHECK(maskell_vortex_fit(cd, none, 4, &fit) == OUTCOME_SINGULAR);
    for (int i = 0; i < 4; i++)
        cd[i] = -cd[i];
    CHECK(maskell_vortex_fit(cd, cl, 4, &fit) == OUTCOME_NO_ROOT);
    cd[0] = NAN;
    CHECK(maskell_vortex_fit(cd, cl, 4, &fit) == OUTCOME_NOT_FINITE);
}

CU_TestInfo maskell_tests[] = {
    {"free air is found back from what a tunnel would measure", free_air_is_found_back},
    {"the printed iteration ends at the same root", the_iteration_ends_at_the_same_root},
    {"without a real root there is no answer", without_a_real_root_there_is_no_answer},
    {"near the last root it amplifies", near_the_last_root_it_amplifies},
    {"no wake, no correction", no_wake_no_correction},
    {"inputs that are not are refused", refusals},
    {"the drag in three parts", the_drag_in_three_parts},
    {"vortex drag of a sweep", vortex_drag_of_a_sweep},
    CU_TEST_INFO_NULL};
