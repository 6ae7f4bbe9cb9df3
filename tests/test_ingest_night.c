/* test_ingest_night.c - the folder into the season: what is read, kept, quarantined and left alone. */
#include "ingest/ingest_night.h"

#include <CUnit/CUnit.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "ingest/check_command.h"
#include "ingest/ingest_command.h"
#include "schema/point_statistics.h"
#include "tests/check.h"
#include "tests/ingest_folder.h"

/* Far after every file of the tests, so that stamps are trusted. */
static const long long later = 4102444800LL * 1000000000LL;

static struct night_result ingest(struct store *store, const char *folder, int threads,
                                  long long now_ns)
{
    struct night_result result = {0};
    struct fault fault = {.status = OK};
    struct campaign *campaign = ingest_folder_campaign(folder);
    const struct night_request request = {
        .folder = folder, .campaign = campaign, .threads = threads, .now_ns = now_ns};
    struct season_sheets *sheets = NULL;
    CU_ASSERT_FATAL(campaign != NULL);
    CHECK_OK(ingest_sheets(&request, &sheets, &fault), &fault);
    CU_ASSERT_FATAL(sheets != NULL);
    CHECK_OK(ingest_night(store, &request, sheets, &result, &fault), &fault);
    season_sheets_free(sheets);
    campaign_free(campaign);
    return result;
}

static struct store *open_store(void)
{
    struct store *store = NULL;
    struct fault fault = {.status = OK};
    CHECK_OK(store_open(":memory:", STORE_CREATE, &store, &fault), &fault);
    CU_ASSERT_FATAL(store != NULL);
    return store;
}

static void close_store(struct store *store)
{
    struct fault fault = {.status = OK};
    CHECK_OK(store_close(store, &fault), &fault);
}

/* All rows of a query as text, '|' between columns, a line feed after each row; blobs in hex. */
static char *query(struct store *store, const char *sql, int columns)
{
    char *text = NULL;
    size_t size = 0;
    struct statement *statement = NULL;
    struct fault fault = {.status = OK};
    int row = 0;
    FILE *out = open_memstream(&text, &size);
    CU_ASSERT_FATAL(out != NULL);
    CHECK_OK(statement_prepare(store, sql, &statement, &fault), &fault);
    CU_ASSERT_FATAL(statement != NULL);
    for (;;) {
        CHECK_OK(statement_step(statement, &row, &fault), &fault);
        if (!row)
            break;
        for (int i = 0; i < columns; i++) {
            const char *cell = statement_text(statement, i);
            (void)fprintf(out, "%s%s", i > 0 ? "|" : "", cell != NULL ? cell : "NULL");
        }
        (void)fprintf(out, "\n");
    }
    statement_free(statement);
    (void)fclose(out);
    return text;
}

static void check_query(struct store *store, const char *sql, int columns, const char *want)
{
    char *got = query(store, sql, columns);
    CHECK_TEXT(got, want);
    free(got);
}

