/* test_repeatability.c - a season of entries with known variances, and what it knows before an entry. */
#include <CUnit/CUnit.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/repeatability.h"
#include "tests/check.h"
#include "tests/noise.h"
#include "tests/repeat_season.h"
#include "tests/season_look.h"

extern CU_TestInfo repeatability_tests[];

enum { ENTRIES = 20, RUNS = 9 };
static const double POINT_SD = 0.001, VISIT_SD = 0.002, REFIT_SD = 0.003, ENTRY_SD = 0.006;
static const double DAY = 86400;

/* Low twice, high, low twice, of one mounting; the base comes back four times. Returns of the last entry
 * scatter by `wild`. */
static void add_entry(struct night_fixture *fixture, int entry, double wild, uint64_t *state)
{
    static const char *const order[RUNS] = {"base", "wing", "base",  "floor", "base",
                                            "wing", "base", "floor", "base"};
    double shift = ENTRY_SD * noise_normal(state);
    double start = DAY * entry;
    char sql[200], name[32];
    (void)snprintf(name, sizeof name, "z%d", entry);
    fixture_add_zero(fixture, name, start, 0);
    for (int i = 0; i < RUNS; i++) {
        double gain = order[i][0] == 'w' ? 0.05 : 0;
        double mounted = 3 + gain + shift + wild * REFIT_SD * noise_normal(state);
        (void)snprintf(name, sizeof name, "e%dr%d", entry, i);
        repeat_add_run(fixture, name, order[i], start + 1000 * (i + 1));
        double visit = 0;
        for (int k = 0; k < 5; k++) {
            char label[16];
            if (k != 1 && k != 4) /* these two follow one at the same attitude */
                visit = VISIT_SD * noise_normal(state);
            (void)snprintf(label, sizeof label, "P%d", k);
            repeat_add_point(fixture, name, label, start + 1000 * (i + 1) + 10 * k, k == 2,
                             mounted + visit + POINT_SD * noise_normal(state), 1);
        }
    }
    (void)snprintf(sql, sizeof sql, "UPDATE run SET entry = 'entry %02d' WHERE start_s >= %.0f",
                   entry, start);
    fixture_execute(fixture, sql);
}

static void open_season(struct night_fixture *fixture, int entries, double last_is_wild)
{
    uint64_t state = 2;
    fixture_open(fixture);
    for (int i = 0; i < entries; i++)
        add_entry(fixture, i, i == entries - 1 ? last_is_wild : 1, &state);
    repeat_reduce(fixture);
}

static struct repeatability read_known(struct night_fixture *fixture, double before)
{
    struct repeatability known;
    struct fault fault;
    CHECK_OK(repeatability_read(fixture->store, "tunnel", "CL", "low", before, &known, &fault),
             &fault);
    return known;
}

/* Within the chi-squared bounds of its degrees of freedom, 1 in 10 000 on either side. */
static void check_level(const struct repeatability *known, enum variance_level level, double truth,
                        double least_freedom)
{
    struct variance_estimate got = known->level[level];
    CHECK(got.freedom >= least_freedom);
    double ratio = got.freedom * got.variance / truth;
    CHECK(ratio > gsl_cdf_chisq_Pinv(1e-4, got.freedom));
    CHECK(ratio < gsl_cdf_chisq_Qinv(1e-4, got.freedom));
}

static void a_season_gives_its_four_variances(void)
{
    double point = POINT_SD * POINT_SD, visit = VISIT_SD * VISIT_SD;
    double refitted = REFIT_SD * REFIT_SD + visit / 2 + point / 4; /* two visits of two points */
    struct night_fixture fixture;
    open_season(&fixture, ENTRIES, 1);
    struct repeatability known = read_known(&fixture, (double)INFINITY);
    check_level(&known, VARIANCE_BACK_TO_BACK, point, 359); /* two a run */
    check_level(&known, VARIANCE_RETURNED, point + visit, 150);
    check_level(&known, VARIANCE_REFITTED, refitted, 60);
    check_level(&known, VARIANCE_NEW_ENTRY, refitted + ENTRY_SD * ENTRY_SD, 15);
    CHECK_NEAR(known.level[VARIANCE_BACK_TO_BACK].freedom, 2 * RUNS * ENTRIES, 1e-9, "by design");
    /* The refit's many degrees are part of the single measurement's, the entries' 19 the rest. */
    CHECK(known.level[VARIANCE_NEW_ENTRY].freedom < 2 * ENTRIES);
    CHECK(known.entries == ENTRIES && known.level_entries[VARIANCE_NEW_ENTRY] == ENTRIES);
    for (int i = 0; i < VARIANCE_LEVELS; i++)
        CHECK(known.declared[i] == 0);
    CHECK_RELATIVE(fixture_number(&fixture, "SELECT standard_deviation FROM repeatability_season "
                                            "WHERE quantity = 'CL' AND target = 'low' AND level = "
                                            "'new entry'"),
                   sqrt(known.level[VARIANCE_NEW_ENTRY].variance), 1e-15, "the same");
    CHECK_NEAR(fixture_number(&fixture, "SELECT entries FROM repeatability_season WHERE quantity = "
                                        "'CL' AND target = 'low' AND level = 'part refitted'"),
               ENTRIES, 0, "the same");
    fixture_close(&fixture);
}

