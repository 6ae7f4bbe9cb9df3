/* test_ingest_refusals.c - what a campaign folder can hold that must neither hang nor pass in silence:
 * pipes, zeros that are none, logs that are cut or tell no time. Every number here is invented. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "ingest/check_command.h"
#include "ingest/ingest_command.h"
#include "schema/store.h"
#include "tests/check.h"
#include "tests/campaign_folder.h"
#include "tests/season_look.h"

static struct check_result check(const char *folder, char lines[GATHERED])
{
    struct check_result result;
    struct fault fault = {.status = OK};
    lines[0] = '\0';
    CHECK_OK(check_folder(folder, gather_lines, lines, &result, &fault), &fault);
    return result;
}

/* Reads the folder into its season; the answer of a query of one column, a line a row. */
static void ingest_and_ask(const char *folder, const char *sql, char answer[GATHERED])
{
    const struct common_options common = {.folder = folder, .quiet = 1};
    char path[SCRATCH_PATH + 16];
    struct night_result result;
    struct store *store = NULL;
    struct statement *statement = NULL;
    struct fault fault = {.status = OK};
    int row = 1;
    size_t used = 0;
    answer[0] = '\0';
    CHECK_OK(ingest_folder(&common, &result, &fault), &fault);
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    CHECK_OK(store_open(path, STORE_READ_ONLY, &store, &fault), &fault);
    CU_ASSERT_FATAL(store != NULL);
    CHECK_OK(statement_prepare(store, sql, &statement, &fault), &fault);
    CU_ASSERT_FATAL(statement != NULL);
    while (statement_step(statement, &row, &fault) == OK && row && used < GATHERED / 2)
        used += (size_t)snprintf(answer + used, GATHERED - used, "%.1000s\n",
                                 statement_text(statement, 0));
    statement_free(statement);
    CHECK_OK(store_close(store, &fault), &fault);
}

static void a_pipe_in_place_of_a_file_does_not_hang(void)
{
    static const struct {
        const char *file, *told;
    } cases[] = {
        {"logs/r2.csv", "runs.csv:4: 'logs/r2.csv' is not a plain file"},
        {"runs.csv", "'runs.csv' is not a plain file"},
        {"taps.csv", "'taps.csv' is not a plain file"},
        {"balance/floor.csv", "'balance/floor.csv' is not a plain file"},
        {"campaign.yaml", "campaign.yaml' is not a plain file"},
    };
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 32];
    char lines[GATHERED];
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        CU_ASSERT_FATAL(ingest_folder_make(folder));
        (void)snprintf(path, sizeof path, "%s/%s", folder, cases[i].file);
        CU_ASSERT_FATAL(remove(path) == 0 && mkfifo(path, 0600) == 0);
        (void)check(folder, lines);
        CHECK_CONTAINS(lines, cases[i].told);
        scratch_remove(folder);
    }
}

/* The named zero is Z1 of run R1, which stands in line 3 of runs.csv. */
static const struct {
    const char *from, *to;
    const char *told; /* "" when nothing is wrong */
} named[] = {
    {"r1t.csv,Z1,", "r1t.csv,Z1/P1,", ""},
    {"r1t.csv,Z1,", "r1t.csv,Z1/P1+Z1/P2,", ""},
    {"r1t.csv,Z1,", "r1t.csv,none,", ""},
    {"r1t.csv,Z1,", "r1t.csv,Z9,", "runs.csv:3:99: zero 'Z9' of run 'R1' is not in runs.csv"},
    {"r1t.csv,Z1,", "r1t.csv,R2,",
     "runs.csv:3:99: zero of run 'R1': 'R2' is named, which is not a zero run of the same "
     "facility, entry and balance; name one"},
    {"r1t.csv,Z1,", "r1t.csv,R1,", "'R1' is named, which is not a zero run"},
    {"Z1,saltmarsh,E1", "Z1,saltmarsh,E2", "'Z1' is named, which is not a zero run of the same"},
    {",zero,floor", ",zero,", "'Z1' is named, which is not a zero run of the same"},
    {"r1t.csv,Z1,", "r1t.csv,Z1+Z1+Z1,",
     "runs.csv:3:99: zero 'Z1+Z1+Z1' of run 'R1' names 3 runs; limit: RUN, RUN/POINT, or two"},
    {"r1t.csv,Z1,", "r1t.csv,Z1+,", "zero '' of run 'R1' is not in runs.csv"},
    {"r1t.csv,Z1,,", "r1t.csv,Z1,Z1,",
     "runs.csv:3:102: tare of run 'R1': 'Z1' is named, which is not a weight_tare run"},
    {"r1t.csv,Z1,,", "r1t.csv,Z1,Z1+Z1,", "tare 'Z1+Z1' of run 'R1' names 2 runs; limit: one run"},
    {"r1t.csv,Z1,,", "r1t.csv,Z1,Z1/P1,", "tare 'Z1/P1' of run 'R1' is not in runs.csv"},
};

