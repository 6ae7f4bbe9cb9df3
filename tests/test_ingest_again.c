/* test_ingest_again.c - what is read again, and what is not. */
#include <CUnit/CUnit.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "tests/check.h"
#include "tests/campaign_folder.h"
#include "tests/season_look.h"

static void touch(const char *folder, const char *name, long seconds)
{
    char path[128];
    const struct timespec times[2] = {{.tv_sec = seconds}, {.tv_sec = seconds}};
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    CHECK(utimensat(AT_FDCWD, path, times, 0) == 0);
}

static void what_is_unchanged_is_not_parsed_again(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = memory_season();
    (void)season_ingest(store, folder, 2, season_later);
    char *first = season_dump(store);
    struct night_result result = season_ingest(store, folder, 2, season_later);
    CHECK(result.logs_read == 0 && result.logs_unchanged == 4 && result.bytes == 0);
    char *second = season_dump(store);
    CHECK(strcmp(first, second) == 0);
    touch(folder, "logs/r1.csv", 1000000000); /* other time, same bytes: hashed, not parsed */
    result = season_ingest(store, folder, 2, season_later);
    CHECK(result.logs_read == 0 && result.logs_unchanged == 4);
    check_season(store, "SELECT mtime_ns FROM log WHERE run = 'R1' AND position = 0", 1,
                 "1000000000000000000\n");
    free(first);
    free(second);
    end_season(store);
    scratch_remove(folder);
}

static void a_stamp_as_young_as_its_reading_is_not_trusted(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = memory_season();
    touch(folder, "logs/r2.csv", 1000000000);
    (void)season_ingest(store, folder, 2, 1000000001LL * 1000000000LL);
    check_season(store, "SELECT mtime_ns FROM log WHERE run = 'R2'", 1, "0\n");
    CHECK(scratch_edit(folder, "logs/r2.csv", "1013.25",
                       "1013.26")); /* same size, and the same time again */
    touch(folder, "logs/r2.csv", 1000000000);
    struct night_result result = season_ingest(store, folder, 2, season_later);
    CHECK(result.logs_read == 1 && result.logs_unchanged == 3);
    check_season(store, "SELECT mtime_ns FROM log WHERE run = 'R2'", 1, "1000000000000000000\n");
    end_season(store);
    scratch_remove(folder);
}

static void the_sheet_may_change_without_reading(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = memory_season();
    (void)season_ingest(store, folder, 2, season_later);
    CHECK(scratch_edit(folder, "runs.csv", "20:30:00+01:00,edge", "20:30:00+01:00,base"));
    CHECK(scratch_edit(folder, "runs.csv", "first, of the night", "the first"));
    struct night_result result = season_ingest(store, folder, 2, season_later);
    CHECK(result.logs_read == 0 && result.logs_unchanged == 4);
    check_season(store, "SELECT run, configuration, note FROM run ORDER BY sequence", 3,
                 "Z1||\nR1|base|the first\nR2|base|\n");
    end_season(store);
    scratch_remove(folder);
}

static void what_the_reading_rests_on_makes_it_read_again(void)
{
    static const struct {
        const char *file, *from, *to;
        size_t logs;
    } edits[] = {
        {"campaign.yaml", "yaw:  {role: yaw}", "yaw:  {role: yaw, sign: -1}", 3 + 1},
        {"campaign.yaml", "taps: {unit: Pa,", "taps: {unit: hPa,", 2},
        {"campaign.yaml", "air from left", "air from right", 4},
        {"taps.csv", "T2,tap 2", "T2,spare 2", 0}, /* a column that is not there: quarantined */
        {"taps.csv", "T2,spare 2", "T9,tap 2", 2},
        {"runs.csv", "20:00:00+01:00", "20:01:00+01:00", 2},
    };
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = memory_season();
    (void)season_ingest(store, folder, 2, season_later);
    for (size_t i = 0; i < sizeof edits / sizeof edits[0]; i++) {
        CHECK(scratch_edit(folder, edits[i].file, edits[i].from, edits[i].to));
        struct night_result result = season_ingest(store, folder, 2, season_later);
        CHECK(edits[i].logs == 0
                  ? result.runs_quarantined == 1
                  : result.logs_read == edits[i].logs && result.runs_quarantined == 0);
    }
    end_season(store);
    scratch_remove(folder);
}

static void a_run_out_of_the_sheet_is_out_of_the_season(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = memory_season();
    (void)season_ingest(store, folder, 2, season_later);
    char shorter[1024];
    (void)snprintf(shorter, sizeof shorter, "%s", ingest_folder_runs);
    *strstr(shorter, "R2,") = '\0';
    CHECK(scratch_write(folder, "runs.csv", shorter));
    (void)season_ingest(store, folder, 2, season_later);
    check_season(store, "SELECT run FROM run ORDER BY sequence", 1, "Z1\nR1\n");
    check_season(store, "SELECT count(*) FROM point WHERE run = 'R2'", 1, "0\n");
    end_season(store);
    scratch_remove(folder);
}

CU_TestInfo ingest_again_tests[] = {
    {"what is unchanged is not parsed again", what_is_unchanged_is_not_parsed_again},
    {"a stamp as young as its reading is not trusted",
     a_stamp_as_young_as_its_reading_is_not_trusted},
    {"the sheet may change without reading", the_sheet_may_change_without_reading},
    {"what the reading rests on makes it read again",
     what_the_reading_rests_on_makes_it_read_again},
    {"a run out of the sheet is out of the season", a_run_out_of_the_sheet_is_out_of_the_season},
    CU_TEST_INFO_NULL};
