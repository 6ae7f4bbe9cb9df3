/* test_repeat_levels.c - scatter of visits and of entries, ratios of variances: by hand, and simulated. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/statistics/entry_variance.h"
#include "reduce/statistics/variance_ratio.h"
#include "reduce/statistics/visit_variances.h"
#include "tests/check.h"
#include "tests/noise.h"

extern CU_TestInfo repeat_levels_tests[];

static void visits_of_unequal_length_by_hand(void)
{
    struct visit_point points[] = {{7, 3, 5},  {2, 0, 10}, {2, 1, 14}, {7, 2, 3},
                                   {2, 0, 12}, {7, 2, 1},  {7, 3, 7},  {9, 8, 100}};
    struct visit_estimate within, returned;
    visit_variances(points, 8, &within, &returned);
    CHECK_NEAR(within.estimate.variance, 2, 1e-14, "by hand: squares 2 + 2 + 2 over 3");
    CHECK_NEAR(within.estimate.freedom, 3, 0, "by hand");
    CHECK(within.measurements == 6 && returned.measurements == 7);
    /* B = 6 + 16, df = 2, K = 4/3 + 2: whole 6.6, per 5/3, single 6.6 + 0.4 x 2 */
    CHECK_NEAR(returned.estimate.variance, 7.4, 1e-13, "by hand");
    CHECK_NEAR(returned.estimate.freedom, 7.4 * 7.4 / (6.6 * 6.6 / 2 + 0.8 * 0.8 / 3), 1e-12,
               "by hand: Satterthwaite");
}

static void visits_that_add_nothing(void)
{
    struct visit_point points[] = {{0, 0, 10}, {0, 0, 12}, {0, 1, 10}, {0, 1, 12}};
    struct visit_estimate within, returned;
    visit_variances(points, 4, &within, &returned);
    CHECK_NEAR(within.estimate.variance, 2, 1e-15, "by hand");
    CHECK_NEAR(returned.estimate.variance, 2, 1e-15, "not less than back to back");
    CHECK_NEAR(returned.estimate.freedom, 1, 0, "of what was looked for: two visits");
}

static void single_points_are_their_own_visits(void)
{
    struct visit_point points[] = {{0, 0, 1}, {0, 1, 2}, {0, 2, 6}, {1, 3, 50}};
    struct visit_estimate within, returned;
    visit_variances(points, 4, &within, &returned);
    CHECK(within.estimate.freedom == 0 && isnan(within.estimate.variance));
    CHECK_NEAR(returned.estimate.variance, 7, 1e-14, "by hand: 4 + 1 + 9 over 2");
    CHECK_NEAR(returned.estimate.freedom, 2, 0, "by hand");
    CHECK(within.measurements == 0 && returned.measurements == 3);
    points[2].value = (double)NAN;
    visit_variances(points, 4, &within, &returned);
    CHECK(returned.estimate.freedom == 0 && isnan(returned.estimate.variance));
    visit_variances(points, 0, &within, &returned);
    CHECK(returned.estimate.freedom == 0 && within.estimate.freedom == 0);
}

/* A large level keeps its digits: the same scatter about 1e9. */
static void digits_are_kept(void)
{
    struct visit_point points[] = {{0, 0, 1e9 + 1}, {0, 1, 1e9 + 2}, {0, 2, 1e9 + 6}};
    struct visit_estimate within, returned;
    visit_variances(points, 3, &within, &returned);
    CHECK_NEAR(returned.estimate.variance, 7, 1e-12, "by hand");
}

static struct variance_estimate entries(const struct entry_cell *cells, size_t n,
                                        struct variance_estimate refitted)
{
    struct variance_estimate single;
    CHECK(entry_variance(cells, n, 4, 5, refitted, &single) == OUTCOME_OK);
    return single;
}

static void one_configuration_in_three_entries(void)
{
    const struct entry_cell cells[] = {{0, 0, 1, 1}, {0, 1, 1, 2}, {0, 2, 1, 6}};
    const struct variance_estimate unknown = {(double)NAN, 0};
    struct variance_estimate single = entries(cells, 3, unknown);
    CHECK_NEAR(single.variance, 7, 1e-13, "by hand: the sample's variance");
    CHECK_NEAR(single.freedom, 2, 0, "by hand");
    single = entries(cells, 3, (struct variance_estimate){1, 10});
    CHECK_NEAR(single.variance, 7, 1e-13, "the refit is in it already");
    single = entries(cells, 3, (struct variance_estimate){9, 10});
    CHECK_NEAR(single.variance, 9, 0, "not less than the refit");
    CHECK_NEAR(single.freedom, 2, 0, "three entries say no more");
    CHECK(entries(cells, 1, unknown).freedom == 0);
}

static void configurations_of_an_entry_share_its_error(void)
{
    const struct entry_cell cells[] = {{0, 0, 1, 1},  {0, 1, 1, 2},  {0, 2, 1, 6},
                                       {1, 0, 1, 11}, {1, 1, 1, 14}, {1, 2, 1, 13}};
    struct variance_estimate single = entries(cells, 6, (struct variance_estimate){2, 8});
    /* R = 2 (121 + 1 + 100) / 36, K = 4, df = 2, per 2 */
    double whole = 444.0 / 36 / 4;
    CHECK_NEAR(single.variance, whole + 1, 1e-13, "by hand: whole + 2/2");
    CHECK_NEAR(single.freedom, (whole + 1) * (whole + 1) / (whole * whole / 2 + 1.0 / 8), 1e-12,
               "by hand: two degrees, not four");
    CHECK(entries(cells, 6, (struct variance_estimate){(double)NAN, 0}).freedom == 0);
}

