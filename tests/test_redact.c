/* test_redact.c - nothing that came from outside is in a redacted report, and no season shows another's. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/query.h"
#include "report/redact.h"
#include "report/redact_columns.h"
#include "report/report_redacted.h"
#include "tests/check.h"
#include "tests/program.h"
#include "tests/scratch.h"
#include "tests/test_report_fixture.h"
#include "tests/token_season.h"

/* Searches every file of a folder and every part of a workbook, whatever its packing. 1: found. */
static const char search[] =
    "python3 -c 'import sys,os,zipfile\n"
    "m=sys.argv[2].encode(); n=0; seen=0\n"
    "for f in sorted(os.listdir(sys.argv[1])):\n"
    "    p=os.path.join(sys.argv[1],f)\n"
    "    z=zipfile.ZipFile(p) if f.endswith(\".xlsx\") else None\n"
    "    parts=[z.read(i) for i in z.namelist()] if z else [open(p,\"rb\").read()]\n"
    "    for b in parts+[f.encode()]:\n"
    "        seen+=1\n"
    "        if m in b:\n"
    "            n+=1; i=b.index(m); print(f,b[max(0,i-60):i+60])\n"
    "print(\"seen\",seen,\"found\",n)' %s/%s %s";

/* Files and parts that hold mark, as told; out has room of PROGRAM_OUTPUT. */
static int holds(const char *folder, const char *report, const char *mark, char *out)
{
    if (program_shell(out, search, folder, report, mark) != 0)
        return -1;
    return strstr(out, "found 0") == NULL;
}

struct undecided {
    const char *left_out;
    char found[1000];
};

/* Row: table, column, type. */
static enum status take_decided(struct statement *row, void *context, struct fault *fault)
{
    struct undecided *undecided = context;
    const char *table = statement_text(row, 0);
    char word[80];
    (void)fault;
    (void)snprintf(word, sizeof word, " %s ", table);
    int is_left_out = strstr(undecided->left_out, word) != NULL;
    int is_taken = redact_takes(table, REDACT_NAMES);
    int is_text = strcmp(statement_text(row, 2), "TEXT") == 0;
    if (is_left_out != is_taken &&
        (!is_taken || !is_text || redact_knows(table, statement_text(row, 1))))
        return OK;
    size_t used = strlen(undecided->found);
    (void)snprintf(undecided->found + used, sizeof undecided->found - used, "%s.%s ", table,
                   statement_text(row, 1));
    return OK;
}

struct looking {
    struct store *store;
    size_t columns, found; /* columns that show a token */
};

/* Row: table or view, column. */
static enum status take_seen(struct statement *row, void *context, struct fault *fault)
{
    struct looking *looking = context;
    char sql[400];
    double n = 0;
    (void)snprintf(sql, sizeof sql,
                   "SELECT count(*) FROM \"%s\" WHERE instr(CAST(\"%s\" AS TEXT), 'QXQ') > 0",
                   statement_text(row, 0), statement_text(row, 1));
    enum status status = query_real(looking->store, sql, NULL, &n, fault);
    looking->columns++;
    looking->found += n > 0;
    return status;
}

static int open_tokens(struct store **store, const char *mark)
{
    struct fault fault = {0};
    *store = NULL;
    CHECK_OK(report_fixture_open(":memory:", NULL, store, &fault), &fault);
    if (*store == NULL)
        return 0;
    CHECK_OK(store_execute(*store,
                           "INSERT INTO decision VALUES ('R102', '2', 'exclude', 'Ann', 'today', "
                           "'bird', 2); INSERT INTO configuration_part VALUES ('W5', 0, 'W1');"
                           "INSERT INTO robustness VALUES (100, 'W1', 'CL', 'weighted', 'without "
                           "return R101', 0, 0, 'gain');"
                           "INSERT INTO exclusion_effect VALUES (100, 'W1', 'CL', 'weighted', 'all "
                           "in', 1, 0, 0, 'gain', 0, 0, 'loss', 1, 1, 'Ann')",
                           &fault),
             &fault);
    CHECK_OK(token_season_make(*store, mark, &fault), &fault);
    return fault.status == OK;
}

