/* test_report_write.c - the command's files: there, whole, equal each time, harmless in a sheet. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/csv_out.h"
#include "report/report_command.h"
#include "tests/check.h"
#include "tests/scratch.h"
#include "tests/test_report_fixture.h"

static const char *const files[] = {
    "report/night.html",     "report/deltas.csv",        "report/points.csv",
    "report/taps.csv",       "report/tap_changes.csv",   "report/loads.csv",
    "report/exclusions.csv", "report/channels.csv",      "report/budget.csv",
    "report/ratios.csv",     "report/equal_balance.csv", "report/packages.csv"};
enum { FILES = sizeof files / sizeof files[0] };

static size_t lines(const char *text)
{
    size_t n = 0;

    for (const char *at = text; *at != '\0'; at++)
        n += *at == '\n';
    return n;
}

static void the_same_store_gives_the_same_bytes(void)
{
    char folder[SCRATCH_PATH];
    char *before[FILES] = {NULL};
    struct store *store = NULL;
    struct report_summary summary = {""};
    struct fault fault = {0};

    CHECK(scratch_make(folder));
    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    for (int time = 0; store != NULL && time < 2; time++) {
        CHECK_OK(report_write(store, folder, &summary, &fault), &fault);
        for (size_t i = 0; i < FILES; i++) {
            char *text = scratch_read(folder, files[i]);
            CHECK(text != NULL);
            if (time == 0) {
                before[i] = text;
                continue;
            }
            CHECK(text != NULL && before[i] != NULL && strcmp(text, before[i]) == 0);
            free(text);
            free(before[i]);
        }
    }
    CHECK_CONTAINS(summary.headline, "W2 beats C0 by the most: +23.8");
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folder);
}

static void tables_hold_every_row(void)
{
    static const struct {
        const struct csv_table *table;
        size_t rows;
    } wanted[] = {
        {&csv_deltas, (size_t)5 * 4 * 25},   {&csv_points, (size_t)20 * 24}, {&csv_taps, 120},
        {&csv_tap_changes, (size_t)120 * 5}, {&csv_loads, (size_t)20 * 24},  {&csv_exclusions, 0}};
    struct store *store = NULL;
    struct fault fault = {0};

    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    for (size_t i = 0; store != NULL && i < sizeof wanted / sizeof wanted[0]; i++) {
        struct buffer out = {0};
        CHECK_OK(csv_write(store, wanted[i].table, &out, &fault), &fault);
        CHECK(lines(buffer_string(&out)) == wanted[i].rows + 2);
        CHECK(strstr(buffer_string(&out), "nan") == NULL);
        CHECK(strchr(buffer_string(&out), '\r') == NULL);
        buffer_free(&out);
    }
    CHECK_OK(store_close(store, &fault), &fault);
}

static void deltas_read_back(void)
{
    struct store *store = NULL;
    struct buffer out = {0};
    struct fault fault = {0};

    CHECK_OK(report_fixture_open(":memory:", "=2+3", &store, &fault), &fault);
    if (store != NULL) {
        CHECK_OK(csv_write(store, &csv_deltas, &out, &fault), &fault);
        const char *text = buffer_string(&out);
        CHECK_CONTAINS(text,
                       "configuration,baseline,facility,entry,quantity,unit,target,is_main,delta,");
        CHECK_CONTAINS(text, "downforce positive");
        CHECK_CONTAINS(text, "\n\"W1\",\"C0\",\"saltmarsh\",\"February\",\"CL\",\"1\",\"weighted\","
                             "1,0.0121,0.0058,");
        CHECK_CONTAINS(text, "\n\"'=2+3\",\"C0\",");
    }
    buffer_free(&out);
    CHECK_OK(store_close(store, &fault), &fault);
}

/* Loads: the weight tare's rows win over the balance step's; the transfer gives car axes. */
static void loads_come_from_the_ledger(void)
{
    struct store *store = NULL;
    struct buffer out = {0};
    struct fault fault = {0};

    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    if (store != NULL) {
        CHECK_OK(
            store_execute(store,
                          "INSERT INTO ledger_row VALUES (1, '1', 3, 'weight tare', 'Fx', 'N', 7);"
                          "INSERT INTO ledger_row VALUES (1, '1', 4, 'transfer', 'Fz', 'N', -9)",
                          &fault),
            &fault);
        CHECK_OK(csv_write(store, &csv_loads, &out, &fault), &fault);
        CHECK_CONTAINS(buffer_string(&out), ",7,620,630,640,650,660,,,-9,,,\n");
    }
    buffer_free(&out);
    CHECK_OK(store_close(store, &fault), &fault);
}

static void a_missing_season_is_refused(void)
{
    char folder[SCRATCH_PATH];
    struct common_options common = {.quiet = 1};
    struct fault fault = {0};
    char name[] = "report";
    char extra[] = "now";
    char *only[] = {name, NULL};
    char *more[] = {name, extra, NULL};

    CHECK(scratch_make(folder));
    common.folder = folder;
    CHECK(report_command.run(&common, 1, only, &fault) != 0);
    CHECK(fault.status != OK && fault.text[0] != '\0');
    fault = (struct fault){0};
    CHECK(report_command.run(&common, 2, more, &fault) == 2);
    CHECK_CONTAINS(fault.text, "'now'");
    scratch_remove(folder);
}

static void the_command_reads_the_season(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 32];
    struct common_options common = {.quiet = 1};
    struct store *store = NULL;
    struct fault fault = {0};
    char name[] = "report";
    char *only[] = {name, NULL};

    CHECK(scratch_make(folder));
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    CHECK_OK(report_fixture_open(path, NULL, &store, &fault), &fault);
    CHECK_OK(store_close(store, &fault), &fault);
    common.folder = folder;
    CHECK(report_command.run(&common, 1, only, &fault) == 0);
    char *text = scratch_read(folder, "report/night.html");
    CHECK_CONTAINS(text, "W2 beats C0");
    free(text);
    scratch_remove(folder);
}

static void a_folder_that_cannot_be_made_is_said(void)
{
    struct store *store = NULL;
    struct fault fault = {0};

    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    if (store != NULL)
        CHECK(report_write(store, "/proc/no-such-folder", NULL, &fault) == WRITE_FAILED);
    CHECK_OK(store_close(store, &fault), &fault);
}

CU_TestInfo report_write_tests[] = {
    {"the same store gives the same bytes", the_same_store_gives_the_same_bytes},
    {"tables hold every row", tables_hold_every_row},
    {"deltas read back", deltas_read_back},
    {"loads come from the ledger", loads_come_from_the_ledger},
    {"a missing season is refused", a_missing_season_is_refused},
    {"the command reads the season", the_command_reads_the_season},
    {"a folder that cannot be made is said", a_folder_that_cannot_be_made_is_said},
    CU_TEST_INFO_NULL};
