/* test_decision_sheet.c - decisions.csv: strict reading, points that no log has, what the season keeps. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/check_command.h"
#include "ingest/iso_time.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"
#include "tests/season_look.h"

#define HEAD "run,point,decision,who,when,why\n"

static const struct {
    const char *text;
    const char *line; /* a problem; "" when nothing is wrong */
} sheets[] = {
    {HEAD, ""},
    {HEAD "R1,P1,exclude,A,2026-02-12,door\nR1,P2,restore,A,2026-02-12T08:30:00+01:00,fine\n"
          "R1,,exclude,B,2024-02-29,\"said \"\"no\"\", twice\"\n",
     ""},
    {"", "decisions.csv:1: the file is empty"},
    {"run,point,decision,who,why\nR1,P1,exclude,A,door\n",
     "decisions.csv:1: the header has no column 'when'"},
    {HEAD "R9x,P1,exclude,A,2026-02-12,door\n", "decisions.csv:2:1: run 'R9x' is not in runs.csv;"},
    {HEAD "r1,P1,exclude,A,2026-02-12,door\n",
     "decisions.csv:2:1: run 'r1' is not in runs.csv; it differs from 'R1' in capitals"},
    {HEAD ",P1,exclude,A,2026-02-12,door\n", "decisions.csv:2:1: the row names no run"},
    {HEAD "Z1,,exclude,A,2026-02-12,bumped\n",
     "decisions.csv:2:1: run 'Z1' is a zero run; limit: decisions are on wind-on runs; to use "
     "another one, name it in the zero column"},
    {HEAD "R1,P1,drop,A,2026-02-12,door\n", "decisions.csv:2:7: decision 'drop' is unknown"},
    {HEAD "R1,P1,,A,2026-02-12,door\n", "decisions.csv:2:7: decision '' is unknown"},
    {HEAD "R1,P1,exclude,,2026-02-12,door\n", "decisions.csv:2:15: nobody stands for the decision"},
    {HEAD "R1,P1,exclude,\" \",2026-02-12,door\n",
     "decisions.csv:2:15: nobody stands for the decision"},
    {HEAD "R1,P1,exclude,A,,door\n", "decisions.csv:2:17: when '': it does not begin with a date"},
    {HEAD "R1,P1,exclude,A,2026-02-30,door\n",
     "decisions.csv:2:17: when '2026-02-30': there is no such day"},
    {HEAD "R1,P1,exclude,A,2026-02-12T08:30:00,door\n",
     "decisions.csv:2:17: when '2026-02-12T08:30:00': the zone is missing"},
    {HEAD "R1,P1,exclude,A,12.02.2026,door\n",
     "decisions.csv:2:17: when '12.02.2026': it does not"},
    {HEAD "R1,P1,exclude,A,2026-02-12,\n", "decisions.csv:2:28: the decision has no reason"},
    {HEAD "R1,P1,exclude,A,2026-02-12,a\tb\n",
     "decisions.csv:2:28: why 'a\\x09b' holds the control"},
    {HEAD "R1,P1,exclude,A,2026-02-12,x\nR1,P1,restore,B,2026-02-13,y\n",
     "decisions.csv:3:4: point 'P1' of run 'R1' is on line 2 already, where it is to exclude"},
    {HEAD "R1,,exclude,A,2026-02-12,x\nR1,,exclude,A,2026-02-12,x\n",
     "decisions.csv:3:1: the whole of run 'R1' is on line 2 already, where it is to exclude"},
};

/* The problems that `check` finds in the folder with this decisions.csv. */
static void check_with(const char *text, char lines[GATHERED], struct check_result *result)
{
    char folder[SCRATCH_PATH];
    struct fault fault = {.status = OK};
    lines[0] = '\0';
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK(scratch_write(folder, "decisions.csv", text));
    CHECK_OK(check_folder(folder, gather_lines, lines, result, &fault), &fault);
    scratch_remove(folder);
}

static void what_is_wrong_is_told_with_line_and_column(void)
{
    char lines[GATHERED];
    struct check_result result;
    for (size_t i = 0; i < sizeof sheets / sizeof sheets[0]; i++) {
        check_with(sheets[i].text, lines, &result);
        if (sheets[i].line[0] == '\0')
            CHECK_TEXT(lines, "");
        CHECK_CONTAINS(lines, sheets[i].line);
        CHECK((result.sheet_problems > 0) == (sheets[i].line[0] != '\0'));
    }
}

