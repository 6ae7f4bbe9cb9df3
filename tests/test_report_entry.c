/* test_report_entry.c - a season of several entries: the page is about the latest, tables hold all;
 * and an entry of two families: the headline is about one, the table shows both. */
#include <CUnit/CUnit.h>
#include <stdlib.h>
#include <string.h>

#include "report/csv_out.h"
#include "report/html.h"
#include "tests/check.h"
#include "tests/test_report_fixture.h"

static const double month = 31 * 86400;

/* The page of the fixture with the entries given, after sql; the caller frees the text, which
 * may be NULL. */
static char *page_of(const struct report_fixture_entry *entries, size_t n, const char *sql,
                     int split_family)
{
    struct store *store = NULL;
    struct html page = {0};
    struct fault fault = {0};

    enum status status = report_fixture_open(":memory:", NULL, &store, &fault);
    for (size_t i = 0; status == OK && i < n; i++)
        status = report_fixture_add_entry(store, &entries[i], &fault);
    if (status == OK && split_family)
        status = report_fixture_split_family(store, &fault);
    if (status == OK && sql != NULL)
        status = store_execute(store, sql, &fault);
    if (status == OK)
        status = report_fixture_page(store, &page, &fault);
    CHECK_OK(status, &fault);
    const char *text = buffer_string(&page.out);
    size_t size = strlen(text) + 1;
    char *copy = malloc(size);
    CHECK(copy != NULL);
    if (copy != NULL)
        memcpy(copy, text, size);
    html_free(&page);
    CHECK_OK(store_close(store, &fault), &fault);
    return copy;
}

/* Takes the line about the scope out of the page; 0 when it is not there. */
static int take_out_scope(char *text)
{
    static const char begin[] = "<p class=\"note\">This page is about";
    static const char stop[] = "</p>";
    char *from = strstr(text, begin);
    char *to = from != NULL ? strstr(from, stop) : NULL;

    if (to == NULL)
        return 0;
    to += strlen(stop);
    while (*to == '\n')
        to++;
    while (from > text && from[-1] == '\n')
        from--;
    memmove(from, to, strlen(to) + 1);
    return 1;
}

static void squeeze_lines(char *text)
{
    char *to = text;

    for (const char *at = text; *at != '\0'; at++)
        if (*at != '\n')
            *to++ = *at;
    *to = '\0';
}

static void an_earlier_entry_changes_one_line_only(void)
{
    const struct report_fixture_entry january = {"January", "J", 1000, -month, 2};
    char *alone = page_of(NULL, 0, NULL, 0);
    char *beside = page_of(&january, 1, NULL, 0);

    if (alone != NULL && beside != NULL) {
        CHECK_CONTAINS(beside, "This page is about entry February at saltmarsh; the season also "
                               "holds: January at saltmarsh.");
        CHECK(strstr(alone, "This page is about") == NULL);
        CHECK(take_out_scope(beside));
        squeeze_lines(alone);
        squeeze_lines(beside);
        CHECK(strcmp(alone, beside) == 0);
    }
    free(alone);
    free(beside);
}

static void a_later_entry_takes_the_page(void)
{
    const struct report_fixture_entry march = {"March", "M", 1000, month, 0.5};
    char *text = page_of(&march, 1, NULL, 0);

    if (text != NULL) {
        CHECK_CONTAINS(text, "saltmarsh, entry March");
        CHECK_CONTAINS(text, "<h1>W2 beats C0 by the most: +11.9");
        CHECK(strstr(text, "+23.8") == NULL);
        CHECK_CONTAINS(text, "Seen in March");
        CHECK_CONTAINS(text, "of 21 wind-on runs");
        CHECK_CONTAINS(text, "run MR101, C0");
        CHECK(strstr(text, "run R101") == NULL && strstr(text, "<th>R101<") == NULL);
        CHECK(strstr(text, "6.2 counts of downforce; limit") == NULL);
        CHECK_CONTAINS(text, "the season also holds: February at saltmarsh.");
    }
    free(text);
}

