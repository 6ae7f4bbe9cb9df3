/* test_ingest_quarantine.c - logs that are bad, missing, or the same twice. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>

#include "tests/check.h"
#include "tests/campaign_folder.h"
#include "tests/season_look.h"

static void a_bad_log_costs_its_run_only(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = memory_season();
    (void)season_ingest(store, folder, 2, season_later);
    char *before = season_query(store,
                                "SELECT run, point, hex(statistics) FROM point WHERE run <> 'R2' "
                                "ORDER BY 1, 2",
                                3);
    CHECK(scratch_edit(folder, "logs/r2.csv", "1013.25,15.0,1",
                       "1o13.25,15.0,1")); /* line 83, first of P2 */
    struct night_result result = season_ingest(store, folder, 2, season_later);
    CHECK(result.logs_read == 1 && result.logs_unchanged == 3);
    CHECK(result.runs_usable == 2 && result.runs_quarantined == 1);
    char *reason =
        season_query(store, "SELECT reason FROM run WHERE run = 'R2' AND state = 'quarantined'", 1);
    CHECK_CONTAINS(reason, "logs/r2.csv:83:");
    CHECK_CONTAINS(reason, "column 'pst': '1o13.25' is not a number");
    check_season(store, "SELECT count(*) FROM point WHERE run = 'R2'", 1, "0\n");
    check_season(store, "SELECT count(*) FROM channel WHERE run = 'R2'", 1, "0\n");
    check_season(store, "SELECT run, state FROM flag_row WHERE rule = 'run-quarantined'", 2,
                 "R2|refused\n");
    check_season(store, "SELECT run, point, hex(statistics) FROM point ORDER BY 1, 2", 3, before);
    /* the same bad file again: told again, not parsed again */
    result = season_ingest(store, folder, 2, season_later);
    CHECK(result.logs_read == 0 && result.runs_quarantined == 1 && result.rows == 0);
    /* repaired: the run is back, its flag gone */
    CHECK(scratch_edit(folder, "logs/r2.csv", "1o13.25", "1013.25"));
    result = season_ingest(store, folder, 2, season_later);
    CHECK(result.logs_read == 1 && result.runs_usable == 3);
    check_season(store, "SELECT count(*) FROM point WHERE run = 'R2'", 1, "4\n");
    check_season(store, "SELECT count(*) FROM flag_row WHERE run = 'R2'", 1, "0\n");
    free(before);
    free(reason);
    end_season(store);
    scratch_remove(folder);
}

static void a_missing_log_is_named(void)
{
    char folder[SCRATCH_PATH];
    char path[128];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = memory_season();
    (void)snprintf(path, sizeof path, "%s/logs/r1t.csv", folder);
    CHECK(remove(path) == 0);
    struct night_result result = season_ingest(store, folder, 2, season_later);
    CHECK(result.runs_usable == 2 && result.runs_quarantined == 1);
    check_season(store, "SELECT reason FROM run WHERE run = 'R1'", 1,
                 "runs.csv:3: there is no file 'logs/r1t.csv'; correct the path or put it there\n");
    result =
        season_ingest(store, folder, 2, season_later); /* the log that is there is not read again */
    CHECK(result.logs_read == 0 && result.logs_unchanged == 3 && result.runs_quarantined == 1);
    CHECK(scratch_edit(folder, "runs.csv", "taps=logs/r1t.csv", "taps=logs/r1x.csv"));
    (void)season_ingest(store, folder, 2, season_later);
    check_season(store, "SELECT reason FROM run WHERE run = 'R1'", 1,
                 "runs.csv:3: there is no file 'logs/r1x.csv'; correct the path or put it there\n");
    char *taps = ingest_folder_taps(2, 20);
    CHECK(taps != NULL && scratch_write(folder, "logs/r1x.csv", taps));
    free(taps);
    result = season_ingest(store, folder, 2, season_later);
    CHECK(result.logs_read == 2 && result.runs_usable == 3);
    end_season(store);
    scratch_remove(folder);
}

static void the_same_bytes_in_two_runs_are_flagged(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = memory_season();
    char *text = scratch_read(folder, "logs/r1.csv");
    CU_ASSERT_FATAL(text != NULL);
    CHECK(scratch_write(folder, "logs/r2.csv", text));
    for (int repeat = 0; repeat < 2; repeat++) {
        (void)season_ingest(store, folder, 2, season_later);
        check_season(
            store,
            "SELECT run, subject, state, detail FROM flag_row WHERE rule = 'duplicate-log' "
            "ORDER BY run",
            4,
            "R1|logs/r1.csv|flagged|logs/r1.csv has the same bytes as a log of run R2\n"
            "R2|logs/r2.csv|flagged|logs/r2.csv has the same bytes as a log of run R1\n");
    }
    CHECK(scratch_edit(folder, "logs/r2.csv", "1013.25", "1013.20"));
    (void)season_ingest(store, folder, 2, season_later);
    check_season(store, "SELECT count(*) FROM flag_row WHERE rule = 'duplicate-log'", 1, "0\n");
    free(text);
    end_season(store);
    scratch_remove(folder);
}

CU_TestInfo ingest_quarantine_tests[] = {
    {"a bad log costs its run only", a_bad_log_costs_its_run_only},
    {"a missing log is named", a_missing_log_is_named},
    {"the same bytes in two runs are flagged", the_same_bytes_in_two_runs_are_flagged},
    CU_TEST_INFO_NULL};