static int is_same(const struct repeatability *a, const struct repeatability *b)
{
    int same = a->entries == b->entries;
    for (int i = 0; i < VARIANCE_LEVELS; i++)
        same = same && a->level[i].variance == b->level[i].variance &&
               a->level[i].freedom == b->level[i].freedom &&
               a->level_entries[i] == b->level_entries[i];
    return same;
}

static void later_entries_are_not_known_before(void)
{
    struct night_fixture whole, part;
    open_season(&whole, 4, 1);
    open_season(&part, 3, 1);
    struct repeatability before = read_known(&whole, 3 * DAY);
    struct repeatability all = read_known(&part, (double)INFINITY);
    CHECK(is_same(&before, &all) && all.entries == 3);
    before = read_known(&whole, 0);
    CHECK(before.entries == 0 && before.level[VARIANCE_REFITTED].freedom == 0 &&
          isnan(before.level[VARIANCE_REFITTED].variance));
    before = read_known(&whole, (double)NAN);
    CHECK(before.entries == 0);
    before = read_known(&whole, DAY);
    CHECK(before.entries == 1 && before.level[VARIANCE_NEW_ENTRY].freedom == 0);
    fixture_close(&whole);
    fixture_close(&part);
}

static const char all_rows[] =
    "SELECT entry || quantity || target || level || variance || ' ' || degrees_of_freedom FROM "
    "repeatability UNION ALL SELECT entry || configuration || quantity || target || mean FROM "
    "entry_mean UNION ALL SELECT quantity || target || level || standard_deviation FROM "
    "repeatability_season UNION ALL SELECT stage || subject || key || is_current || reduction FROM "
    "reduction";

static void a_second_time_changes_no_byte(void)
{
    struct night_fixture fixture;
    open_season(&fixture, 3, 1);
    char *first = season_query(fixture.store, all_rows, 1);
    repeat_reduce(&fixture);
    char *second = season_query(fixture.store, all_rows, 1);
    CHECK(strlen(first) > 1000 && strcmp(first, second) == 0);
    free(first);
    free(second);
    fixture_execute(&fixture, "DELETE FROM reduction");
    CHECK_NEAR(fixture_number(&fixture, "SELECT (SELECT count(*) FROM repeatability) + (SELECT "
                                        "count(*) FROM entry_mean)"),
               0, 0, "rows go with their reduction");
    fixture_close(&fixture);
}

/* The order in which the sheet names entries changes nothing, nor does it what the check knows. */
static void the_sheets_order_does_not_matter(void)
{
    struct night_fixture fixture, turned;
    open_season(&fixture, 3, 20);
    open_season(&turned, 3, 20);
    fixture_execute(&turned, "DELETE FROM reduction; UPDATE run SET sequence = 100000 - sequence");
    repeat_reduce(&turned);
    static const char rows[] =
        "SELECT quantity || target || level || standard_deviation || ' ' || degrees_of_freedom "
        "FROM repeatability_season UNION ALL SELECT detail FROM flag WHERE rule = "
        "'noise-unlike-season'";
    char *first = season_query(fixture.store, rows, 1);
    char *second = season_query(turned.store, rows, 1);
    CHECK_CONTAINS(first, "times the season's");
    CHECK_TEXT(second, first);
    free(first);
    free(second);
    fixture_close(&fixture);
    fixture_close(&turned);
}

static void an_excluded_run_says_nothing(void)
{
    struct night_fixture fixture;
    open_season(&fixture, 2, 1);
    double before = read_known(&fixture, (double)INFINITY).level[VARIANCE_BACK_TO_BACK].freedom;
    fixture_decide(&fixture, "e1r4", "", "exclude");
    repeat_reduce(&fixture);
    struct repeatability known = read_known(&fixture, (double)INFINITY);
    CHECK_NEAR(known.level[VARIANCE_BACK_TO_BACK].freedom, before - 2, 1e-9, "two of its points");
    fixture_execute(&fixture, "DELETE FROM decision");
    repeat_reduce(&fixture);
    known = read_known(&fixture, (double)INFINITY);
    CHECK_NEAR(known.level[VARIANCE_BACK_TO_BACK].freedom, before, 1e-9, "back again");
    fixture_execute(&fixture, "UPDATE run SET state = 'quarantined' WHERE entry = 'entry 01'");
    repeat_reduce(&fixture);
    known = read_known(&fixture, (double)INFINITY);
    CHECK(known.entries == 1);
    fixture_close(&fixture);
}