/* Everything ingest writes, as one text. */
static char *dump(struct store *store)
{
    static const struct {
        const char *sql;
        int columns;
    } tables[] = {
        {"SELECT run, sequence, facility, start_s, configuration, kind, balance, zero, note, "
         "state, "
         "reason, sheet_line, ingest_key FROM run ORDER BY run",
         13},
        {"SELECT run, position, file, map, sha256, bytes, mtime_ns, rows FROM log ORDER BY 1, 2",
         8},
        {"SELECT run, position, log_position, column_name, role, tap, unit, written_unit, sign, "
         "covariance_position FROM channel ORDER BY 1, 2",
         10},
        {"SELECT run, point, sequence, time_s, duration_s, rows, first_line, last_line, "
         "hex(statistics), hex(covariance) FROM point ORDER BY 1, 3",
         10},
        {"SELECT id, run, point, subject, rule, state, detail FROM flag_row ORDER BY 1", 7},
        {"SELECT balance, load, term, coefficient, unit FROM calibration ORDER BY 1, 2, 3", 5},
        {"SELECT tap, sequence, column_name, x_m, normal_z, area_m2, tube_length_m FROM tap "
         "ORDER BY 2",
         7},
    };
    char *all = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&all, &size);
    CU_ASSERT_FATAL(out != NULL);
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
        char *text = query(store, tables[i].sql, tables[i].columns);
        (void)fputs(text, out);
        free(text);
    }
    (void)fclose(out);
    return all;
}

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
    struct store *store = open_store();
    struct night_result result = ingest(store, folder, 2, later);
    CHECK(result.logs_read == 4 && result.logs_unchanged == 0);
    CHECK(result.runs_usable == 3 && result.runs_quarantined == 0);
    CHECK(result.rows == 50 + 300 + 320 + 40);
    check_query(store, "SELECT run, sequence, state, reason, note FROM run ORDER BY sequence", 5,
                "Z1|0|ok||\nR1|1|ok||first, of the night\nR2|2|ok||\n");
    check_query(
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
    check_query(store,
                "SELECT point, sequence, rows, first_line, last_line FROM point WHERE run = 'R1' "
                "ORDER BY sequence",
                5, "P1|0|100|3|102\nP2|1|100|103|202\nP3|2|100|203|302\n");
    /* 20:00 in the zone is 19:00 UTC; rows of P1 are at 0.02 .. 2.00 s */
    check_query(store,
                "SELECT time_s - 1770836400, round(duration_s, 9) FROM point "
                "WHERE run = 'R1' AND point = 'P1'",
                2, "1.00999999046326|1.98\n");
    read_point(store, "R1", "P2", channels, 12);
    CHECK_NEAR(channels[7].mean, 101325, 1e-9, "identity: 1013.25 hPa");
    CHECK_NEAR(channels[8].mean, 288.15, 1e-9, "identity: 15 degC");
    CHECK_RELATIVE(channels[9].mean, -0.017453292519943295, 1e-12,
                   "identity: 1 deg, turned by the facility");
    CHECK_NEAR(channels[10].n, 20, 0, "identity");
    check_query(store,
                "SELECT configuration, parent, baseline FROM configuration ORDER BY sequence", 3,
                "base|NULL|base\nedge|base|base\n");
    check_query(store, "SELECT tap, x_m, area_m2, tube_length_m FROM tap ORDER BY sequence", 4,
                "T1|0.1|5.0e-05|1.5\nT2|0.3|NULL|NULL\n");
    check_query(store,
                "SELECT coefficient, unit FROM calibration WHERE load = 'Mx' AND term = 'R4'", 2,
                "50.0|N m/(mV/V)\n");
    close_store(store);
    scratch_remove(folder);
}

static void a_point_that_one_log_lacks_is_told(void)
{
    char folder[SCRATCH_PATH];
    struct channel_statistics channels[12];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = open_store();
    (void)ingest(store, folder, 2, later);
    check_query(store, "SELECT run, point, rule, state, detail FROM flag_row", 5,
                "R1|P3|point-in-one-log|flagged|logs/r1t.csv does not have the point\n");
    read_point(store, "R1", "P3", channels, 12);
    CHECK(channels[9].n == 100 && channels[10].n == 0 && channels[10].mean != channels[10].mean);
    close_store(store);
    scratch_remove(folder);
}

static void the_number_of_threads_does_not_show(void)
{
    char folder[SCRATCH_PATH];
    char *dumps[3];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK(scratch_write(folder, "logs/z1.csv", "not a log\n"));
    for (int threads = 1; threads <= 3; threads++) {
        struct store *store = open_store();
        (void)ingest(store, folder, threads, later);
        dumps[threads - 1] = dump(store);
        close_store(store);
    }
    CHECK(strlen(dumps[0]) > 5000);
    CHECK(strcmp(dumps[0], dumps[1]) == 0);
    CHECK(strcmp(dumps[0], dumps[2]) == 0);
    for (int i = 0; i < 3; i++)
        free(dumps[i]);
    scratch_remove(folder);
}

/* Rewrites a file of the folder with the first `from` in it turned into `to`. */
static void edit(const char *folder, const char *name, const char *from, const char *to)
{
    char *text = scratch_read(folder, name);
    const char *at = text != NULL ? strstr(text, from) : NULL;
    size_t size = at != NULL ? strlen(text) + strlen(to) + 1 : 0;
    char *edited = at != NULL ? malloc(size) : NULL;
    CHECK(edited != NULL);
    if (edited != NULL) {
        (void)snprintf(edited, size, "%.*s%s%s", (int)(at - text), text, to, at + strlen(from));
        CHECK(scratch_write(folder, name, edited));
    }
    free(text);
    free(edited);
}

