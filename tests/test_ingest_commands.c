/* test_ingest_commands.c - the commands ingest and check, and sheets that are wrong. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <sys/stat.h>

#include "ingest/check_command.h"
#include "ingest/ingest_command.h"
#include "tests/check.h"
#include "tests/campaign_folder.h"
#include "tests/season_look.h"

static void wrong_sheets_leave_the_season_untouched(void)
{
    char folder[SCRATCH_PATH];
    char lines[GATHERED] = "";
    char path[SCRATCH_PATH + 16];
    struct season_sheets *sheets = NULL;
    struct fault fault = {.status = OK};
    struct stat about;
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK(scratch_edit(folder, "runs.csv", "R1,saltmarsh", "R1,marsh"));
    CHECK(scratch_edit(folder, "runs.csv", "edge,wind_on,floor", "edges,wind_on,flor"));
    CHECK(scratch_edit(folder, "configurations.csv", "edge,base", "edge,bass"));
    struct campaign *campaign = ingest_folder_campaign(folder);
    const struct night_request request = {.folder = folder,
                                          .campaign = campaign,
                                          .now_ns = season_later,
                                          .report = gather_lines,
                                          .report_context = lines};
    CHECK(ingest_sheets(&request, &sheets, &fault) == BAD_INPUT && sheets == NULL);
    CHECK_CONTAINS(lines, "configurations.csv:3:6: parent 'bass' of 'edge' is no configuration");
    CHECK_CONTAINS(lines, "runs.csv:3:4: facility 'marsh' of run 'R1' is not in campaign.yaml");
    CHECK_CONTAINS(lines, "runs.csv:4:43: configuration 'edges' of run 'R2'");
    CHECK_CONTAINS(lines, "balance 'flor' of run 'R2' is not in campaign.yaml");
    CHECK_CONTAINS(fault.text, "parent 'bass'");
    campaign_free(campaign);
    const struct common_options common = {.folder = folder, .quiet = 1, .now_ns = season_later};
    char *words[] = {"ingest", NULL};
    CHECK(ingest_command.run(&common, 1, words, &fault) == 2);
    CHECK_CONTAINS(fault.text, "nothing was done");
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    CHECK(stat(path, &about) != 0); /* not even an empty season */
    scratch_remove(folder);
}

static void check_reports_everything_and_writes_nothing(void)
{
    char folder[SCRATCH_PATH];
    char lines[GATHERED] = "";
    char path[128];
    struct check_result result;
    struct fault fault = {.status = OK};
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK_OK(check_folder(folder, gather_lines, lines, &result, &fault), &fault);
    CHECK_TEXT(lines, "");
    CHECK(result.logs == 4 && result.sheet_problems == 0 && result.log_problems == 0);
    CHECK(scratch_edit(folder, "logs/r2.csv", "1013.25", "1013,25"));
    CHECK(scratch_edit(folder, "logs/r1t.csv", ";P1;", ";P1;x"));
    CHECK(scratch_edit(folder, "logs/r1t.csv", ";P2;", ";P2;y"));
    CHECK_OK(check_folder(folder, gather_lines, lines, &result, &fault), &fault);
    CHECK(result.sheet_problems == 0 && result.log_problems == 3);
    CHECK_CONTAINS(lines, "logs/r1t.csv:2:9: column 'tap 1': 'x-500.00'");
    CHECK_CONTAINS(lines, "logs/r1t.csv:22:9: column 'tap 1': 'y");
    CHECK_CONTAINS(lines, "logs/r2.csv:3:");
    CHECK_CONTAINS(lines, "13 cells, the header (line 1) has 12");
    CHECK(scratch_edit(folder, "runs.csv", "edge,wind_on", "edges,wind_on"));
    CHECK_OK(check_folder(folder, gather_lines, lines, &result, &fault), &fault);
    CHECK(result.sheet_problems == 1 && result.log_problems == 3);
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    struct stat about;
    CHECK(stat(path, &about) != 0);
    scratch_remove(folder);
}

static void the_commands_give_their_exit_status(void)
{
    char folder[SCRATCH_PATH];
    char *ingest_words[] = {"ingest", NULL};
    char *check_words[] = {"check", NULL};
    char *extra[] = {"ingest", "more", NULL};
    struct fault fault = {.status = OK};
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    const struct common_options common = {.folder = folder, .quiet = 1, .now_ns = season_later};
    CHECK(ingest_command.run(&common, 1, ingest_words, &fault) == 0);
    CHECK(check_command.run(&common, 1, check_words, &fault) == 0);
    CHECK(ingest_command.run(&common, 2, extra, &fault) == 2);
    CHECK_CONTAINS(fault.text, "'more'");
    CHECK(scratch_write(folder, "logs/r2.csv", ""));
    CHECK(ingest_command.run(&common, 1, ingest_words, &fault) == 1);
    struct night_result result;
    CHECK_OK(ingest_folder(&common, &result, &fault), &fault);
    CHECK(result.logs_unchanged == 4 && result.runs_quarantined == 1);
    scratch_remove(folder);
}

CU_TestInfo ingest_commands_tests[] = {
    {"wrong sheets leave the season untouched", wrong_sheets_leave_the_season_untouched},
    {"check reports everything and writes nothing", check_reports_everything_and_writes_nothing},
    {"the commands give their exit status", the_commands_give_their_exit_status},
    CU_TEST_INFO_NULL};
