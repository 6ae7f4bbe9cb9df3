/* test_report_budget.c - how the interval is made up, as the page says it: the drawn numbers are those of the
 * database, and the advice follows from them. Invented numbers. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <string.h>

#include "report/panel.h"
#include "report/scope.h"
#include "schema/store.h"
#include "tests/check.h"

extern CU_TestInfo report_budget_tests[];

static struct store *open_season(double observed)
{
    struct store *store = NULL;
    struct fault fault = {0};
    char sql[2000];
    CHECK_OK(store_open(":memory:", STORE_CREATE, &store, &fault), &fault);
    (void)snprintf(
        sql, sizeof sql,
        "INSERT INTO configuration (configuration, sequence, parent, baseline, change, note) "
        "VALUES "
        "('base',1,NULL,'base','',''),('wing',2,'base','base','',''),('floor',3,'base','base','',''"
        ");"
        "INSERT INTO run (run, sequence, facility, entry, start_text, start_s, configuration, "
        "kind, "
        "balance, zero, tare, mounting, note, state, reason, sheet_line, ingest_key) VALUES "
        "('R1',1,'tunnel','e1','t',0,'base','wind_on','','','','','','ok','',2,'k');"
        "INSERT INTO reduction VALUES (1,'budget','tunnel/e1/base','k','i',1);"
        "INSERT INTO delta_uncertainty (reduction, configuration, baseline, quantity, target, "
        "is_main, standard_configuration, standard_baseline, standard_delta, predicted_scatter, "
        "observed_scatter, observed_degrees_of_freedom) VALUES "
        "(1,'wing','base','CL','low',1,0.041,0.04,0.0019,0.0023,%.17g,5);"
        "INSERT INTO delta_budget VALUES "
        "(1,'wing','CL','low',0,'scatter within the point','point',0.0011,0.0008,0.0014,37.5),"
        "(1,'wing','CL','low',1,'refit','run',0.0011,0.0008,0.0014,37.5),"
        "(1,'wing','CL','low',24,'q <scale>','always',0.0062,0.0061,0.00007,2.5);",
        observed);
    CHECK_OK(store_execute(store, sql, &fault), &fault);
    CHECK_OK(scope_set(store, "tunnel", "e1", &fault), &fault);
    return store;
}

/* count 0: the campaign declares none, and numbers stand in the quantity's own unit. */
static void write_panel(double observed, double count, struct html *page)
{
    struct fault fault = {0};
    struct store *store = open_season(observed);
    const struct findings findings = {.count = count};
    struct night_page night = {store, &findings, NULL};
    CHECK_OK(panel_budget(page, &night, &fault), &fault);
    CHECK_OK(html_status(page, &fault), &fault);
    CHECK_OK(store_close(store, &fault), &fault);
}

static void numbers_are_those_of_the_database(void)
{
    struct html page = {0};
    write_panel(0.0028, 0.001, &page);
    const char *text = buffer_string(&page.out);
    CHECK_CONTAINS(
        text,
        "CL of wing, low: standard uncertainty of the value 41 counts, of its delta 1.9 counts");
    CHECK_CONTAINS(text, "neither may be used for the other");
    CHECK_CONTAINS(text, "<td>1.1</td>");
    CHECK_CONTAINS(text, "<td>1.4</td>");
    CHECK_CONTAINS(text, "37.5 %");
    CHECK_CONTAINS(text, "width=\"75.00\""); /* 37.5 % of 200 */
    CHECK_CONTAINS(text, "q &lt;scale&gt;");
    CHECK_CONTAINS(text, "the largest of that: refit, scatter within the point.");
    CHECK_CONTAINS(text, ">Of the delta, counts</th>");
    CHECK_CONTAINS(text, "<td>6.2</td>");
    CHECK_CONTAINS(text, "A mounting scatters by 2.8 counts, and the sources below account for 2.3 "
                         "counts.");
    html_free(&page);
    page = (struct html){0};
    write_panel(0.0028, 0, &page); /* without a count the quantity's own unit */
    CHECK_CONTAINS(buffer_string(&page.out), "A mounting scatters by 0.0028, and");
    CHECK_CONTAINS(buffer_string(&page.out), ">Of the delta</th>");
    html_free(&page);
}

static void the_advice_follows_from_the_scatter(void)
{
    struct html page = {0};
    write_panel(0.0080, 0.001, &page);
    CHECK_CONTAINS(buffer_string(&page.out), "a better mounting makes it smaller");
    CHECK_CONTAINS(buffer_string(&page.out), "8 % of its variance"); /* (23/80)^2 */
    html_free(&page);
    page = (struct html){0};
    write_panel(0, 0.001, &page);
    CHECK_CONTAINS(buffer_string(&page.out), "Nothing was mounted often enough");
    html_free(&page);
}

static void without_a_budget_there_is_no_panel(void)
{
    struct html page = {0};
    struct fault fault = {0};
    struct store *store = open_season(0.003);
    const struct findings findings = {.count = 0};
    struct night_page night = {store, &findings, NULL};
    CHECK_OK(store_execute(store, "DELETE FROM delta_budget", &fault), &fault);
    CHECK_OK(panel_budget(&page, &night, &fault), &fault);
    CHECK(page.out.length == 0);
    html_free(&page);
    CHECK_OK(store_close(store, &fault), &fault);
}

CU_TestInfo report_budget_tests[] = {
    {"numbers are those of the database", numbers_are_those_of_the_database},
    {"the advice follows from the scatter", the_advice_follows_from_the_scatter},
    {"without a budget there is no panel", without_a_budget_there_is_no_panel},
    CU_TEST_INFO_NULL,
};