static void a_named_zero_or_tare_must_be_one(void)
{
    char folder[SCRATCH_PATH];
    char lines[GATHERED];
    for (size_t i = 0; i < sizeof named / sizeof named[0]; i++) {
        CU_ASSERT_FATAL(ingest_folder_make(folder));
        CHECK(scratch_edit(folder, "runs.csv", named[i].from, named[i].to));
        struct check_result result = check(folder, lines);
        CHECK((result.sheet_problems > 0) == (named[i].told[0] != '\0'));
        if (named[i].told[0] != '\0')
            CHECK_CONTAINS(lines, named[i].told);
        scratch_remove(folder);
    }
}

static void a_cut_log_is_flagged_with_what_became_of_its_row(void)
{
    char folder[SCRATCH_PATH];
    char answer[GATHERED];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    char *text = ingest_folder_forces(4, 80, 1.1);
    CHECK(text != NULL);
    if (text != NULL) {
        text[strlen(text) - 1] = '\0'; /* its line feed */
        CHECK(scratch_write(folder, "logs/r2.csv", text));
    }
    free(text);
    ingest_and_ask(folder,
                   "SELECT state || ' ' || detail FROM flag_row WHERE rule = 'log-unterminated' "
                   "UNION ALL SELECT rows FROM point WHERE run = 'R2' AND point = 'P4'",
                   answer);
    CHECK_TEXT(answer, "flagged logs/r2.csv ends without a line feed; its last row (line 322) was "
                       "left out\n79\n");
    scratch_remove(folder);
}

static void a_wind_on_run_without_time_is_flagged(void)
{
    static const char asked[] =
        "SELECT run || ' ' || state || ' ' || detail FROM flag_row WHERE rule = 'time-missing'";
    static const char told[] =
        "R2 flagged the log tells no time: every point has the run's start\n";
    char folder[SCRATCH_PATH];
    char answer[GATHERED];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    ingest_and_ask(folder, asked, answer);
    CHECK_TEXT(answer, "");
    /* without its time, R1 still has that of its taps; the zero is not asked for one */
    CHECK(scratch_edit(folder, "campaign.yaml", "      Time: {role: time}\n", ""));
    ingest_and_ask(folder, asked, answer);
    CHECK_TEXT(answer, told);
    ingest_and_ask(folder, asked, answer); /* nothing is read, and nothing told twice */
    CHECK_TEXT(answer, told);
    CHECK(scratch_edit(folder, "campaign.yaml", "      Pt:   {role",
                       "      Time: {role: time}\n"
                       "      Pt:   {role"));
    ingest_and_ask(folder, asked, answer);
    CHECK_TEXT(answer, "");
    scratch_remove(folder);
}

CU_TestInfo ingest_refusals_tests[] = {
    {"a pipe in place of a file does not hang", a_pipe_in_place_of_a_file_does_not_hang},
    {"a named zero or tare must be one", a_named_zero_or_tare_must_be_one},
    {"a cut log is flagged with what became of its row",
     a_cut_log_is_flagged_with_what_became_of_its_row},
    {"a wind-on run without time is flagged", a_wind_on_run_without_time_is_flagged},
    CU_TEST_INFO_NULL};