static void what_is_too_long_is_refused_at_its_length(void)
{
    char text[1024];
    char lines[GATHERED];
    struct check_result result;
    for (int over = 0; over < 2; over++) {
        (void)snprintf(text, sizeof text, HEAD "R1,P1,exclude,%0*d,2026-02-12,%0*d\n", 80 + over, 0,
                       400 + over, 0);
        check_with(text, lines, &result);
        CHECK(result.sheet_problems == (size_t)(2 * over));
    }
    CHECK_CONTAINS(lines, "decisions.csv:2:15: who has 81 bytes; limit: 80; shorten it");
    CHECK_CONTAINS(lines, "why has 401 bytes; limit: 400; shorten it");
}

/* A point is known once its run's logs are read: to `check`, not to ingest. */
static void a_point_that_no_log_has_is_told_by_check(void)
{
    char lines[GATHERED];
    struct check_result result;
    check_with(HEAD "R1,p1,exclude,A,2026-02-12,door\nR2,P77,exclude,A,2026-02-12,door\n", lines,
               &result);
    CHECK_CONTAINS(lines, "decisions.csv:2:4: run 'R1' has no point 'p1', but has 'P1'; correct");
    CHECK_CONTAINS(lines, "decisions.csv:3:4: run 'R2' has no point 'P77'; correct");
    CHECK(result.sheet_problems == 2 && result.log_problems == 0);
}

static void the_season_keeps_decisions_with_their_lines(void)
{
    char folder[SCRATCH_PATH];
    struct store *store = memory_season();
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK(scratch_write(folder, "decisions.csv",
                        HEAD "R2,,exclude,J. Moss,2026-02-12,\"slip, belt\"\n"
                             "R1,P2,restore,A,2026-02-12T08:30:00Z,fine\n"));
    (void)season_ingest(store, folder, 1, season_later);
    check_season(store,
                 "SELECT run, point, decision, who, decided, why, sheet_line FROM decision "
                 "ORDER BY sheet_line",
                 7,
                 "R2||exclude|J. Moss|2026-02-12|slip, belt|2\n"
                 "R1|P2|restore|A|2026-02-12T08:30:00Z|fine|3\n");
    CHECK(scratch_write(folder, "decisions.csv", HEAD));
    (void)season_ingest(store, folder, 1, season_later);
    check_season(store, "SELECT count(*) FROM decision", 1, "0\n");
    end_season(store);
    scratch_remove(folder);
}

static void a_quarantined_run_says_that_deciding_changes_nothing(void)
{
    char folder[SCRATCH_PATH];
    struct store *store = memory_season();
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK(scratch_write(folder, "decisions.csv", HEAD "R2,P1,restore,J. Moss,2026-02-12,good\n"));
    CHECK(scratch_edit(folder, "logs/r2.csv", "1013.25", "1013,25"));
    for (int time = 0; time < 2; time++) {
        (void)season_ingest(store, folder, 1, season_later);
        check_season(store,
                     "SELECT run, subject, state, detail FROM flag WHERE rule = "
                     "'decision-without-effect'",
                     4,
                     "R2|P1|flagged|to restore it, as J. Moss decided on 2026-02-12, changes "
                     "nothing: the run is quarantined\n");
    }
    CHECK(scratch_write(folder, "decisions.csv", HEAD));
    (void)season_ingest(store, folder, 1, season_later);
    check_season(store, "SELECT count(*) FROM flag WHERE rule = 'decision-without-effect'", 1,
                 "0\n");
    end_season(store);
    scratch_remove(folder);
}

static void a_day_or_a_time_is_a_when(void)
{
    CHECK(iso_day_or_time_check("2026-02-28") == NULL);
    CHECK(iso_day_or_time_check("2026-02-28T23:59:59.5-05:00") == NULL);
    CHECK_TEXT(iso_day_or_time_check("2025-02-29"), "there is no such day");
    CHECK(iso_day_or_time_check("2026-02-28 ") != NULL);
    CHECK(iso_day_or_time_check("yesterday") != NULL && iso_day_or_time_check("") != NULL);
}

extern CU_TestInfo decision_sheet_tests[];
CU_TestInfo decision_sheet_tests[] = {
    {"what is wrong is told with line and column", what_is_wrong_is_told_with_line_and_column},
    {"what is too long is refused at its length", what_is_too_long_is_refused_at_its_length},
    {"a point that no log has is told by check", a_point_that_no_log_has_is_told_by_check},
    {"the season keeps decisions with their lines", the_season_keeps_decisions_with_their_lines},
    {"a quarantined run says that deciding changes nothing",
     a_quarantined_run_says_that_deciding_changes_nothing},
    {"a day or a time is a when", a_day_or_a_time_is_a_when},
    CU_TEST_INFO_NULL};