static void every_text_column_is_known(void)
{
    struct store *store = NULL;
    struct fault fault = {0};
    char unknown[2000] = "";
    CHECK_OK(store_open(":memory:", STORE_CREATE, &store, &fault), &fault);
    if (store != NULL)
        CHECK_OK(token_season_unknown(store, unknown, sizeof unknown, &fault), &fault);
    CHECK_TEXT(unknown, ""); /* decide in redact_columns.c and token_season.c */
    CHECK_OK(store_close(store, &fault), &fault);
}

/* Of tables that are left out whole somebody said so here; what is taken has every text column decided. */
static void every_table_is_decided(void)
{
    static const char left_out[] =
        " repeatability_declared configuration_image calibration_file calibration_load calibration "
        "support_table weight_fit point_budget repeat_pair_result repeat_result flag_rule "
        "data_dictionary ";
    struct store *store = NULL;
    struct fault fault = {0};
    struct undecided undecided = {left_out, ""};
    CHECK_OK(store_open(":memory:", STORE_CREATE, &store, &fault), &fault);
    CHECK_OK(query_each(store,
                        "SELECT t.name, c.name, c.type FROM sqlite_schema AS t, "
                        "pragma_table_info(t.name) AS c WHERE t.type = 'table' AND t.name NOT LIKE "
                        "'sqlite_%' ORDER BY t.name, c.cid",
                        NULL, take_decided, &undecided, &fault),
             &fault);
    CHECK_TEXT(undecided.found, ""); /* decide in redact_columns.c */
    CHECK_OK(store_close(store, &fault), &fault);
}

/* Every column of every table and view of the copy, as the dictionary lists them: what is exported is among
 * them. */
static void no_view_shows_a_token(void)
{
    static const struct redact_how hows[] = {{.redaction = REDACT_NAMES},
                                             {.redaction = REDACT_LEVELS}};
    struct store *season = NULL;
    struct store *copy = NULL;
    struct fault fault = {0};
    if (!open_tokens(&season, "QXQ"))
        return;
    for (int i = 0; i < 2; i++) {
        struct looking looking = {season, 0, 0};
        CHECK_OK(query_each(season, "SELECT object, name FROM data_dictionary", NULL, take_seen,
                            &looking, &fault),
                 &fault);
        CHECK(looking.columns > 500 && looking.found > 60); /* the search can find */
        CHECK_OK(redact_open(season, &hows[i], &copy, &fault), &fault);
        looking = (struct looking){copy, 0, 0};
        CHECK_OK(query_each(season, "SELECT object, name FROM data_dictionary", NULL, take_seen,
                            &looking, &fault),
                 &fault);
        CHECK_NEAR((double)looking.found, 0, 0, "identity");
        CHECK_OK(store_close(copy, &fault), &fault);
    }
    CHECK_OK(store_close(season, &fault), &fault);
}

static void no_token_slips_out(void)
{
    static const enum redaction redactions[] = {REDACT_NAMES, REDACT_LEVELS};
    char folder[SCRATCH_PATH];
    char *out = calloc(PROGRAM_OUTPUT, 1);
    struct store *store = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folder) && out != NULL);
    if (out != NULL && open_tokens(&store, "QXQ")) {
        CHECK_OK(report_write(store, folder, NULL, &fault), &fault);
        CHECK(holds(folder, "report", "QXQ", out) == 1); /* the search can find */
        for (int i = 0; i < 2; i++) {
            struct report_options options = {.json = 1, .redaction = redactions[i]};
            CHECK_OK(report_redacted(store, folder, &options, NULL, &fault), &fault);
            CHECK(holds(folder, REPORT_REDACTED_FOLDER, "QXQ", out) == 0);
            CHECK_CONTAINS(out, "found 0");
            CHECK(holds(folder, REPORT_REDACTED_FOLDER, "2026", out) >= 0);
        }
        char *page = scratch_read(folder, REPORT_REDACTED_FOLDER "/night.html");
        CHECK_CONTAINS(page, "C3 beats C1 by the most: +23.8");
        CHECK_CONTAINS(page, "1 Jan 2000");
        CHECK_CONTAINS(page, "Names are exchanged for ids.");
        CHECK(page != NULL && strstr(page, "Feb 2026") == NULL);
        free(page);
    }
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folder);
    free(out);
}

