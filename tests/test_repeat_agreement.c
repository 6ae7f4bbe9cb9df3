/* test_repeat_agreement.c - stated uncertainties against repeats: the statistics alone. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stddef.h>

#include "reduce/statistics/repeat_agreement.h"
#include "tests/check.h"
#include "tests/noise.h"

extern CU_TestInfo repeat_agreement_tests[];

static const char R[] = "R, tests/oracles/distributions.R";

static const struct repeat_difference six[] = {{.012, .010}, {-.003, .004}, {.007, .006},
                                               {.021, .012}, {.004, .005},  {-.001, .002}};

static void one_group_agrees_with_r(void)
{
    struct repeat_agreement found;
    CHECK(repeat_agreement(six, 6, 0.95, &found) == OUTCOME_OK);
    CHECK(found.pairs == 6 && found.inside == 3);
    CHECK_NEAR(found.expected, 5.7, 1e-15, "identity");
    CHECK_NEAR(found.few, 0.00222984375000001, 1e-15, R);
    CHECK_NEAR(found.many, 0.99991359375, 1e-14, R);
    CHECK_NEAR(found.sd_about_zero, 0.00741619848709566, 1e-16, R);
    CHECK_NEAR(found.sd_about_shift, 0.00627162924074226, 1e-16, R);
    CHECK_NEAR(found.ratio, 2.16427584351579583, 1e-13, R);
    CHECK_NEAR(found.shift, 0.00666666666666667, 1e-16, R);
    CHECK_NEAR(found.shift_error, 0.00362092683040007, 1e-16, R);
    CHECK_NEAR(found.shift_freedom, 5, 0, R);
    CHECK_NEAR(found.shift_p, 0.12496277994096081, 1e-13, R);
}

static void groups_are_units_of_the_shift(void)
{
    static const size_t end[] = {2, 6};
    struct repeat_agreement found, whole;
    CHECK(repeat_agreement_of_groups(six, end, 2, 0.95, &found) == OUTCOME_OK);
    CHECK(repeat_agreement(six, 6, 0.95, &whole) == OUTCOME_OK);
    CHECK(found.pairs == 6 && found.inside == 3);
    CHECK_NEAR(found.sd_about_zero, whole.sd_about_zero, 0, "identity: no group in it");
    CHECK_NEAR(found.sd_about_shift, 0.00688521967696021, 1e-16, R);
    CHECK_NEAR(found.shift, 0.006125, 1e-17, R);
    CHECK_NEAR(found.shift_error, 0.001625, 1e-16, R);
    CHECK_NEAR(found.shift_freedom, 1, 0, "two groups");
    CHECK_NEAR(found.shift_p, 0.16509571608805168, 1e-13, R);
    CHECK(repeat_agreement_of_groups(six, end + 1, 1, 0.95, &found) == OUTCOME_OK);
    CHECK_NEAR(found.shift_p, whole.shift_p, 0, "identity: one group is its pairs");
}

static void tails_of_many_pairs_are_those_of_r(void)
{
    struct repeat_difference pairs[125];
    struct repeat_agreement found;
    for (size_t inside = 67; inside <= 123; inside += 56) {
        for (size_t i = 0; i < 125; i++)
            pairs[i] = (struct repeat_difference){i < inside ? 0.5 : 2, 1};
        CHECK(repeat_agreement(pairs, 125, 0.95, &found) == OUTCOME_OK);
        CHECK(found.inside == inside);
        if (inside == 67)
            CHECK_RELATIVE(found.few, 2.60679827626249e-41, 1e-11, R);
        else
            CHECK_NEAR(found.many, 4.77038370203785e-02, 1e-14, R);
    }
}

static void edges_are_named(void)
{
    static const struct repeat_difference one[] = {{0.5, 0.5}}, none_stated[] = {{0, 0}, {1, 0}},
                                          same[] = {{0.25, 1}, {0.25, 1}, {0.25, 1}};
    struct repeat_agreement found;
    CHECK(repeat_agreement(one, 1, 0.95, &found) == OUTCOME_OK);
    CHECK(found.inside == 1); /* on the limit */
    CHECK_NEAR(found.few, 1, 0, "identity");
    CHECK(isnan(found.sd_about_shift) && isnan(found.shift_p) && isnan(found.shift_error));
    CHECK(repeat_agreement(none_stated, 2, 0.95, &found) == OUTCOME_OK);
    CHECK(found.inside == 1 && isnan(found.ratio));
    CHECK(repeat_agreement(same, 3, 0.95, &found) == OUTCOME_OK);
    CHECK(isnan(found.shift_p)); /* without scatter there is no t */
    CHECK_NEAR(found.shift, 0.25, 0, "identity");
    CHECK(repeat_agreement(one, 0, 0.95, &found) == OUTCOME_TOO_FEW && found.pairs == 0);
    CHECK(repeat_agreement(one, 1, 1, &found) == OUTCOME_NOT_FINITE);
    CHECK(repeat_agreement(one, 1, (double)NAN, &found) == OUTCOME_NOT_FINITE);
    const struct repeat_difference wrong[] = {
        {(double)NAN, 1}, {1, (double)NAN}, {1, -1}, {INFINITY, 1}, {1, INFINITY}};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++)
        CHECK(repeat_agreement(&wrong[i], 1, 0.95, &found) == OUTCOME_NOT_FINITE);
    CHECK(repeat_agreement_of_groups(one, NULL, 0, 0.95, &found) == OUTCOME_TOO_FEW);
}

/* Where what is stated is right, a flag at 1 % is raised in 1 % of the sets at most (the binomial is
 * discrete, so in fewer); of 2000 sets, 1 % + 3 sqrt(0.01 0.99/2000). Where half or double is stated of 60
 * pairs, it is seen: 95 % would be 67 % and 99.99 %. */
static void right_ones_are_left_alone_and_wrong_ones_seen(void)
{
    enum { SETS = 2000, PAIRS = 60 };
    static const double stated[] = {1, 0.5, 2};
    size_t few[3] = {0}, many[3] = {0};
    uint64_t state = 9;
    for (int k = 0; k < 3; k++)
        for (int set = 0; set < SETS; set++) {
            struct repeat_difference pairs[PAIRS];
            struct repeat_agreement found;
            for (int i = 0; i < PAIRS; i++) {
                double sd = 0.5 + noise_uniform(&state);
                pairs[i].difference = sd * noise_normal(&state);
                pairs[i].stated = 1.959963984540054 * sd * stated[k];
            }
            CHECK(repeat_agreement(pairs, PAIRS, 0.95, &found) == OUTCOME_OK);
            few[k] += found.few < 0.01;
            many[k] += found.many < 0.01;
        }
    double most = (0.01 + 3 * sqrt(0.01 * 0.99 / SETS)) * SETS;
    CHECK((double)few[0] <= most && (double)many[0] <= most);
    CHECK(few[0] > 0); /* else it is no test */
    CHECK(few[1] > 0.99 * SETS && many[1] == 0);
    CHECK(few[2] == 0);
}

CU_TestInfo repeat_agreement_tests[] = {
    {"one group agrees with R", one_group_agrees_with_r},
    {"groups are units of the shift", groups_are_units_of_the_shift},
    {"tails of many pairs are those of R", tails_of_many_pairs_are_those_of_r},
    {"edges are named", edges_are_named},
    {"right ones are left alone and wrong ones seen",
     right_ones_are_left_alone_and_wrong_ones_seen},
    CU_TEST_INFO_NULL};
