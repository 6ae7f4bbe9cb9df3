/* test_derive.c - ratio, equal balance and packages through the stages, where the numbers are known. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tests/check.h"
#include "tests/derive_night.h"

extern CU_TestInfo derive_tests[];

/* Deltas wing +0.040 CL at +0.010 CD, floor +0.020 at 0, both +0.053, flap +0.010 CL and 1 point of
 * balance for two holes; scatter of a few 1e-4, the same in every configuration. */
static const struct {
    const char *configuration;
    double drag, downforce, front;
} runs[] = {
    {"base", 0.9000, 3.0000, 1.2000}, {"wing", 0.9101, 3.0403, 1.2462},
    {"base", 0.9002, 3.0004, 1.2002}, {"floor", 0.9001, 3.0199, 1.2080},
    {"base", 0.8999, 2.9997, 1.1999}, {"both", 0.9100, 3.0532, 1.2513},
    {"base", 0.9001, 3.0002, 1.2001}, {"flap", 0.9021, 3.0101, 1.2341},
    {"base", 0.9000, 2.9999, 1.2000}, {"wing", 0.9099, 3.0398, 1.2459},
    {"base", 0.9001, 3.0003, 1.2002}, {"floor", 0.9000, 3.0202, 1.2081},
    {"base", 0.8998, 2.9998, 1.1998}, {"both", 0.9101, 3.0529, 1.2512},
    {"base", 0.9000, 3.0001, 1.2000}, {"flap", 0.9019, 3.0099, 1.2340},
    {"base", 0.9001, 3.0000, 1.2001},
};
enum { RUNS = sizeof runs / sizeof runs[0] };

static void open_night(struct derive_night *night)
{
    derive_night_open(night);
    for (size_t i = 0; i < RUNS; i++)
        derive_night_add(night, runs[i].configuration, runs[i].drag, runs[i].downforce,
                         runs[i].front);
}

static double delta_of(struct derive_night *night, const char *configuration, const char *quantity,
                       const char *column)
{
    char sql[240];
    (void)snprintf(sql, sizeof sql,
                   "SELECT %s FROM delta WHERE configuration = '%s' AND quantity = '%s' AND target "
                   "= 'low'",
                   column, configuration, quantity);
    return fixture_number(&night->fixture, sql);
}

static void the_ratio_is_of_the_comparisons_deltas(void)
{
    struct derive_night night;
    open_night(&night);
    derive_night_reduce(&night);
    double ratio = derive_number(&night, "ratio", "wing", "ratio");
    CHECK_NEAR(ratio,
               delta_of(&night, "wing", "CL", "delta") / delta_of(&night, "wing", "CD", "delta"),
               1e-12, "identity");
    CHECK_NEAR(ratio, 4, 0.1, "0.040 / 0.010 of the night's making");
    CHECK_TEXT(derive_text(&night, "ratio", "wing", "kind"), "interval");
    CHECK(derive_number(&night, "ratio", "wing", "lower") < ratio);
    CHECK(derive_number(&night, "ratio", "wing", "upper") > ratio);
    /* The floor has no drag for certain: no interval is promised. */
    CHECK(strcmp(derive_text(&night, "ratio", "floor", "kind"), "interval") != 0);
    CHECK_CONTAINS(derive_text(&night, "ratio", "floor", "reason"), "the change of CD may be 0");
    double correlation = derive_number(&night, "ratio", "wing", "correlation");
    CHECK(correlation >= -1 && correlation <= 1);
    derive_night_close(&night);
}

/* Scatter of CD that is a tenth of CL's, mounting by mounting: one number says all of the other. */
static void what_goes_together_is_found_to_do_so(void)
{
    struct derive_night night;
    derive_night_open(&night);
    for (size_t i = 0; i < RUNS; i++) {
        double step = i % 2 == 0 ? 0 : 1;
        double scatter = 1e-3 * (double)((i * 7) % 5) - 2e-3;
        derive_night_add(&night, i % 2 == 0 ? "base" : "wing", 0.9 + 0.01 * step - 0.1 * scatter,
                         3 + 0.04 * step + scatter, 1.2);
    }
    derive_night_reduce(&night);
    CHECK_NEAR(derive_number(&night, "ratio", "wing", "correlation"), -1, 1e-6,
               "CD's scatter is -0.1 of CL's");
    derive_night_close(&night);
}

static void a_part_is_trimmed_by_the_measured_device(void)
{
    struct derive_night night;
    open_night(&night);
    derive_night_reduce(&night);
    double exchange =
        delta_of(&night, "flap", "CL", "delta") / delta_of(&night, "flap", "balance", "delta");
    double moved = delta_of(&night, "wing", "balance", "delta");
    CHECK_NEAR(derive_number(&night, "equal_balance", "wing", "delta"),
               delta_of(&night, "wing", "CL", "delta") - exchange * moved, 1e-12, "by hand");
    CHECK_NEAR(derive_number(&night, "equal_balance", "wing", "setting_change"),
               -2 * moved / delta_of(&night, "flap", "balance", "delta"), 1e-12,
               "by hand: two holes move the balance by the flap's delta");
    CHECK_TEXT(derive_text(&night, "equal_balance", "wing", "setting_unit"), "hole");
    CHECK_TEXT(derive_text(&night, "equal_balance", "wing", "reason"), "");
    CHECK(derive_number(&night, "equal_balance", "wing", "half_width") > 0);
    CHECK_NEAR(derive_number(&night, "equal_balance", "flap", "count(*)"), 0, 0,
               "the device is not trimmed by itself");
    CHECK_NEAR(fixture_number(&night.fixture,
                              "SELECT count(*) FROM equal_balance WHERE quantity = 'balance'"),
               0, 0, "balance at equal balance says nothing");
    derive_night_close(&night);
}