/* One night in a hundred is told of each level though it is like the others; of these draws none is. */
static void a_wild_night_is_told(void)
{
    static const char count[] = "SELECT count(*) FROM flag WHERE rule = 'noise-unlike-season'";
    struct night_fixture fixture;
    open_season(&fixture, 6, 1);
    CHECK_NEAR(fixture_number(&fixture, count), 0, 0, "nights like each other");
    fixture_close(&fixture);
    open_season(&fixture, 7, 8);
    CHECK_NEAR(fixture_number(&fixture, count), 1, 0, "the last, part refitted");
    const char *detail =
        fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'noise-unlike-season'");
    CHECK_CONTAINS(detail, "CL at low, part refitted: tonight's scatter 0.02");
    CHECK_CONTAINS(detail, "(3.1 degrees of freedom)");
    CHECK_CONTAINS(detail, "6 earlier entries");
    CHECK(fixture_number(&fixture, "SELECT value > limit_value AND value > 2 FROM flag WHERE rule "
                                   "= 'noise-unlike-season'") == 1);
    CHECK_TEXT(
        fixture_text(&fixture, "SELECT subject FROM flag WHERE rule = 'noise-unlike-season'"),
        "base");
    fixture_close(&fixture);
    open_season(&fixture, 1, 8);
    CHECK_NEAR(fixture_number(&fixture, count), 0, 0, "nothing to hold it beside");
    fixture_close(&fixture);
}

/* Declared figures: pooled by their degrees of freedom, the attitude's own in place of any. */
static void declared_figures_are_pooled(void)
{
    struct night_fixture fixture;
    open_season(&fixture, 2, 1);
    struct repeatability bare = read_known(&fixture, (double)INFINITY);
    fixture_execute(&fixture, "INSERT INTO repeatability_declared VALUES "
                              "('tunnel','CL','any','part refitted',0.1,10,'old'),"
                              "('tunnel','CL','low','part refitted',0.004,30,'old'),"
                              "('tunnel','CL','any','back to back',0.002,5,'old'),"
                              "('tunnel','CL','any','new entry',0.02,4,'old'),"
                              "('elsewhere','CL','low','attitude returned',1,30,'other')");
    struct repeatability known = read_known(&fixture, (double)INFINITY);
    struct variance_estimate own = bare.level[VARIANCE_REFITTED];
    CHECK_RELATIVE(known.level[VARIANCE_REFITTED].variance,
                   (own.variance * own.freedom + 30 * 0.004 * 0.004) / (own.freedom + 30), 1e-12,
                   "by hand");
    CHECK_RELATIVE(known.level[VARIANCE_REFITTED].freedom, own.freedom + 30, 1e-12, "by hand");
    CHECK(known.declared[VARIANCE_REFITTED] == 1 && known.declared[VARIANCE_BACK_TO_BACK] == 1);
    CHECK(known.declared[VARIANCE_RETURNED] == 0 && known.declared[VARIANCE_NEW_ENTRY] == 1);
    CHECK(known.entries == bare.entries);
    CHECK_RELATIVE(known.level[VARIANCE_RETURNED].variance, bare.level[VARIANCE_RETURNED].variance,
                   0, "another facility's is not this one's");
    known = read_known(&fixture, -1e9);
    CHECK_RELATIVE(known.level[VARIANCE_REFITTED].variance, 0.004 * 0.004, 1e-14, "all there is");
    CHECK_NEAR(known.level[VARIANCE_NEW_ENTRY].freedom, 4, 0, "all there is");
    CHECK(known.entries == 0 && known.declared[VARIANCE_REFITTED] == 1);
    repeat_reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT declared FROM repeatability_season WHERE quantity "
                                        "= 'CL' AND target = 'low' AND level = 'part refitted'"),
               1, 0, "said so");
    fixture_close(&fixture);
}

/* The first night beside a declared figure alone. */
static void a_declared_figure_is_a_season_too(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture_execute(&fixture, "INSERT INTO repeatability_declared VALUES ('tunnel','CL','any',"
                              "'back to back',0.0001,100,'old'),"
                              "('tunnel','CL','low','part refitted',0.05,1000,'old'),"
                              "('tunnel','CL','low','attitude returned',0.05,2.9,'old')");
    uint64_t state = 7;
    add_entry(&fixture, 0, 1, &state);
    repeat_reduce(&fixture);
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = "
                                          "'noise-unlike-season' AND value > limit_value"),
                   "(100.0 degrees, a declared figure)");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = "
                                          "'noise-unlike-season' AND value < limit_value"),
                   "CL at low, part refitted");
    CHECK_NEAR(
        fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = 'noise-unlike-season'"), 2,
        0, "2.9 degrees of freedom are too few");
    fixture_close(&fixture);
}

CU_TestInfo repeatability_tests[] = {
    {"a season gives its four variances", a_season_gives_its_four_variances},
    {"later entries are not known before", later_entries_are_not_known_before},
    {"a second time changes no byte", a_second_time_changes_no_byte},
    {"the sheet's order does not matter", the_sheets_order_does_not_matter},
    {"an excluded run says nothing", an_excluded_run_says_nothing},
    {"a wild night is told", a_wild_night_is_told},
    {"declared figures are pooled", declared_figures_are_pooled},
    {"a declared figure is a season too", a_declared_figure_is_a_season_too},
    CU_TEST_INFO_NULL};
