/* test_report_large.c - a night as large as they come: 60 runs of 40 points with 250 taps. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "report/html.h"
#include "report/query.h"
#include "tests/check.h"
#include "tests/program.h"
#include "tests/test_report_fixture.h"

static struct store *open_large(void)
{
    struct store *store = NULL;
    struct fault fault = {0};

    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    if (store != NULL)
        CHECK_OK(report_fixture_enlarge(store, &fault), &fault);
    return store;
}

static void make_page(struct store *store, struct html *page)
{
    struct fault fault = {0};

    *page = (struct html){0};
    if (store != NULL)
        CHECK_OK(report_fixture_page(store, page, &fault), &fault);
}

static void check_count(struct store *store, const char *sql, double wanted)
{
    struct fault fault = {0};
    double got = 0;

    CHECK_OK(query_real(store, sql, NULL, &got, &fault), &fault);
    CHECK_NEAR(got, wanted, 0, "identity: what the fixture promises");
}

static void the_night_is_as_large_as_it_says(void)
{
    struct store *store = open_large();

    if (store == NULL)
        return;
    check_count(store, "SELECT count(*) FROM run WHERE state = 'ok'", LARGE_RUNS);
    check_count(store, "SELECT count(DISTINCT run) FROM point", LARGE_RUNS);
    check_count(store, "SELECT min(n) FROM (SELECT count(*) AS n FROM point_result GROUP BY run)",
                LARGE_POINTS);
    check_count(store, "SELECT max(n) FROM (SELECT count(*) AS n FROM point_result GROUP BY run)",
                LARGE_POINTS);
    check_count(store, "SELECT count(*) FROM target", LARGE_POINTS);
    check_count(store, "SELECT count(*) FROM tap", LARGE_TAPS);
    check_count(store, "SELECT count(*) FROM tap_coefficient",
                (double)LARGE_RUNS * LARGE_POINTS * LARGE_TAPS);
    check_count(store, "SELECT count(*) FROM configuration", LARGE_CONFIGURATIONS);
    check_count(store,
                "SELECT min(n) FROM (SELECT count(*) AS n FROM run WHERE state = 'ok' GROUP BY "
                "configuration)",
                2);
    check_count(store, "SELECT count(*) > 0 FROM left_out WHERE state = 'failed' AND who = ''", 1);
    check_count(store, "SELECT count(*) > 0 FROM left_out WHERE state = 'excluded' AND who <> ''",
                1);
    check_count(store, "SELECT count(*) > 1000 FROM flag", 1);
    check_count(store, "SELECT count(*) > 20 FROM flag_trace", 1);
    check_count(store, "SELECT count(*) FROM pragma_foreign_key_check", 0);
    CHECK_OK(store_close(store, NULL), NULL);
}

/* 1 when the page has the run's name, not as the beginning of another. */
static int names_run(const char *text, const char *run)
{
    for (const char *at = strstr(text, run); at != NULL; at = strstr(at + 1, run)) {
        char next = at[strlen(run)];
        if (next < '0' || next > '9')
            return 1;
    }
    return 0;
}

/* Time of the processor, with sanitizers and beside other work; make bench-page holds it to a second. */
static void it_is_small_quick_and_has_every_run(void)
{
    struct store *store = open_large();
    struct html page;
    clock_t start = clock();

    make_page(store, &page);
    double seconds = (double)(clock() - start) / CLOCKS_PER_SEC;
    const char *text = buffer_string(&page.out);
    CHECK(strlen(text) > 200000 && strlen(text) < 2000000);
    CHECK(seconds < 20);
    for (int r = 0; r <= LARGE_RUNS; r++) {
        char run[16];
        (void)snprintf(run, sizeof run, "R%d", 101 + r);
        CHECK(names_run(text, run));
    }
    CHECK(!names_run(text, "R162"));
    CHECK_CONTAINS(text, "of 61 wind-on runs<");
    CHECK_CONTAINS(text, "249 ");
    CHECK_CONTAINS(text, "W2 beats C0 by the most");
    CHECK_CONTAINS(text, "floor-edge-deflector-outboard-slot-gurney-number-8");
    CHECK(strstr(text, "NaN") == NULL);
    html_free(&page);
    CHECK_OK(store_close(store, NULL), NULL);
}

/* ---- no panel grows with the points -------------------------------------------------------------- */

enum { SECTIONS = 32 };

struct sections {
    char name[SECTIONS][24];
    size_t elements[SECTIONS];
    size_t n;
};

static void count_sections(const char *text, struct sections *found)
{
    static const char open[] = "<section id=\"";

    *found = (struct sections){.n = 0};
    for (const char *at = strstr(text, open); at != NULL && found->n < SECTIONS;) {
        const char *next = strstr(at + 1, open);
        size_t i = found->n++;
        (void)sscanf(at + strlen(open), "%23[^\"]", found->name[i]);
        for (const char *tag = at; *tag != '\0' && tag != next; tag++)
            found->elements[i] += tag[0] == '<' && tag[1] != '/';
        at = next;
    }
}