static void a_bad_log_costs_its_run_only(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = open_store();
    (void)ingest(store, folder, 2, later);
    char *before = query(store,
                         "SELECT run, point, hex(statistics) FROM point WHERE run <> 'R2' "
                         "ORDER BY 1, 2",
                         3);
    edit(folder, "logs/r2.csv", "1013.25,15.0,1", "1o13.25,15.0,1"); /* line 83, first of P2 */
    struct night_result result = ingest(store, folder, 2, later);
    CHECK(result.logs_read == 1 && result.logs_unchanged == 3);
    CHECK(result.runs_usable == 2 && result.runs_quarantined == 1);
    char *reason =
        query(store, "SELECT reason FROM run WHERE run = 'R2' AND state = 'quarantined'", 1);
    CHECK_CONTAINS(reason, "logs/r2.csv:83:");
    CHECK_CONTAINS(reason, "column 'pst': '1o13.25' is not a number");
    check_query(store, "SELECT count(*) FROM point WHERE run = 'R2'", 1, "0\n");
    check_query(store, "SELECT count(*) FROM channel WHERE run = 'R2'", 1, "0\n");
    check_query(store, "SELECT run, state FROM flag_row WHERE rule = 'run-quarantined'", 2,
                "R2|refused\n");
    check_query(store, "SELECT run, point, hex(statistics) FROM point ORDER BY 1, 2", 3, before);
    /* the same bad file again: told again, not parsed again */
    result = ingest(store, folder, 2, later);
    CHECK(result.logs_read == 0 && result.runs_quarantined == 1 && result.rows == 0);
    /* repaired: the run is back, its flag gone */
    edit(folder, "logs/r2.csv", "1o13.25", "1013.25");
    result = ingest(store, folder, 2, later);
    CHECK(result.logs_read == 1 && result.runs_usable == 3);
    check_query(store, "SELECT count(*) FROM point WHERE run = 'R2'", 1, "4\n");
    check_query(store, "SELECT count(*) FROM flag_row WHERE run = 'R2'", 1, "0\n");
    free(before);
    free(reason);
    close_store(store);
    scratch_remove(folder);
}

static void a_missing_log_is_named(void)
{
    char folder[SCRATCH_PATH];
    char path[128];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = open_store();
    (void)snprintf(path, sizeof path, "%s/logs/r1t.csv", folder);
    CHECK(remove(path) == 0);
    struct night_result result = ingest(store, folder, 2, later);
    CHECK(result.runs_usable == 2 && result.runs_quarantined == 1);
    check_query(store, "SELECT reason FROM run WHERE run = 'R1'", 1,
                "runs.csv:3: there is no file 'logs/r1t.csv'; correct the path or put it there\n");
    result = ingest(store, folder, 2, later); /* the log that is there is not read again */
    CHECK(result.logs_read == 0 && result.logs_unchanged == 3 && result.runs_quarantined == 1);
    edit(folder, "runs.csv", "taps=logs/r1t.csv", "taps=logs/r1x.csv");
    (void)ingest(store, folder, 2, later);
    check_query(store, "SELECT reason FROM run WHERE run = 'R1'", 1,
                "runs.csv:3: there is no file 'logs/r1x.csv'; correct the path or put it there\n");
    char *taps = ingest_folder_taps(2, 20);
    CHECK(taps != NULL && scratch_write(folder, "logs/r1x.csv", taps));
    free(taps);
    result = ingest(store, folder, 2, later);
    CHECK(result.logs_read == 2 && result.runs_usable == 3);
    close_store(store);
    scratch_remove(folder);
}

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
    struct store *store = open_store();
    (void)ingest(store, folder, 2, later);
    char *first = dump(store);
    struct night_result result = ingest(store, folder, 2, later);
    CHECK(result.logs_read == 0 && result.logs_unchanged == 4 && result.bytes == 0);
    char *second = dump(store);
    CHECK(strcmp(first, second) == 0);
    touch(folder, "logs/r1.csv", 1000000000); /* other time, same bytes: hashed, not parsed */
    result = ingest(store, folder, 2, later);
    CHECK(result.logs_read == 0 && result.logs_unchanged == 4);
    check_query(store, "SELECT mtime_ns FROM log WHERE run = 'R1' AND position = 0", 1,
                "1000000000000000000\n");
    free(first);
    free(second);
    close_store(store);
    scratch_remove(folder);
}

