/* season_look.c - see season_look.h. */
#include "tests/season_look.h"

#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/campaign_folder.h"

const long long season_later = 4102444800LL * 1000000000LL;

struct night_result season_ingest(struct store *store, const char *folder, int threads,
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

struct store *memory_season(void)
{
    struct store *store = NULL;
    struct fault fault = {.status = OK};
    CHECK_OK(store_open(":memory:", STORE_CREATE, &store, &fault), &fault);
    CU_ASSERT_FATAL(store != NULL);
    return store;
}

void end_season(struct store *store)
{
    struct fault fault = {.status = OK};
    CHECK_OK(store_close(store, &fault), &fault);
}

/* All rows of a query as text, '|' between columns, a line feed after each row; blobs in hex. */
char *season_query(struct store *store, const char *sql, int columns)
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

void check_season(struct store *store, const char *sql, int columns, const char *want)
{
    char *got = season_query(store, sql, columns);
    CHECK_TEXT(got, want);
    free(got);
}

/* Everything ingest writes, as one text. */
char *season_dump(struct store *store)
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
        {"SELECT run, point, position, reason, severity, step_s, rows, rows_a_bin, mean, sd, "
         "mean_without, marked_rows, peak, peak_row, segments FROM trace ORDER BY 1, 2, 3",
         15},
        {"SELECT run, point, position, bin, n, minimum, mean, maximum FROM trace_bin "
         "ORDER BY 1, 2, 3, 4",
         8},
        {"SELECT run, point, position, mark, first_row, last_row FROM trace_mark "
         "ORDER BY 1, 2, 3, 4",
         6},
        {"SELECT run, point, position, bin, frequency_hz, density FROM spectrum "
         "ORDER BY 1, 2, 3, 4",
         6},
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
        char *text = season_query(store, tables[i].sql, tables[i].columns);
        (void)fputs(text, out);
        free(text);
    }
    (void)fclose(out);
    return all;
}

void gather_lines(void *context, const struct fault *problem)
{
    char *lines = context;
    size_t used = strlen(lines);
    if (used + 1100 > GATHERED)
        return;
    fault_line(problem, lines + used, 1000);
    used = strlen(lines);
    (void)snprintf(lines + used, 2, "\n");
}