/* A name may be a number. Those of the car, the season and the source of its area, and its dimensions, are not
 * told apart from settings by how they look. */
static void no_name_in_digits_slips_out(void)
{
    static const char settings[] =
        "DELETE FROM setting WHERE section = 'car' OR (section = 'season' AND name = 'season');"
        "INSERT INTO setting VALUES ('season', 'season', '77310001', ''), "
        "('car', 'name', '77310002', ''), ('car', 'reference_area_source', '77310003', ''), "
        "('car', 'length', '4.77310004', 'm'), ('car', 'wheelbase', '2.77310005', 'm'), "
        "('car', 'model_scale', '0.77310006', '1'), ('car', 'volume', '3.77310007', 'm3'), "
        "('limits', 'reviewer', '77310008', ''), ('limits', 'confidence', '0.95', '1'), "
        "('uncertainties saltmarsh', '77310009', '77310010', '1');";
    char folder[SCRATCH_PATH];
    char *out = calloc(PROGRAM_OUTPUT, 1);
    struct store *store = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folder) && out != NULL);
    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    if (out != NULL && store != NULL) {
        CHECK_OK(store_execute(store, "DELETE FROM setting WHERE name = 'confidence'", &fault),
                 &fault);
        CHECK_OK(store_execute(store, settings, &fault), &fault);
        CHECK_OK(report_write(store, folder, NULL, &fault), &fault);
        CHECK(holds(folder, "report", "7731000", out) == 1); /* the search can find */
        for (int i = 0; i < 2; i++) {
            struct report_options options = {.json = 1,
                                             .redaction = i == 0 ? REDACT_NAMES : REDACT_LEVELS};
            CHECK_OK(report_redacted(store, folder, &options, NULL, &fault), &fault);
            CHECK(holds(folder, REPORT_REDACTED_FOLDER, "77310", out) == 0);
            CHECK_CONTAINS(out, "found 0");
        }
        char *page = scratch_read(folder, REPORT_REDACTED_FOLDER "/night.html");
        CHECK_CONTAINS(page, "confidence of the judged intervals"); /* limits stay */
        free(page);
    }
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folder);
    free(out);
}

/* A whole night through the program, so that every table that reduce writes has rows. */
static void no_token_of_a_night_slips_out(void)
{
    char folder[64];
    char path[100];
    char *out = calloc(PROGRAM_OUTPUT, 1);
    struct store *store = NULL;
    struct fault fault = {0};
    CHECK(out != NULL && program_demo_night(folder, 1));
    if (out == NULL)
        return;
    CHECK(program_shell(out, "%s -C %s --quiet batch", program_lapwing(), folder) == 0);
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    CHECK_OK(store_open(path, STORE_EXISTING, &store, &fault), &fault);
    if (store != NULL)
        CHECK_OK(token_season_make(store, "QXQ", &fault), &fault);
    CHECK_OK(store_close(store, &fault), &fault);
    for (int i = 0; i < 2; i++) {
        CHECK(program_shell(out, "%s -C %s report --json --redact %s --redact-key %s/key.csv",
                            program_lapwing(), folder, i == 0 ? "" : "deltas-only", folder) == 0);
        CHECK(strstr(out, "QXQ") == NULL);
        CHECK(holds(folder, REPORT_REDACTED_FOLDER, "QXQ", out) == 0);
        CHECK_CONTAINS(out, "found 0");
    }
    CHECK(program_shell(out, "cat %s/key.csv", folder) == 0);
    CHECK_CONTAINS(out, "\"run\",\"QXQ");
    program_remove(folder);
    free(out);
}