static void equal_times_go_by_name(void)
{
    const struct report_fixture_entry april = {"April", "A", 1000, 0, 0.5};
    char *text = page_of(&april, 1, NULL, 0);

    if (text != NULL)
        CHECK_CONTAINS(text, "saltmarsh, entry April");
    free(text);
}

static void the_page_does_not_grow_with_the_season(void)
{
    static const char *const names[] = {"E1", "E2", "E3", "E4", "E5", "E6", "E7", "E8"};
    struct report_fixture_entry entries[8];

    for (int i = 0; i < 8; i++)
        entries[i] =
            (struct report_fixture_entry){names[i], names[i], 1000 * (i + 1), -month * (i + 1), 2};
    char *alone = page_of(NULL, 0, NULL, 0);
    char *beside = page_of(entries, 8, NULL, 0);
    if (alone != NULL && beside != NULL) {
        CHECK_CONTAINS(beside, "E1 at saltmarsh, E2 at saltmarsh");
        CHECK_CONTAINS(beside, "E6 at saltmarsh and 2 more.");
        CHECK(strlen(beside) < strlen(alone) + 400);
    }
    free(alone);
    free(beside);
}

/* Those of reading a log belong to no reduction, and those of the campaign to no run. */
static void flags_without_a_reduction_follow_their_run(void)
{
    const struct report_fixture_entry january = {"January", "J", 1000, -month, 2};
    char *text =
        page_of(&january, 1,
                "INSERT INTO flag_row (run, point, subject, rule, state, unit, detail) VALUES "
                "('JR101', '', '', 'run-quarantined', 'refused', '', 'January log.'),"
                "('R102', '', '', 'samples-missing', 'flagged', '', 'February log.'),"
                "('', '', '', 'attitude-not-measured', 'info', '', 'The campaign.')",
                0);

    if (text != NULL) {
        CHECK_CONTAINS(text, "February log.");
        CHECK_CONTAINS(text, "The campaign.");
        CHECK(strstr(text, "JR101") == NULL);
    }
    free(text);
}

static void settings_of_another_facility_stay_out(void)
{
    char *text = page_of(NULL, 0,
                         "INSERT INTO setting VALUES ('facility shed', 'blockage', 'none', ''),"
                         "('facility saltmarsh', 'temperature', '294', 'K')",
                         0);

    if (text != NULL) {
        CHECK_CONTAINS(text, "<dt>facility saltmarsh</dt>");
        CHECK(strstr(text, "facility shed") == NULL);
    }
    free(text);
}

static void tables_hold_every_entry(void)
{
    static const struct {
        const struct csv_table *table;
        const char *january, *february;
    } wanted[] = {
        {&csv_deltas,
         "\n\"W1\",\"C0\",\"saltmarsh\",\"January\",\"CL\",\"1\",\"weighted\",1,0.0242,",
         "\n\"W1\",\"C0\",\"saltmarsh\",\"February\",\"CL\",\"1\",\"weighted\",1,0.0121,"},
        {&csv_points, "\n\"JR101\",\"1\",\"C0\",\"saltmarsh\",\"January\",",
         "\n\"R101\",\"1\",\"C0\",\"saltmarsh\",\"February\","},
        {&csv_taps, "\n\"JR101\",\"8\",\"C0\",\"saltmarsh\",\"January\",\"T001\",",
         "\n\"R101\",\"8\",\"C0\",\"saltmarsh\",\"February\",\"T001\","},
        {&csv_loads, "\n\"JR101\",\"1\",\"C0\",\"saltmarsh\",\"January\",",
         "\n\"R101\",\"1\",\"C0\",\"saltmarsh\",\"February\","}};
    const struct report_fixture_entry january = {"January", "J", 1000, -month, 2};
    struct store *store = NULL;
    struct fault fault = {0};

    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    if (store != NULL)
        CHECK_OK(report_fixture_add_entry(store, &january, &fault), &fault);
    for (size_t i = 0; store != NULL && i < sizeof wanted / sizeof wanted[0]; i++) {
        struct buffer out = {0};
        CHECK_OK(csv_write(store, wanted[i].table, &out, &fault), &fault);
        const char *text = buffer_string(&out);
        CHECK_CONTAINS(text, ",facility,entry,");
        CHECK_CONTAINS(text, wanted[i].january);
        CHECK_CONTAINS(text, wanted[i].february);
        /* In the order of the run sheet. */
        CHECK(strstr(text, wanted[i].january) < strstr(text, wanted[i].february));
        buffer_free(&out);
    }
    CHECK_OK(store_close(store, &fault), &fault);
}

