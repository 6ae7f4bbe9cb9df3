/* test_ingest_night.c - the folder into the season: what is read and kept. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/point_statistics.h"
#include "tests/check.h"
#include "tests/campaign_folder.h"
#include "tests/season_look.h"

static void read_point(struct store *store, const char *run, const char *point,
                       struct channel_statistics *channels, size_t n)
{
    struct statement *statement = NULL;
    struct fault fault = {.status = OK};
    size_t size = 0;
    int row = 0;
    CHECK_OK(statement_prepare(store, "SELECT statistics FROM point WHERE run = ?1 AND point = ?2",
                               &statement, &fault),
             &fault);
    CHECK_OK(statement_bind_text(statement, 1, run, &fault), &fault);
    CHECK_OK(statement_bind_text(statement, 2, point, &fault), &fault);
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    const void *blob = statement_blob(statement, 0, &size);
    CHECK_OK(point_statistics_unpack(blob, size, channels, n, &fault), &fault);
    statement_free(statement);
}

static void a_night_is_read(void)
{
    char folder[SCRATCH_PATH];
    struct channel_statistics channels[12];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = memory_season();
    struct night_result result = season_ingest(store, folder, 2, season_later);
    CHECK(result.logs_read == 4 && result.logs_unchanged == 0);
    CHECK(result.runs_usable == 3 && result.runs_quarantined == 0);
    CHECK(result.rows == 50 + 300 + 320 + 40);
    check_season(store, "SELECT run, sequence, state, reason, note FROM run ORDER BY sequence", 5,
                 "Z1|0|ok||\nR1|1|ok||first, of the night\nR2|2|ok||\n");
    check_season(
        store,
        "SELECT position, log_position, role, tap, unit, written_unit, sign, "
        "covariance_position FROM channel WHERE run = 'R1' AND position IN (0, 7, 8, 9, 10) "
        "ORDER BY 1",
        8,
        "0|0|balance_output_1|NULL|mV/V|mV/V|1.0|0\n"
        "7|0|static_pressure|NULL|Pa|hPa|1.0|7\n"
        "8|0|total_temperature|NULL|K|degC|1.0|NULL\n"
        "9|0|yaw|NULL|rad|deg|-1.0|NULL\n"
        "10|1|tap|T1|Pa|Pa|1.0|NULL\n");
    check_season(store,
                 "SELECT point, sequence, rows, first_line, last_line FROM point WHERE run = 'R1' "
                 "ORDER BY sequence",
                 5, "P1|0|100|3|102\nP2|1|100|103|202\nP3|2|100|203|302\n");
    /* 20:00 in the zone is 19:00 UTC; rows of P1 are at 0.02 .. 2.00 s */
    check_season(store,
                 "SELECT time_s - 1770836400, round(duration_s, 9) FROM point "
                 "WHERE run = 'R1' AND point = 'P1'",
                 2, "1.00999999046326|1.98\n");
    read_point(store, "R1", "P2", channels, 12);
    CHECK_NEAR(channels[7].mean, 101325, 1e-9, "identity: 1013.25 hPa");
    CHECK_NEAR(channels[8].mean, 288.15, 1e-9, "identity: 15 degC");
    CHECK_RELATIVE(channels[9].mean, -0.017453292519943295, 1e-12,
                   "identity: 1 deg, turned by the facility");
    CHECK_NEAR(channels[10].n, 20, 0, "identity");
    check_season(store,
                 "SELECT configuration, parent, baseline FROM configuration ORDER BY sequence", 3,
                 "base|NULL|base\nedge|base|base\n");
    check_season(store, "SELECT tap, x_m, area_m2, tube_length_m FROM tap ORDER BY sequence", 4,
                 "T1|0.1|5.0e-05|1.5\nT2|0.3|NULL|NULL\n");
    check_season(store,
                 "SELECT coefficient, unit FROM calibration WHERE load = 'Mx' AND term = 'R4'", 2,
                 "50.0|N m/(mV/V)\n");
    end_season(store);
    scratch_remove(folder);
}

static void a_point_that_one_log_lacks_is_told(void)
{
    char folder[SCRATCH_PATH];
    struct channel_statistics channels[12];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = memory_season();
    (void)season_ingest(store, folder, 2, season_later);
    check_season(store, "SELECT run, point, rule, state, detail FROM flag_row", 5,
                 "R1|P3|point-in-one-log|flagged|logs/r1t.csv does not have the point\n");
    read_point(store, "R1", "P3", channels, 12);
    CHECK(channels[9].n == 100 && channels[10].n == 0 && channels[10].mean != channels[10].mean);
    end_season(store);
    scratch_remove(folder);
}

static void the_number_of_threads_does_not_show(void)
{
    char folder[SCRATCH_PATH];
    char *dumps[3];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK(scratch_write(folder, "logs/z1.csv", "not a log\n"));
    for (int threads = 1; threads <= 3; threads++) {
        struct store *store = memory_season();
        (void)season_ingest(store, folder, threads, season_later);
        dumps[threads - 1] = season_dump(store);
        end_season(store);
    }
    CHECK(strlen(dumps[0]) > 5000);
    CHECK(strcmp(dumps[0], dumps[1]) == 0);
    CHECK(strcmp(dumps[0], dumps[2]) == 0);
    for (int i = 0; i < 3; i++)
        free(dumps[i]);
    scratch_remove(folder);
}

CU_TestInfo ingest_night_tests[] = {
    {"a night is read", a_night_is_read},
    {"a point that one log lacks is told", a_point_that_one_log_lacks_is_told},
    {"the number of threads does not show", the_number_of_threads_does_not_show},
    CU_TEST_INFO_NULL};
