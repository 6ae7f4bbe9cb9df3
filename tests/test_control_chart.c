/* test_control_chart.c - limits of the control chart against the handbook's example, and what is drawn. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/chart_control.h"
#include "report/control_limits.h"
#include "report/season.h"
#include "tests/check.h"
#include "tests/flow_season.h"

static void limits_are_the_handbook_s(void)
{
    struct control_limits limits = control_limits(flow_values, FLOW_HANDBOOK);

    CHECK(limits.has_limits && limits.outside == 0);
    CHECK_NEAR(limits.centre, 50.81, 1e-9, flow_source);
    CHECK_NEAR(limits.moving_range, 1.8778, 5e-5, flow_source);
    CHECK_NEAR(limits.upper, 55.8041, 5e-5, flow_source);
    CHECK_NEAR(limits.lower, 45.8159, 5e-5, flow_source);
}

static void few_values_have_no_limits(void)
{
    struct control_limits limits = control_limits(flow_values, CONTROL_LEAST - 1);

    CHECK(!limits.has_limits && isnan(limits.upper) && isnan(limits.lower));
    CHECK(isfinite(limits.centre));
    CHECK(control_limits(flow_values, CONTROL_LEAST).has_limits);
    CHECK(isnan(control_limits(flow_values, 0).centre));
}

static void a_value_far_off_is_outside(void)
{
    const double values[] = {1, 1.1, 1, 1.1, 1, 1.1, 1, 1.1, 1, 1.1, 2.5};
    struct control_limits limits = control_limits(values, 11);

    /* mean 1.1818, moving ranges 0.1 nine times and 1.4: mean 0.23; upper 1.7935 */
    CHECK(limits.outside == 1);
    CHECK_NEAR(limits.upper, 13.0 / 11 + 3 * 0.23 / 1.128, 1e-12, "by hand");
}

/* A point an entry at the mean of its mountings; limits only where there are enough. */
static void the_panel_draws_entries_and_limits(void)
{
    for (int n = 7; n <= 10; n += 3) {
        struct store *store = flow_season(n);
        struct season season = {.store = store,
                                .facility = "hall",
                                .baseline = "base",
                                .target = "weighted",
                                .metric = {.name = "downforce", .quantity = "CL", .better = ""}};
        struct html page = {0};
        struct fault fault = {0};
        CHECK_OK(panel_control(&page, &season, &fault), &fault);
        const char *text = buffer_string(&page.out);
        CHECK_CONTAINS(text, "e0, 1 Jan 1970: CL 49.6000, mean of 2 mountings");
        CHECK((strstr(text, "class=\"limit\"") != NULL) == (n >= CONTROL_LEAST));
        if (n < CONTROL_LEAST)
            CHECK_CONTAINS(text, "No limits are drawn: 7 entries, and below 8");
        else
            CHECK_CONTAINS(text, "Outside 45.8159 to 55.8041: 0 of 10 entries.");
        html_free(&page);
        CHECK_OK(store_close(store, &fault), &fault);
    }
}

CU_TestInfo control_chart_tests[] = {
    {"limits are the handbook's", limits_are_the_handbook_s},
    {"few values have no limits", few_values_have_no_limits},
    {"a value far off is outside", a_value_far_off_is_outside},
    {"the panel draws entries and limits", the_panel_draws_entries_and_limits},
    CU_TEST_INFO_NULL};
