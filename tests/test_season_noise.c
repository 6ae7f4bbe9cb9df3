/* test_season_noise.c - deltas of a night that repeats too little, with and without a season behind it, and
 * what the verdicts rest on. All values are invented. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "reduce/pipeline.h"
#include "reduce/statistics/shrinkage.h"
#include "schema/point_statistics.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

extern CU_TestInfo season_noise_tests[];

static void reduce(struct night_fixture *fixture, size_t *reduced)
{
    struct fault fault;
    struct reduce_summary summary;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
    if (reduced != NULL)
        *reduced = summary.groups_reduced;
}

/* Runs named by a letter and a number, a second between letters: 'a' base, 'w' wing, 'f' floor. */
struct planned {
    const char *order;
    const double *values; /* CL beyond 3 */
    double start, step;
};

static void add_entry(struct night_fixture *fixture, const char *entry, struct planned plan)
{
    char run[32];
    char sql[160];
    (void)snprintf(run, sizeof run, "%sz", entry);
    fixture_add_zero(fixture, run, plan.start, 0);
    (void)snprintf(sql, sizeof sql, "UPDATE run SET entry = '%s' WHERE run = '%s'", entry, run);
    fixture_execute(fixture, sql);
    for (size_t i = 0; plan.order[i] != '\0'; i++) {
        const char *name = plan.order[i] == 'a' ? "base" : plan.order[i] == 'w' ? "wing" : "floor";
        (void)snprintf(run, sizeof run, "%s%zu", entry, i);
        fixture_add_wind(fixture, run, name, plan.start + plan.step * (double)(i + 1),
                         3 + plan.values[i]);
        (void)snprintf(sql, sizeof sql, "UPDATE run SET entry = '%s' WHERE run = '%s'", entry, run);
        fixture_execute(fixture, sql);
    }
}

/* Nine returns about eight mountings of two configurations: enough to know the noise by. */
static const double known[] = {0,      0.0404, 0.0011,  0.0194, -0.0008, 0.0403,
                               0.0002, 0.0196, 0.0006,  0.0401, -0.0003, 0.0209,
                               0.0004, 0.0391, -0.0006, 0.0203, 0.0001};
static const struct planned history = {"awafawafawafawafa", known, 0, 1000};

static double of_entry(struct night_fixture *fixture, const char *entry, const char *column)
{
    char sql[240];
    (void)snprintf(sql, sizeof sql,
                   "SELECT %s FROM delta WHERE entry = '%s' AND configuration = 'wing' AND is_main",
                   column, entry);
    return fixture_number(fixture, sql);
}

static const char *text_of(struct night_fixture *fixture, const char *entry, const char *column)
{
    char sql[240];
    (void)snprintf(sql, sizeof sql,
                   "SELECT coalesce(%s, 'none') FROM delta WHERE entry = '%s' AND configuration = "
                   "'wing' AND is_main",
                   column, entry);
    return fixture_text(fixture, sql);
}

/* Variance of one mounting, of the main measure, that the first entry knows. */
static double refitted(struct night_fixture *fixture, const char *column)
{
    char sql[240];
    (void)snprintf(sql, sizeof sql,
                   "SELECT %s FROM repeatability_entry WHERE entry = 'e1' AND quantity = 'CL' AND "
                   "target = (SELECT target FROM delta WHERE is_main LIMIT 1) AND level = 'part "
                   "refitted'",
                   column);
    return fixture_number(fixture, sql);
}

static void one_of_each_has_an_interval_with_history(void)
{
    static const double once[] = {0.001, 0.041};
    struct night_fixture fixture;
    fixture_open(&fixture);
    add_entry(&fixture, "e1", history);
    add_entry(&fixture, "e2", (struct planned){"aw", once, 1e6, 1000});
    reduce(&fixture, NULL);
    CHECK(refitted(&fixture, "degrees_of_freedom") > 0);
    CHECK_NEAR(of_entry(&fixture, "e2", "delta"), 0.040, 1e-12, "by hand");
    CHECK_RELATIVE(of_entry(&fixture, "e2", "standard_uncertainty"),
                   sqrt(2 * refitted(&fixture, "variance")), 1e-9, "by hand: one mounting a side");
    CHECK_RELATIVE(of_entry(&fixture, "e2", "degrees_of_freedom"),
                   refitted(&fixture, "degrees_of_freedom"), 1e-9, "the season's");
    CHECK(isfinite(of_entry(&fixture, "e2", "half_width")));
    CHECK_TEXT(text_of(&fixture, "e2", "noise_source"), "season");
    CHECK_TEXT(text_of(&fixture, "e2", "verdict"), "none"); /* nothing tells the drift */
    CHECK_CONTAINS(text_of(&fixture, "e2", "reason"), "drift not told: no verdict; noise borrowed "
                                                      "from the season: 1 entry, ");
    fixture_close(&fixture);
}

