/* test_decided_night.c - decisions on the demo night, through the program, to the page and the tables. */
#include <CUnit/CUnit.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/program.h"

static void decide(const char *folder, const char *rows)
{
    char out[PROGRAM_OUTPUT];
    CHECK(program_shell(out,
                        "printf '%%s\\n' 'run,point,decision,who,when,why' %s > "
                        "%s/decisions.csv",
                        rows, folder) == 0);
}

static int batch(const char *folder)
{
    char out[PROGRAM_OUTPUT];
    return program_shell(out, "%s -C %s -q batch", program_lapwing(), folder);
}

/* What a query of the season prints. */
static void ask(const char *folder, const char *sql, char out[PROGRAM_OUTPUT])
{
    CHECK(program_shell(out, "sqlite3 %s/season.sqlite \"%s\"", folder, sql) == 0);
}

static double number(const char *folder, const char *sql)
{
    char out[PROGRAM_OUTPUT];
    ask(folder, sql, out);
    return strtod(out, NULL);
}

static void no_file_and_a_file_without_rows_give_the_same_bytes(void)
{
    char out[PROGRAM_OUTPUT], a[64], b[64];
    CHECK(program_demo_night(a, 5) && program_demo_night(b, 5));
    CHECK(program_shell(out, "rm -f %s/decisions.csv", a) == 0);
    decide(b, "");
    CHECK(batch(a) == 0 && batch(b) == 0);
    CHECK(program_shell(out,
                        "diff -r %s/report %s/report && for d in %s %s; do sqlite3 "
                        "$d/season.sqlite .dump | sort > $d/dump; done; cmp %s/dump %s/dump",
                        a, b, a, b, a, b) == 0);
    CHECK_TEXT(out, "");
    program_remove(a);
    program_remove(b);
}

static const char main_delta[] =
    "SELECT delta FROM delta WHERE configuration = 'floor-edge' AND is_main";

/* R04/24 is off target in this night, so something was left out before anybody decided. */
static void an_excluded_point_leaves_all_others_as_they_were(void)
{
    char before[PROGRAM_OUTPUT], after[PROGRAM_OUTPUT], night[64];
    static const char others[] =
        "SELECT run, point, drag_coefficient, downforce_coefficient, balance_percent, state FROM "
        "point_coefficient WHERE run || '/' || point <> 'R05/6' ORDER BY 1, 2";
    CHECK(program_demo_night(night, 5));
    CHECK(batch(night) == 0);
    CHECK(program_shell(before, "sqlite3 %s/season.sqlite \"%s\" | sha256sum", night, others) == 0);
    double delta = number(night, main_delta);
    decide(night, "'R05,6,exclude,J. Moss,2026-02-12,door open'");
    CHECK(batch(night) == 0);
    CHECK(program_shell(after, "sqlite3 %s/season.sqlite \"%s\" | sha256sum", night, others) == 0);
    CHECK_TEXT(after, before);
    ask(night,
        "SELECT state, target_is_used FROM point_coefficient WHERE run = 'R05' AND point = "
        "'6'",
        after);
    CHECK_TEXT(after, "excluded|0\n");
    CHECK_NEAR(number(night, "SELECT delta_with FROM exclusion WHERE configuration = 'floor-edge' "
                             "AND is_main AND basis = 'all in'"),
               number(night, main_delta), 0, "identity: as it stands");
    CHECK_NEAR(number(night, "SELECT delta_without FROM exclusion WHERE configuration = "
                             "'floor-edge' AND is_main AND basis = 'all in'"),
               delta, 1e-12, "identity: the delta before anybody decided; R04 is no floor-edge");
    CHECK(number(night, main_delta) != delta);
    CHECK(program_shell(after, "rm %s/decisions.csv", night) == 0);
    CHECK(batch(night) == 0);
    CHECK_NEAR(number(night, main_delta), delta, 0, "identity: nobody decides any more");
    program_remove(night);
}

/* By hand: the mean over the mountings of floor-edge, each less the baseline between its returns, from
 * the observations of the season, with R05's run out of the mean where its value is missing. */
static void a_delta_is_the_one_by_hand_from_what_is_left(void)
{
    char night[64];
    CHECK(program_demo_night(night, 5));
    decide(night, "'R05,8,exclude,J. Moss,2026-02-12,door open'");
    CHECK(batch(night) == 0);
    CHECK_NEAR(number(night,
                      "SELECT count(*) FROM observation JOIN reduction USING (reduction) WHERE "
                      "is_current = 1 AND quantity = 'CL' AND target = 'weighted' AND runs LIKE "
                      "'%R05%'"),
               0, 0, "without its point the run has no weighted value");
    double by_hand = number(
        night,
        "WITH o AS (SELECT x.* FROM observation AS x JOIN reduction USING (reduction) WHERE "
        "is_current = 1 AND quantity = 'CL' AND target = 'weighted'), b AS (SELECT * FROM o WHERE "
        "configuration = 'base') SELECT avg(w.value - (p.value + (n.value - p.value) * (w.time_s - "
        "p.time_s) / (n.time_s - p.time_s))) FROM o AS w JOIN b AS p ON p.time_s = (SELECT "
        "max(time_s) FROM b WHERE time_s < w.time_s) JOIN b AS n ON n.time_s = (SELECT min(time_s) "
        "FROM b WHERE time_s > w.time_s) WHERE w.configuration = 'floor-edge'");
    CHECK_NEAR(number(night,
                      "SELECT CASE method WHEN 'whole night' THEN beside_delta ELSE delta END "
                      "FROM delta WHERE configuration = 'floor-edge' AND is_main"),
               by_hand, 1e-12, "by hand, in SQL: the local bracket");
    program_remove(night);
}