/* Each point of each run once more: its result, its flags, its place at the target, and all its taps. */
static const char again_sql[] =
    "CREATE TEMP TABLE a AS SELECT * FROM point; UPDATE a SET point = point || 'b', sequence = "
    "sequence + 40, time_s = time_s + 15; INSERT INTO point SELECT * FROM a; DROP TABLE a;"
    "CREATE TEMP TABLE a AS SELECT * FROM point_result; UPDATE a SET point = point || 'b';"
    "INSERT INTO point_result SELECT * FROM a; DROP TABLE a;"
    "CREATE TEMP TABLE a AS SELECT * FROM target_result; UPDATE a SET point = point || 'b';"
    "INSERT INTO target_result SELECT * FROM a; DROP TABLE a;"
    "CREATE TEMP TABLE a AS SELECT * FROM flag_row WHERE point <> ''; UPDATE a SET point = point "
    "|| "
    "'b', id = id + 100000; INSERT INTO flag_row SELECT * FROM a; DROP TABLE a;"
    "INSERT INTO tap_result SELECT reduction, point || 'b', tap, cp_raw, cp, cp_u, n, state FROM "
    "tap_result WHERE point NOT LIKE '%b';";

static void no_panel_grows_with_the_points(void)
{
    struct store *store = open_large();
    struct html once, twice;
    struct sections before, after;
    struct fault fault = {0};
    size_t things = LARGE_RUNS + LARGE_POINTS + LARGE_TAPS + LARGE_CONFIGURATIONS;

    if (store == NULL)
        return;
    make_page(store, &once);
    CHECK_OK(store_execute(store, again_sql, &fault), &fault);
    make_page(store, &twice);
    count_sections(buffer_string(&once.out), &before);
    count_sections(buffer_string(&twice.out), &after);
    CHECK(before.n >= 10 && before.n == after.n);
    for (size_t i = 0; i < before.n && i < after.n; i++) {
        CHECK_TEXT(after.name[i], before.name[i]);
        CHECK(before.elements[i] <= 12 * things);
        CHECK(after.elements[i] <= before.elements[i] + LARGE_POINTS);
    }
    html_free(&once);
    html_free(&twice);
    CHECK_OK(store_close(store, NULL), NULL);
}

/* ---- the same bytes ------------------------------------------------------------------------------ */

/* The season in a file, without its taps, whose table would take most of the time. */
static int make_season(const char *folder)
{
    char path[96];
    struct store *store = NULL;
    struct fault fault = {0};

    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    enum status status = report_fixture_open(path, NULL, &store, &fault);
    if (status == OK)
        status = report_fixture_enlarge(store, &fault);
    if (status == OK)
        status = store_execute(store, "DELETE FROM tap_result", &fault);
    CHECK_OK(status, &fault);
    CHECK_OK(store_close(store, &fault), &fault);
    return status == OK;
}

/* By the program, once as it is and once where the machine writes a decimal comma: the locale is made for
 * the test; where it cannot be, this checks a second run. */
static void the_same_bytes_whatever_the_locale(void)
{
    static const char *const before[] = {"LC_ALL=C", "LC_ALL=de_DE.UTF-8 LANG=de_DE.UTF-8"};
    char folder[64], out[PROGRAM_OUTPUT];

    if (!program_scratch(folder))
        return;
    (void)program_shell(out, "localedef --no-archive -i de_DE -f UTF-8 %s/de_DE.UTF-8", folder);
    for (int i = 0; make_season(folder) && i < 2; i++) {
        CHECK(program_shell(out,
                            "LOCPATH=%s %s %s --quiet -C %s report && mv %s/report %s/report%d "
                            "&& rm %s/season.sqlite",
                            folder, before[i], program_lapwing(), folder, folder, folder, i,
                            folder) == 0);
        CHECK_TEXT(out, "");
    }
    CHECK(program_shell(out, "diff -rq %s/report0 %s/report1", folder, folder) == 0);
    CHECK_TEXT(out, "");
    program_remove(folder);
}

/* Made anew, the night is the same night. */
static void the_fixture_is_the_same_each_time(void)
{
    struct html page[2];

    for (int i = 0; i < 2; i++) {
        struct store *store = open_large();
        make_page(store, &page[i]);
        CHECK_OK(store_close(store, NULL), NULL);
    }
    CHECK(strcmp(buffer_string(&page[0].out), buffer_string(&page[1].out)) == 0);
    html_free(&page[0]);
    html_free(&page[1]);
}

CU_TestInfo report_large_tests[] = {
    {"the night is as large as it says", the_night_is_as_large_as_it_says},
    {"it is small, quick, and has every run", it_is_small_quick_and_has_every_run},
    {"no panel grows with the points", no_panel_grows_with_the_points},
    {"the same bytes whatever the locale", the_same_bytes_whatever_the_locale},
    {"the fixture is the same each time", the_fixture_is_the_same_each_time},
    CU_TEST_INFO_NULL};