static void a_single_mounting_is_judged_by_the_season(void)
{
    static const double once[] = {0.001, 0.0415, 0.002};
    struct night_fixture fixture;
    fixture_open(&fixture);
    add_entry(&fixture, "e1", history);
    add_entry(&fixture, "e2", (struct planned){"awa", once, 1e6, 1000});
    reduce(&fixture, NULL);
    CHECK_NEAR(of_entry(&fixture, "e2", "delta"), 0.040, 1e-12, "by hand: 0.0415 - 0.0015");
    CHECK_RELATIVE(of_entry(&fixture, "e2", "standard_uncertainty"),
                   sqrt(1.5 * refitted(&fixture, "variance") + 0.001 * 0.001 / 12), 1e-9,
                   "by hand: 1 + 1/4 + 1/4, and half of what the baseline moved may be bent");
    CHECK_TEXT(text_of(&fixture, "e2", "verdict"), "gain");
    CHECK_TEXT(text_of(&fixture, "e2", "method"), "local bracket");
    CHECK_CONTAINS(text_of(&fixture, "e2", "reason"), "noise borrowed from the season: 1 entry, ");
    CHECK_TEXT(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'not-refitted' AND "
                                      "subject = 'wing'"),
               "1 mounting; the season's noise has its refit in it");
    CHECK_TEXT(fixture_text(&fixture, "SELECT subject FROM flag WHERE rule = 'noise-borrowed'"),
               "wing");
    fixture_close(&fixture);
    fixture_open(&fixture);
    add_entry(&fixture, "e2", (struct planned){"awa", once, 1e6, 1000});
    reduce(&fixture, NULL);
    CHECK_NEAR(of_entry(&fixture, "e2", "delta"), 0.040, 1e-12, "by hand");
    CHECK(isnan(of_entry(&fixture, "e2", "half_width")));
    CHECK_TEXT(text_of(&fixture, "e2", "reason"),
               "no repeats, in this entry or in the season: no interval");
    fixture_close(&fixture);
}

/* Five runs on the one mounting, about its middle: the refit is drawn once all the same. */
static void runs_of_a_mounting_do_not_average_its_refit_down(void)
{
    static const double many[] = {0.001, 0.0413, 0.0417, 0.0415, 0.0416, 0.0414, 0.002};
    struct night_fixture fixture;
    fixture_open(&fixture);
    add_entry(&fixture, "e1", history);
    add_entry(&fixture, "e2", (struct planned){"awwwwwa", many, 1e6, 1000});
    reduce(&fixture, NULL);
    CHECK_NEAR(of_entry(&fixture, "e2", "mountings"), 1, 0, "nothing was refitted between them");
    CHECK_RELATIVE(of_entry(&fixture, "e2", "standard_uncertainty"),
                   sqrt(1.5 * refitted(&fixture, "variance") + 0.001 * 0.001 / 12), 1e-9,
                   "as with one run");
    fixture_close(&fixture);
}

static void digest_of(struct night_fixture *fixture, char *out, size_t size)
{
    (void)snprintf(out, size, "%s",
                   fixture_text(fixture,
                                "SELECT group_concat(printf('%.17g %.17g %s %s;', delta, "
                                "half_width, verdict, reason)) FROM (SELECT * FROM delta WHERE "
                                "entry = 'e1' ORDER BY configuration, quantity, target)"));
}