static void a_stamp_as_young_as_its_reading_is_not_trusted(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = open_store();
    touch(folder, "logs/r2.csv", 1000000000);
    (void)ingest(store, folder, 2, 1000000001LL * 1000000000LL);
    check_query(store, "SELECT mtime_ns FROM log WHERE run = 'R2'", 1, "0\n");
    edit(folder, "logs/r2.csv", "1013.25", "1013.26"); /* same size, and the same time again */
    touch(folder, "logs/r2.csv", 1000000000);
    struct night_result result = ingest(store, folder, 2, later);
    CHECK(result.logs_read == 1 && result.logs_unchanged == 3);
    check_query(store, "SELECT mtime_ns FROM log WHERE run = 'R2'", 1, "1000000000000000000\n");
    close_store(store);
    scratch_remove(folder);
}

static void the_sheet_may_change_without_reading(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = open_store();
    (void)ingest(store, folder, 2, later);
    edit(folder, "runs.csv", "20:30:00+01:00,edge", "20:30:00+01:00,base");
    edit(folder, "runs.csv", "first, of the night", "the first");
    struct night_result result = ingest(store, folder, 2, later);
    CHECK(result.logs_read == 0 && result.logs_unchanged == 4);
    check_query(store, "SELECT run, configuration, note FROM run ORDER BY sequence", 3,
                "Z1||\nR1|base|the first\nR2|base|\n");
    close_store(store);
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
    struct store *store = open_store();
    (void)ingest(store, folder, 2, later);
    for (size_t i = 0; i < sizeof edits / sizeof edits[0]; i++) {
        edit(folder, edits[i].file, edits[i].from, edits[i].to);
        struct night_result result = ingest(store, folder, 2, later);
        CHECK(edits[i].logs == 0
                  ? result.runs_quarantined == 1
                  : result.logs_read == edits[i].logs && result.runs_quarantined == 0);
    }
    close_store(store);
    scratch_remove(folder);
}

static void a_run_out_of_the_sheet_is_out_of_the_season(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = open_store();
    (void)ingest(store, folder, 2, later);
    char shorter[1024];
    (void)snprintf(shorter, sizeof shorter, "%s", ingest_folder_runs);
    *strstr(shorter, "R2,") = '\0';
    CHECK(scratch_write(folder, "runs.csv", shorter));
    (void)ingest(store, folder, 2, later);
    check_query(store, "SELECT run FROM run ORDER BY sequence", 1, "Z1\nR1\n");
    check_query(store, "SELECT count(*) FROM point WHERE run = 'R2'", 1, "0\n");
    close_store(store);
    scratch_remove(folder);
}

static void the_same_bytes_in_two_runs_are_flagged(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = open_store();
    char *text = scratch_read(folder, "logs/r1.csv");
    CU_ASSERT_FATAL(text != NULL);
    CHECK(scratch_write(folder, "logs/r2.csv", text));
    for (int repeat = 0; repeat < 2; repeat++) {
        (void)ingest(store, folder, 2, later);
        check_query(store,
                    "SELECT run, subject, state, detail FROM flag_row WHERE rule = 'duplicate-log' "
                    "ORDER BY run",
                    4,
                    "R1|logs/r1.csv|flagged|logs/r1.csv has the same bytes as a log of run R2\n"
                    "R2|logs/r2.csv|flagged|logs/r2.csv has the same bytes as a log of run R1\n");
    }
    edit(folder, "logs/r2.csv", "1013.25", "1013.20");
    (void)ingest(store, folder, 2, later);
    check_query(store, "SELECT count(*) FROM flag_row WHERE rule = 'duplicate-log'", 1, "0\n");
    free(text);
    close_store(store);
    scratch_remove(folder);
}

/* Gathers problems as lines. */
static void gather(void *context, const struct fault *problem)
{
    char *out = context;
    size_t used = strlen(out);
    fault_line(problem, out + used, 7000 - used);
    used = strlen(out);
    (void)snprintf(out + used, 2, "\n");
}