static void unequal_mountings_and_lone_configurations(void)
{
    /* R = 9 + 3, df 1, K = 4 - 10/4, per 1.5; what was in one entry only adds nothing. */
    const struct entry_cell cells[] = {{0, 0, 1, 0}, {0, 3, 3, 4}, {2, 0, 3, 100}, {3, 4, 1, -7}};
    struct variance_estimate single = entries(cells, 4, (struct variance_estimate){3, 6});
    CHECK_NEAR(single.variance, 9, 1e-13, "by hand: 8 + 3 / 3");
    CHECK_NEAR(single.freedom, 81 / (64 + 1.0 / 6), 1e-12, "by hand");
}

static void entries_that_do_not_hang_together(void)
{
    const struct entry_cell cells[] = {{0, 0, 1, 0}, {0, 1, 1, 2}, {1, 2, 1, 5}, {1, 4, 1, 9}};
    struct variance_estimate single = entries(cells, 4, (struct variance_estimate){(double)NAN, 0});
    CHECK_NEAR(single.variance, 5, 1e-13, "by hand: (2 + 8) / 2");
    CHECK_NEAR(single.freedom, 2, 0, "one a pair");
    struct entry_cell bad = {0, 0, 1, (double)NAN};
    CHECK(entry_variance(&bad, 1, 1, 1, single, &single) == OUTCOME_NOT_FINITE);
    bad = (struct entry_cell){0, 0, 0.5, 1};
    CHECK(entry_variance(&bad, 1, 1, 1, single, &single) == OUTCOME_NOT_FINITE);
}

/* The mean of many estimates is the truth, however unbalanced: entries of sd 2, refits of sd 1. */
static void unbalanced_entries_are_not_biased(void)
{
    enum { SEASONS = 4000 };
    static const struct entry_cell plan[] = {{0, 0, 5, 0}, {0, 1, 2, 0}, {1, 1, 1, 0},
                                             {1, 2, 3, 0}, {0, 2, 1, 0}, {2, 3, 2, 0},
                                             {2, 0, 1, 0}, {3, 4, 4, 0}};
    enum { CELLS = sizeof plan / sizeof plan[0] };
    uint64_t state = 20260312;
    double sum = 0, squares = 0;
    for (int season = 0; season < SEASONS; season++) {
        struct entry_cell cells[CELLS];
        double entry[5];
        for (int e = 0; e < 5; e++)
            entry[e] = 2 * noise_normal(&state);
        for (int i = 0; i < CELLS; i++) {
            cells[i] = plan[i];
            cells[i].mean = 10.0 * (double)cells[i].configuration + entry[cells[i].entry] +
                            noise_normal(&state) / sqrt(cells[i].mountings);
        }
        double v = entries(cells, CELLS, (struct variance_estimate){1, 1e9}).variance;
        sum += v / SEASONS;
        squares += v * v / SEASONS;
    }
    double error = sqrt((squares - sum * sum) / SEASONS);
    CHECK(error < 0.1);
    /* Clipping at the refit's variance lifts the mean by a little over nothing. */
    CHECK(sum > 5 - 4 * error && sum < 5 + 4 * error + 0.05);
}

static void ratios_by_table(void)
{
    static const char table[] = "table of F, 1 % and 5 % (from memory)";
    struct variance_ratio test =
        variance_ratio((struct variance_estimate){5.7, 5}, (struct variance_estimate){1, 10}, 0.01);
    CHECK_NEAR(test.upper, 5.636, 5e-4, table);
    CHECK(test.is_unlike);
    test =
        variance_ratio((struct variance_estimate){1, 10}, (struct variance_estimate){5.7, 5}, 0.01);
    CHECK_NEAR(test.lower, 1 / 5.636, 5e-5, table);
    CHECK(test.is_unlike);
    test = variance_ratio((struct variance_estimate){2.9, 10}, (struct variance_estimate){1, 10},
                          0.05);
    CHECK_NEAR(test.upper, 2.978, 5e-4, table);
    CHECK(!test.is_unlike);
    static const struct variance_estimate nothing[] = {
        {(double)NAN, 0}, {0, 5}, {1, 0}, {-1, 5}, {1, (double)NAN}};
    for (size_t i = 0; i < sizeof nothing / sizeof nothing[0]; i++) {
        test = variance_ratio(nothing[i], (struct variance_estimate){1, 10}, 0.01);
        CHECK(isnan(test.ratio) && !test.is_unlike);
        test = variance_ratio((struct variance_estimate){1, 10}, nothing[i], 0.01);
        CHECK(isnan(test.upper) && !test.is_unlike);
    }
    test =
        variance_ratio((struct variance_estimate){1, 10}, (struct variance_estimate){1, 10}, 0.5);
    CHECK(isnan(test.ratio));
}

CU_TestInfo repeat_levels_tests[] = {
    {"visits of unequal length, by hand", visits_of_unequal_length_by_hand},
    {"visits that add nothing", visits_that_add_nothing},
    {"single points are their own visits", single_points_are_their_own_visits},
    {"digits are kept", digits_are_kept},
    {"one configuration in three entries", one_configuration_in_three_entries},
    {"configurations of an entry share its error", configurations_of_an_entry_share_its_error},
    {"unequal mountings, lone configurations", unequal_mountings_and_lone_configurations},
    {"entries that do not hang together", entries_that_do_not_hang_together},
    {"unbalanced entries are not biased", unbalanced_entries_are_not_biased},
    {"ratios by table", ratios_by_table},
    CU_TEST_INFO_NULL};