static void trimming_is_refused_with_its_limit(void)
{
    struct derive_night night;
    open_night(&night);
    night.flap.most = 4;
    night.flap.least = 1.9;
    derive_night_reduce(&night);
    CHECK(isnan(derive_number(&night, "equal_balance", "wing", "delta")));
    CHECK_CONTAINS(derive_text(&night, "equal_balance", "wing", "reason"), "it goes from 1.9 to 4");
    CHECK(isfinite(derive_number(&night, "equal_balance", "wing", "setting_change")));
    /* A device that does nothing: the floor, whose balance stays where it was. */
    night.flap.configuration = "floor";
    derive_night_reduce(&night);
    CHECK_CONTAINS(derive_text(&night, "equal_balance", "wing", "reason"),
                   "does not move the balance for certain");
    CHECK(isnan(derive_number(&night, "equal_balance", "wing", "delta")));
    /* One that was not run has no rows. */
    night.flap.configuration = "gurney";
    derive_night_reduce(&night);
    CHECK_NEAR(derive_number(&night, "equal_balance", "wing", "count(*)"), 0, 0, "not run");
    derive_night_close(&night);
}

static void a_package_is_held_against_its_parts(void)
{
    struct derive_night night;
    open_night(&night);
    derive_night_reduce(&night);
    double sum = delta_of(&night, "wing", "CL", "delta") + delta_of(&night, "floor", "CL", "delta");
    double package = delta_of(&night, "both", "CL", "delta");
    CHECK_TEXT(derive_text(&night, "package", "both", "parts"), "wing; floor");
    CHECK_NEAR(derive_number(&night, "package", "both", "sum_of_parts"), sum, 1e-12, "identity");
    CHECK_NEAR(derive_number(&night, "package", "both", "package"), package, 1e-12, "identity");
    CHECK_NEAR(derive_number(&night, "package", "both", "interaction"), package - sum, 1e-12,
               "identity");
    CHECK_NEAR(package - sum, -0.007, 2e-3, "0.053 - 0.060 of the night's making");
    /* Three deltas with no baseline in common would have this; the shared baseline adds to it, since
     * package - a - b holds it once more. */
    CHECK(derive_number(&night, "package", "both", "standard_uncertainty") > 0);
    fixture_execute(&night.fixture, "UPDATE configuration_part SET part = 'gurney' WHERE position "
                                    "= 1");
    derive_night_reduce(&night);
    CHECK_CONTAINS(derive_text(&night, "package", "both", "reason"),
                   "gurney was not run in this entry");
    CHECK(isnan(derive_number(&night, "package", "both", "interaction")));
    derive_night_close(&night);
}

static void without_repeats_there_is_a_ratio_and_no_interval(void)
{
    struct derive_night night;
    derive_night_open(&night);
    derive_night_add(&night, "base", 0.9, 3, 1.2);
    derive_night_add(&night, "wing", 0.91, 3.04, 1.22);
    derive_night_add(&night, "base", 0.9, 3, 1.2);
    derive_night_reduce(&night);
    CHECK_NEAR(derive_number(&night, "ratio", "wing", "ratio"), 4, 1e-9, "by hand");
    CHECK_TEXT(derive_text(&night, "ratio", "wing", "kind"), "none");
    CHECK(derive_text(&night, "ratio", "wing", "reason")[0] != '\0');
    CHECK(isnan(derive_number(&night, "ratio", "wing", "lower")));
    derive_night_close(&night);
}

static void nothing_is_made_twice(void)
{
    static const char current[] =
        "SELECT count(*) FROM reduction WHERE stage = 'derive' AND is_current";
    static const char all[] = "SELECT count(*) FROM reduction WHERE stage = 'derive'";
    struct derive_night night;
    open_night(&night);
    derive_night_reduce(&night);
    derive_night_reduce(&night);
    CHECK_NEAR(fixture_number(&night.fixture, all), 1, 0, "as it was");
    night.flap.most = 9;
    derive_night_reduce(&night);
    CHECK_NEAR(fixture_number(&night.fixture, all), 2, 0, "the device goes farther");
    CHECK_NEAR(fixture_number(&night.fixture, current), 1, 0, "one stands");
    derive_night_close(&night);
}

CU_TestInfo derive_tests[] = {
    {"the ratio is of the comparison's deltas", the_ratio_is_of_the_comparisons_deltas},
    {"what goes together is found to do so", what_goes_together_is_found_to_do_so},
    {"a part is trimmed by the measured device", a_part_is_trimmed_by_the_measured_device},
    {"trimming is refused with its limit", trimming_is_refused_with_its_limit},
    {"a package is held against its parts", a_package_is_held_against_its_parts},
    {"without repeats there is a ratio and no interval",
     without_repeats_there_is_a_ratio_and_no_interval},
    {"nothing is made twice", nothing_is_made_twice},
    CU_TEST_INFO_NULL};