/* Whatever the order of the run sheet, an entry knows what came before it, and only that. */
static void later_entries_change_no_old_night(void)
{
    static const double once[] = {0.001, 0.0415, 0.002};
    static char before[40000], after[40000];
    struct night_fixture fixture;
    size_t reduced = 0;
    fixture_open(&fixture);
    add_entry(&fixture, "e1", history);
    reduce(&fixture, NULL);
    digest_of(&fixture, before, sizeof before);
    add_entry(&fixture, "e2", (struct planned){"awa", once, 1e6, 1000});
    reduce(&fixture, &reduced);
    digest_of(&fixture, after, sizeof after);
    CHECK(strlen(before) > 100);
    CHECK_TEXT(after, before);
    reduce(&fixture, &reduced);
    CHECK(reduced == 0);
    double width = of_entry(&fixture, "e2", "half_width");
    fixture_close(&fixture);
    fixture_open(&fixture);
    add_entry(&fixture, "e2", (struct planned){"awa", once, 1e6, 1000});
    add_entry(&fixture, "e1", history); /* below in the sheet, earlier in time */
    reduce(&fixture, NULL);
    digest_of(&fixture, after, sizeof after);
    CHECK_TEXT(after, before);
    CHECK_NEAR(of_entry(&fixture, "e2", "half_width"), width, 0, "the same season");
    reduce(&fixture, &reduced);
    CHECK(reduced == 0);
    fixture_close(&fixture);
}

static void deltas_are_shrunk_by_those_of_the_season(void)
{
    static const double once[] = {0.001, 0.0415, 0.002};
    struct night_fixture fixture;
    double deltas[3], errors[3], between = 0;
    fixture_open(&fixture);
    add_entry(&fixture, "e1", history);
    add_entry(&fixture, "e2", (struct planned){"awa", once, 1e6, 1000});
    reduce(&fixture, NULL);
    CHECK(isnan(of_entry(&fixture, "e1", "shrunk"))); /* two deltas, none before */
    deltas[0] = of_entry(&fixture, "e1", "delta");
    errors[0] = of_entry(&fixture, "e1", "standard_uncertainty");
    deltas[1] = fixture_number(&fixture, "SELECT delta FROM delta WHERE is_main AND entry = 'e1' "
                                         "AND configuration = 'floor'");
    errors[1] = fixture_number(&fixture, "SELECT standard_uncertainty FROM delta WHERE is_main AND "
                                         "entry = 'e1' AND configuration = 'floor'");
    deltas[2] = of_entry(&fixture, "e2", "delta");
    errors[2] = of_entry(&fixture, "e2", "standard_uncertainty");
    CHECK(shrinkage_between(deltas, errors, 3, &between) == OUTCOME_OK);
    double factor = between / (between + errors[2] * errors[2]);
    CHECK(factor > 0.9 && factor < 1);
    CHECK_RELATIVE(of_entry(&fixture, "e2", "shrunk"), factor * deltas[2], 1e-9,
                   "Efron and Morris 1975");
    CHECK_RELATIVE(of_entry(&fixture, "e2", "shrunk_standard_uncertainty"),
                   sqrt(factor) * errors[2], 1e-9, "Efron and Morris 1975");
    fixture_close(&fixture);
}

/* A clear gain, and one whose interval ends near 0, which some of its returns keep there. */
static void the_matrix_finds_what_a_verdict_rests_on(void)
{
    static const double firm[] = {0,      0.0404, 0.0003,  0.0396, -0.0002, 0.0403,
                                  0.0002, 0.0399, 0.0001,  0.0401, -0.0003, 0.0402,
                                  0.0002, 0.0398, -0.0001, 0.0403, 0.0001};
    static const double near[] = {-0.0025, 0.0084, -0.0013, 0.0087, 0.0019, 0.0090, -0.0030,
                                  0.0076,  0.0022, 0.0097,  0.0016, 0.0097, 0.0007};
    struct night_fixture fixture;
    fixture_open(&fixture);
    add_entry(&fixture, "e1", (struct planned){"awawawawawawawawa", firm, 0, 1000});
    reduce(&fixture, NULL);
    CHECK_TEXT(text_of(&fixture, "e1", "method"), "whole night");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM variant WHERE variant LIKE 'without "
                                        "return e1%'"),
               9, 0, "nine returns");
    CHECK_NEAR(fixture_number(&fixture, "SELECT variants FROM stability"), 9, 0, "no flags");
    CHECK_TEXT(fixture_text(&fixture, "SELECT verdict || ' ' || stability || ' ' || same FROM "
                                      "stability"),
               "gain firm 9");
    fixture_close(&fixture);
    fixture_open(&fixture);
    add_entry(&fixture, "e1", (struct planned){"awawawawawawa", near, 0, 1000});
    reduce(&fixture, NULL);
    CHECK_TEXT(fixture_text(&fixture, "SELECT verdict FROM stability"), "gain");
    CHECK_TEXT(text_of(&fixture, "e1", "method"), "local bracket"); /* 9 to spare of 12 */
    CHECK_TEXT(fixture_text(&fixture,
                            "SELECT stability || ' ' || (same BETWEEN 1 AND variants - 1) "
                            "|| ' of ' || variants FROM stability"),
               "depends on what is left out 1 of 7");
    CHECK_NEAR(fixture_number(&fixture, "SELECT min(abs(delta_headline - (SELECT delta FROM delta "
                                        "WHERE is_main))) + max(abs(delta_headline - (SELECT delta "
                                        "FROM delta WHERE is_main))) FROM variant"),
               0, 0, "the headline stands beside every variant");
    fixture_close(&fixture);
}

