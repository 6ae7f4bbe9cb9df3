/* test_control_chart.c - limits of the control chart against the handbook's example, and what is drawn. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/chart_control.h"
#include "report/control_limits.h"
#include "report/season.h"
#include "tests/check.h"

/* NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: ten flow rates; mean 50.81, mean moving range
 * 1.8778, limits 55.8041 and 45.8159. */
static const double flow[] = {49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1};
static const char source[] = "NIST/SEMATECH e-Handbook, 6.3.2.2";

static void limits_are_the_handbook_s(void)
{
    struct control_limits limits = control_limits(flow, 10);

    CHECK(limits.has_limits && limits.outside == 0);
    CHECK_NEAR(limits.centre, 50.81, 1e-9, source);
    CHECK_NEAR(limits.moving_range, 1.8778, 5e-5, source);
    CHECK_NEAR(limits.upper, 55.8041, 5e-5, source);
    CHECK_NEAR(limits.lower, 45.8159, 5e-5, source);
}

static void few_values_have_no_limits(void)
{
    struct control_limits limits = control_limits(flow, CONTROL_LEAST - 1);

    CHECK(!limits.has_limits && isnan(limits.upper) && isnan(limits.lower));
    CHECK(isfinite(limits.centre));
    CHECK(control_limits(flow, CONTROL_LEAST).has_limits);
    CHECK(isnan(control_limits(flow, 0).centre));
}

static void a_value_far_off_is_outside(void)
{
    const double values[] = {1, 1.1, 1, 1.1, 1, 1.1, 1, 1.1, 1, 1.1, 2.5};
    struct control_limits limits = control_limits(values, 11);

    /* mean 1.1818, moving ranges 0.1 nine times and 1.4: mean 0.23; upper 1.7935 */
    CHECK(limits.outside == 1);
    CHECK_NEAR(limits.upper, 13.0 / 11 + 3 * 0.23 / 1.128, 1e-12, "by hand");
}

static struct store *open_entries(int n)
{
    struct store *store = NULL;
    struct fault fault = {0};
    char sql[600];

    CHECK_OK(store_open(":memory:", STORE_CREATE, &store, &fault), &fault);
    for (int i = 0; i < n; i++) {
        (void)snprintf(
            sql, sizeof sql,
            "INSERT INTO run VALUES ('R%d', %d, 'hall', 'e%d', '2026-02-11T20:05:00Z', %d, 'base', "
            "'wind_on', '', '', '', '', '', 'ok', '', 2, 'k');"
            "INSERT INTO reduction VALUES (%d, 'compare', 'hall/e%d/base', 'k', 'i', 1);"
            "INSERT INTO observation VALUES (%d, 'base', 1, 'CL', 'weighted', 'R%d', %d, %.6g, "
            "NULL, "
            "NULL), (%d, 'base', 2, 'CL', 'weighted', 'R%d', %d, %.6g, NULL, NULL);",
            i, i, i, 1000 * i, i + 1, i, i + 1, i, 1000 * i, flow[i] - 0.5, i + 1, i, 1000 * i + 1,
            flow[i] + 0.5);
        CHECK_OK(store_execute(store, sql, &fault), &fault);
    }
    return store;
}

/* A point an entry at the mean of its mountings; limits only where there are enough. */
static void the_panel_draws_entries_and_limits(void)
{
    for (int n = 7; n <= 10; n += 3) {
        struct store *store = open_entries(n);
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