static void every_family_is_in_the_table_and_one_in_the_headline(void)
{
    char *text = page_of(NULL, 0, NULL, 1);

    if (text != NULL) {
        const char *first = strstr(text, "compared with C0<");
        const char *second = strstr(text, "compared with W3<");
        const char *row = strstr(text, "scope=\"row\">W5 ");
        CHECK(first != NULL && second != NULL && row != NULL);
        CHECK(first < second && second < row);
        CHECK_CONTAINS(text, "<h1>W2 beats C0 by the most: +23.8");
        CHECK_CONTAINS(text, "Also compared: 2 configurations with W3.");
        CHECK_CONTAINS(text, "Real: W2 and W1 (gain). Zero"); /* not W5, whose baseline is W3 */
        CHECK_CONTAINS(text, "hold for all 2 comparisons together");
        CHECK_CONTAINS(text, "intervals hold for all comparisons with one baseline together");
    }
    free(text);
}

static void one_family_has_no_heading(void)
{
    char *text = page_of(NULL, 0, NULL, 0);

    if (text != NULL) {
        CHECK(strstr(text, "compared with C0<") == NULL);
        CHECK(strstr(text, "Also compared") == NULL);
    }
    free(text);
}

static void the_family_with_most_usable_runs_leads(void)
{
    char *text = page_of(
        NULL, 0, "UPDATE run SET state = 'quarantined' WHERE configuration IN ('C0', 'W1')", 1);

    if (text != NULL) {
        CHECK_CONTAINS(text, "<h1>No configuration is shown to beat W3; W5 loses: ");
        CHECK_CONTAINS(text, "Also compared: 2 configurations with C0 (2 gains).");
        CHECK(strstr(text, "class=\"winner\"") == NULL);
    }
    free(text);
}

/* Runs of a configuration that is compared with nothing do not lead, however many they are. */
static void a_family_without_a_comparison_does_not_lead(void)
{
    char *text = page_of(NULL, 0,
                         "DELETE FROM delta_result WHERE baseline = 'C0';"
                         "DELETE FROM flag_row",
                         1);

    if (text != NULL) {
        CHECK_CONTAINS(text, "<h1>No configuration is shown to beat W3");
        CHECK(strstr(text, "Also compared") == NULL);
    }
    free(text);
}

CU_TestInfo report_entry_tests[] = {
    {"an earlier entry changes one line only", an_earlier_entry_changes_one_line_only},
    {"a later entry takes the page", a_later_entry_takes_the_page},
    {"equal times go by name", equal_times_go_by_name},
    {"the page does not grow with the season", the_page_does_not_grow_with_the_season},
    {"flags without a reduction follow their run", flags_without_a_reduction_follow_their_run},
    {"settings of another facility stay out", settings_of_another_facility_stay_out},
    {"tables hold every entry", tables_hold_every_entry},
    {"every family is in the table and one in the headline",
     every_family_is_in_the_table_and_one_in_the_headline},
    {"one family has no heading", one_family_has_no_heading},
    {"the family with most usable runs leads", the_family_with_most_usable_runs_leads},
    {"a family without a comparison does not lead", a_family_without_a_comparison_does_not_lead},
    CU_TEST_INFO_NULL};