static void wrong_sheets_leave_the_season_untouched(void)
{
    char folder[SCRATCH_PATH];
    char lines[8192] = "";
    char path[SCRATCH_PATH + 16];
    struct season_sheets *sheets = NULL;
    struct fault fault = {.status = OK};
    struct stat about;
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    edit(folder, "runs.csv", "R1,saltmarsh", "R1,marsh");
    edit(folder, "runs.csv", "edge,wind_on,floor", "edges,wind_on,flor");
    edit(folder, "configurations.csv", "edge,base", "edge,bass");
    struct campaign *campaign = ingest_folder_campaign(folder);
    const struct night_request request = {.folder = folder,
                                          .campaign = campaign,
                                          .now_ns = later,
                                          .report = gather,
                                          .report_context = lines};
    CHECK(ingest_sheets(&request, &sheets, &fault) == BAD_INPUT && sheets == NULL);
    CHECK_CONTAINS(lines, "configurations.csv:3:6: parent 'bass' of 'edge' is no configuration");
    CHECK_CONTAINS(lines, "runs.csv:3:4: facility 'marsh' of run 'R1' is not in campaign.yaml");
    CHECK_CONTAINS(lines, "runs.csv:4:43: configuration 'edges' of run 'R2'");
    CHECK_CONTAINS(lines, "balance 'flor' of run 'R2' is not in campaign.yaml");
    CHECK_CONTAINS(fault.text, "parent 'bass'");
    campaign_free(campaign);
    const struct common_options common = {.folder = folder, .quiet = 1, .now_ns = later};
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
    char lines[8192] = "";
    char path[128];
    struct check_result result;
    struct fault fault = {.status = OK};
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK_OK(check_folder(folder, gather, lines, &result, &fault), &fault);
    CHECK_TEXT(lines, "");
    CHECK(result.logs == 4 && result.sheet_problems == 0 && result.log_problems == 0);
    edit(folder, "logs/r2.csv", "1013.25", "1013,25");
    edit(folder, "logs/r1t.csv", ";P1;", ";P1;x");
    edit(folder, "logs/r1t.csv", ";P2;", ";P2;y");
    CHECK_OK(check_folder(folder, gather, lines, &result, &fault), &fault);
    CHECK(result.sheet_problems == 0 && result.log_problems == 3);
    CHECK_CONTAINS(lines, "logs/r1t.csv:2:9: column 'tap 1': 'x-500.00'");
    CHECK_CONTAINS(lines, "logs/r1t.csv:22:9: column 'tap 1': 'y");
    CHECK_CONTAINS(lines, "logs/r2.csv:3:");
    CHECK_CONTAINS(lines, "13 cells, the header (line 1) has 12");
    edit(folder, "runs.csv", "edge,wind_on", "edges,wind_on");
    CHECK_OK(check_folder(folder, gather, lines, &result, &fault), &fault);
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
    const struct common_options common = {.folder = folder, .quiet = 1, .now_ns = later};
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

CU_TestInfo ingest_night_tests[] = {
    {"a night is read", a_night_is_read},
    {"a point that one log lacks is told", a_point_that_one_log_lacks_is_told},
    {"the number of threads does not show", the_number_of_threads_does_not_show},
    {"a bad log costs its run only", a_bad_log_costs_its_run_only},
    {"a missing log is named", a_missing_log_is_named},
    {"what is unchanged is not parsed again", what_is_unchanged_is_not_parsed_again},
    {"a stamp as young as its reading is not trusted",
     a_stamp_as_young_as_its_reading_is_not_trusted},
    {"the sheet may change without reading", the_sheet_may_change_without_reading},
    {"what the reading rests on makes it read again",
     what_the_reading_rests_on_makes_it_read_again},
    {"a run out of the sheet is out of the season", a_run_out_of_the_sheet_is_out_of_the_season},
    {"the same bytes in two runs are flagged", the_same_bytes_in_two_runs_are_flagged},
    {"wrong sheets leave the season untouched", wrong_sheets_leave_the_season_untouched},
    {"check reports everything and writes nothing", check_reports_everything_and_writes_nothing},
    {"the commands give their exit status", the_commands_give_their_exit_status},
    CU_TEST_INFO_NULL};