/* A point that a rule flagged is left out of one variant; its run then has no value at that target. */
static void flagged_points_are_left_out_in_turn(void)
{
    static const double firm[] = {0,      0.0404, 0.0003, 0.0396,  -0.0002, 0.0403, 0.0002,
                                  0.0399, 0.0001, 0.0401, -0.0003, 0.0402,  0.0002};
    struct night_fixture fixture;
    fixture_open(&fixture);
    add_entry(&fixture, "e1", (struct planned){"awawawawawawa", firm, 0, 1000});
    fixture_set_statistic(&fixture, "e13", 0, offsetof(struct channel_statistics, n_missing), 100);
    reduce(&fixture, NULL);
    CHECK_TEXT(fixture_text(&fixture, "SELECT group_concat(run) FROM point_coefficient WHERE state "
                                      "= 'flagged'"),
               "e13");
    double without = fixture_number(&fixture, "SELECT delta FROM variant WHERE variant = 'without "
                                              "flagged points'");
    CHECK(isfinite(without));
    CHECK(without != of_entry(&fixture, "e1", "delta"));
    fixture_close(&fixture);
}

/* Where each point is flagged nothing is left without them: that says nothing of the verdict. */
static void a_night_of_flagged_points_has_no_such_variant(void)
{
    static const double firm[] = {0,      0.0404, 0.0003, 0.0396, -0.0002,
                                  0.0403, 0.0002, 0.0399, 0.0001};
    struct night_fixture fixture;
    fixture_open(&fixture);
    add_entry(&fixture, "e1", (struct planned){"awawawawa", firm, 0, 1000});
    for (int i = 1; i <= 9; i++) {
        char run[16];
        (void)snprintf(run, sizeof run, "e1%d", i - 1);
        fixture_set_statistic(&fixture, run, 0, offsetof(struct channel_statistics, n_missing),
                              100);
    }
    reduce(&fixture, NULL);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM point_coefficient WHERE state <> "
                                        "'flagged'"),
               0, 0, "all are flagged");
    CHECK_TEXT(text_of(&fixture, "e1", "verdict"), "gain");
    CHECK_NEAR(fixture_number(&fixture, "SELECT variants FROM stability"), 5, 0, "five returns");
    fixture_close(&fixture);
}

CU_TestInfo season_noise_tests[] = {
    {"one of each has an interval with history", one_of_each_has_an_interval_with_history},
    {"a single mounting is judged by the season", a_single_mounting_is_judged_by_the_season},
    {"runs of a mounting do not average its refit down",
     runs_of_a_mounting_do_not_average_its_refit_down},
    {"later entries change no old night", later_entries_change_no_old_night},
    {"deltas are shrunk by those of the season", deltas_are_shrunk_by_those_of_the_season},
    {"the matrix finds what a verdict rests on", the_matrix_finds_what_a_verdict_rests_on},
    {"flagged points are left out in turn", flagged_points_are_left_out_in_turn},
    {"a night of flagged points has no such variant",
     a_night_of_flagged_points_has_no_such_variant},
    CU_TEST_INFO_NULL};
