/* test_report_many.c - nights with many configurations. */
#include <CUnit/CUnit.h>
#include <stdlib.h>
#include <string.h>

#include "report/html.h"
#include "tests/check.h"
#include "tests/test_report_fixture.h"

struct made {
    struct store *store;
    struct html page;
    struct fault fault;
};

static const char *make(struct made *made, int more, const char *sql)
{
    *made = (struct made){0};
    enum status status = report_fixture_open(":memory:", NULL, &made->store, &made->fault);
    if (status == OK)
        status = report_fixture_add_configurations(made->store, more, &made->fault);
    if (status == OK && sql != NULL)
        status = store_execute(made->store, sql, &made->fault);
    if (status == OK)
        status = report_fixture_page(made->store, &made->page, &made->fault);
    CHECK_OK(status, &made->fault);
    return buffer_string(&made->page.out);
}

static void end(struct made *made)
{
    html_free(&made->page);
    CHECK_OK(store_close(made->store, &made->fault), &made->fault);
}

static size_t count(const char *from, const char *stop, const char *what)
{
    size_t n = 0;

    for (const char *at = strstr(from, what); at != NULL && at < stop; at = strstr(at + 1, what))
        n++;
    return n;
}

static const char row[] = "<th class=\"name\" scope=\"row\">";

/* 5 + 7 configurations and their baseline: a dozen is shown whole. */
static void a_dozen_is_shown_whole(void)
{
    struct made made;
    const char *text = make(&made, 7, NULL);
    const char *table = strstr(text, "<table class=\"deltas");

    CHECK(table != NULL && strstr(text, "<details class=\"rest\"") == NULL);
    if (table != NULL)
        CHECK(count(table, strstr(table, "</table>"), row) == 13);
    end(&made);
}

/* One more: the best eight, W2 with 23.8 counts first, V05 with 80 % of 12.1 the seventh, then the
 * eighth, and the baseline; the other five are folded. */
static void of_more_the_best_eight_stay(void)
{
    struct made made;
    const char *text = make(&made, 8, NULL);
    const char *table = strstr(text, "<table class=\"deltas");
    const char *rest = strstr(text, "<details class=\"rest\"");

    CHECK(table != NULL && rest != NULL);
    if (table != NULL && rest != NULL) {
        const char *stop = strstr(table, "</table>"), *end_of_rest = strstr(rest, "</table>");
        CHECK(count(table, stop, row) == 9);
        CHECK(count(table, stop, "<tr class=\"reference\"") == 1);
        CHECK(count(table, stop, "<tr class=\"winner\"") == 1);
        CHECK(count(table, stop, ">V06 ") == 1 && count(table, stop, ">V07 ") == 0);
        CHECK(count(table, stop, ">W3 ") == 0 && count(table, stop, ">W5 ") == 0);
        CHECK(count(rest, end_of_rest, row) == 5);
        CHECK_CONTAINS(text, "Of 13 the best 8 are drawn, the table has all.");
        CHECK_CONTAINS(rest, "<summary>5 more configurations</summary>");
    }
    end(&made);
}

/* The baseline stays even where everything beats it, and where it is better than the eighth. */
static void the_baseline_always_stays(void)
{
    static const char *const changes[] = {
        "UPDATE delta_result SET delta = delta + 1, lower = lower + 1, upper = upper + 1",
        "UPDATE delta_result SET delta = delta - 1, lower = lower - 1, upper = upper - 1"};

    for (int i = 0; i < 2; i++) {
        struct made made;
        const char *text = make(&made, 8, changes[i]);
        const char *table = strstr(text, "<table class=\"deltas");
        CHECK(table != NULL);
        if (table != NULL) {
            const char *stop = strstr(table, "</table>");
            CHECK(count(table, stop, "<tr class=\"reference\"") == 1);
            CHECK(count(table, stop, row) == 9);
        }
        end(&made);
    }
}

CU_TestInfo report_many_tests[] = {{"a dozen is shown whole", a_dozen_is_shown_whole},
                                   {"of more the best eight stay", of_more_the_best_eight_stay},
                                   {"the baseline always stays", the_baseline_always_stays},
                                   CU_TEST_INFO_NULL};