static void a_restored_point_is_compared_by_decision(void)
{
    char out[PROGRAM_OUTPUT], night[64];
    CHECK(program_demo_night(night, 5));
    decide(night, "'R04,24,restore,J. Moss,2026-02-12T08:30:00+01:00,0.75 mm is little'");
    CHECK(batch(night) == 0);
    ask(night,
        "SELECT target_is_used, target_method FROM point_coefficient WHERE run = 'R04' AND "
        "point = '24'",
        out);
    CHECK_TEXT(out, "1|local fit\n");
    CHECK(number(night, "SELECT count(*) FROM exclusion WHERE basis = 'rules alone' AND points = 1 "
                        "AND decided_by = 'J. Moss'") > 0);
    CHECK_NEAR(number(night, "SELECT count(*) FROM exclusion WHERE basis = 'all in'"), 0, 0,
               "everything is in already");
    program_remove(night);
}

static void an_unknown_run_stops_the_batch_at_its_place(void)
{
    char out[PROGRAM_OUTPUT], night[64];
    CHECK(program_demo_night(night, 5));
    decide(night,
           "'R05,6,exclude,J. Moss,2026-02-12,door' 'r05,7,exclude,J. Moss,2026-02-12,door'");
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), night) == 2);
    CHECK_CONTAINS(out, "decisions.csv:3:1: run 'r05' is not in runs.csv; it differs from 'R05' in "
                        "capitals");
    CHECK(program_shell(out, "test -e %s/season.sqlite", night) == 1);
    program_remove(night);
}

static void the_page_and_the_table_name_who_decided_and_escape_it(void)
{
    char out[PROGRAM_OUTPUT], night[64];
    CHECK(program_demo_night(night, 5));
    decide(night, "'R05,6,exclude,<i>Moss & co</i>,2026-02-12,\"the \"\"door\"\" <b>\"' "
                  "'R12,,exclude,=A1,2026-02-13,belt'");
    CHECK(batch(night) == 0);
    CHECK(program_shell(out, "grep -c '<i>Moss' %s/report/night.html", night) == 1);
    CHECK(program_shell(out,
                        "tr -d '\\n' < %s/report/night.html | grep -o 'id=\"left-out\".*"
                        "id=\"repeat\"'",
                        night) == 0);
    CHECK_CONTAINS(out, "What was left out, and what that changes");
    CHECK_CONTAINS(out, "<b>R05/6</b> (base), by &lt;i&gt;Moss &amp; co&lt;/i&gt; on 2026-02-12: "
                        "the &quot;door&quot; &lt;b&gt;");
    CHECK_CONTAINS(out, "<b>R12</b> (base, whole run), by =A1 on 2026-02-13: belt");
    CHECK_CONTAINS(out, "<td>nothing left out</td>");
    CHECK(program_shell(out, "grep -c 'Moss\\|=A1' %s/report/exclusions.csv", night) == 1);
    CHECK(program_shell(out, "%s -C %s --quiet report --notes", program_lapwing(), night) == 0);
    CHECK(program_shell(out, "grep -c '\"<i>Moss & co</i>, =A1\"' %s/report/exclusions.csv",
                        night) == 0);
    CHECK(program_shell(out, "grep -c ',\"=A1\"' %s/report/exclusions.csv", night) == 1);
    CHECK(program_shell(out, "%s -C %s explain R12/3 CL", program_lapwing(), night) == 0);
    CHECK_CONTAINS(out, "exclude the whole run, by =A1 on 2026-02-13: belt");
    program_remove(night);
}

extern CU_TestInfo decided_night_tests[];
CU_TestInfo decided_night_tests[] = {
    {"no file and a file without rows give the same bytes",
     no_file_and_a_file_without_rows_give_the_same_bytes},
    {"an excluded point leaves all others as they were",
     an_excluded_point_leaves_all_others_as_they_were},
    {"a delta is the one by hand from what is left", a_delta_is_the_one_by_hand_from_what_is_left},
    {"a restored point is compared by decision", a_restored_point_is_compared_by_decision},
    {"an unknown run stops the batch at its place", an_unknown_run_stops_the_batch_at_its_place},
    {"the page and the table name who decided and escape it",
     the_page_and_the_table_name_who_decided_and_escape_it},
    CU_TEST_INFO_NULL};