static void no_season_shows_anothers_names(void)
{
    static const char *const marks[] = {"QAQ", "QBQ"};
    char folders[2][SCRATCH_PATH];
    char *out = calloc(PROGRAM_OUTPUT, 1);
    struct store *stores[2] = {NULL, NULL};
    struct fault fault = {0};
    static const struct report_options options = {.json = 1, .notes = 1};
    for (int i = 0; i < 2; i++)
        CHECK(scratch_make(folders[i]) && open_tokens(&stores[i], marks[i]));
    for (int i = 0; i < 4 && out != NULL && stores[0] != NULL && stores[1] != NULL; i++) {
        char report[SCRATCH_PATH + 16];
        CHECK_OK(report_write(stores[i % 2], folders[i % 2], NULL, &fault), &fault);
        (void)snprintf(report, sizeof report, "%s/report", folders[i % 2]);
        CHECK_OK(report_write_into(stores[i % 2], report, NULL, &options, NULL, &fault), &fault);
    }
    for (int i = 0; i < 2 && out != NULL; i++) {
        CHECK(holds(folders[i], "report", marks[i], out) == 1);
        CHECK(holds(folders[i], "report", marks[1 - i], out) == 0);
        CHECK_OK(store_close(stores[i], &fault), &fault);
        scratch_remove(folders[i]);
    }
    free(out);
}

static void the_same_season_gives_the_same_bytes(void)
{
    static const struct report_options options = {.json = 1, .redaction = REDACT_NAMES};
    char folders[2][SCRATCH_PATH];
    char command[200];
    struct store *store = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folders[0]) && scratch_make(folders[1]));
    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    for (int i = 0; i < 2 && store != NULL; i++)
        CHECK_OK(report_redacted(store, folders[i], &options, NULL, &fault), &fault);
    (void)snprintf(command, sizeof command, "diff -r %s %s", folders[0], folders[1]);
    CHECK(system(command) == 0);
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folders[0]);
    scratch_remove(folders[1]);
}

static void the_key_stays_at_home(void)
{
    static const char *const inside[] = {"report-redacted/key.csv",
                                         "report-redacted/../report-redacted/k", "link/key.csv",
                                         "none/key.csv"};
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 64];
    struct store *store = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    (void)snprintf(path, sizeof path, "ln -s report-redacted %s/link", folder);
    CHECK(system(path) == 0);
    for (size_t i = 0; store != NULL && i < sizeof inside / sizeof inside[0]; i++) {
        struct report_options options = {.redaction = REDACT_NAMES, .key_file = path};
        (void)snprintf(path, sizeof path, "%s/%s", folder, inside[i]);
        CHECK(report_redacted(store, folder, &options, NULL, &fault) == BAD_INPUT);
    }
    struct report_options options = {.redaction = REDACT_NAMES, .key_file = path};
    (void)snprintf(path, sizeof path, "%s/key.csv", folder);
    if (store != NULL)
        CHECK_OK(report_redacted(store, folder, &options, NULL, &fault), &fault);
    char *key = scratch_read(folder, "key.csv");
    CHECK_CONTAINS(key, "kind,name,id\n");
    CHECK_CONTAINS(key, "\"configuration\",\"W2\",\"C-");
    CHECK_CONTAINS(key, "\"run\",\"R101\",\"R-");
    CHECK_CONTAINS(key, "\"facility\",\"saltmarsh\",\"F-");
    free(key);
    CHECK_OK(store_close(store, NULL), NULL);
    scratch_remove(folder);
}

CU_TestInfo redact_tests[] = {
    {"every text column is known", every_text_column_is_known},
    {"every table is decided", every_table_is_decided},
    {"no view shows a token", no_view_shows_a_token},
    {"no token slips out", no_token_slips_out},
    {"no name in digits slips out", no_name_in_digits_slips_out},
    {"no token of a night slips out", no_token_of_a_night_slips_out},
    {"no season shows another's names", no_season_shows_anothers_names},
    {"the same season gives the same bytes", the_same_season_gives_the_same_bytes},
    {"the key stays at home", the_key_stays_at_home},
    CU_TEST_INFO_NULL};
