/* fault_season.c - see fault_season.h. */
#include "tests/faults/fault_season.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/ingest_night.h"
#include "reduce/night.h"
#include "reduce/stage_point.h"
#include "reduce/stage_record.h"
#include "tests/program.h"

static int tell(const struct fault *fault)
{
    char line[1024];
    fault_line(fault, line, sizeof line);
    (void)fprintf(stderr, "faults: %s\n", line);
    return 0;
}

static enum status open_store(struct fault_season *season, const char *name, struct fault *fault)
{
    char path[FAULT_PATH];
    (void)snprintf(path, sizeof path, "%s/%s", season->folder, name);
    return store_open(path, STORE_CREATE, &season->store, fault);
}

static enum status close_store(struct fault_season *season, struct fault *fault)
{
    enum status status = store_close(season->store, fault);
    season->store = NULL;
    return status;
}

int fault_season_open(struct fault_season *season, unsigned long seed)
{
    char out[PROGRAM_OUTPUT];
    struct fault fault = {.status = OK};
    memset(season, 0, sizeof *season);
    if (!program_scratch(season->folder) ||
        program_shell(out, "%s --copy --seed %lu --out %s", program_make_night(), seed,
                      season->folder) != 0) {
        (void)fprintf(stderr, "faults: no night could be made: %s\n", out);
        return 0;
    }
    if (campaign_read(season->folder, &season->campaign, NULL, NULL, &fault) != OK ||
        open_store(season, "season.sqlite", &fault) != OK)
        return tell(&fault);
    return 1;
}

void fault_season_close(struct fault_season *season)
{
    struct fault ignored;
    (void)close_store(season, &ignored);
    campaign_free(season->campaign);
    program_remove(season->folder);
    memset(season, 0, sizeof *season);
}

/* No clock is given, so that every log's bytes are looked at again. */
static enum status read_logs(const struct fault_season *season, struct fault *fault)
{
    const struct night_request request = {
        .folder = season->folder, .campaign = season->campaign, .threads = 2};
    struct night_result result;
    struct season_sheets *sheets = NULL;
    enum status status = ingest_sheets(&request, &sheets, fault);
    if (status == OK)
        status = ingest_night(season->store, &request, sheets, &result, fault);
    season_sheets_free(sheets);
    return status;
}

static enum status judge_records(const struct night *night, struct fault *fault)
{
    struct record_groups entries;
    int fresh = 0;
    enum status status = record_groups_make(night, &entries, fault);
    if (status != OK)
        return status;
    for (size_t i = 0; status == OK && i < entries.n_groups; i++)
        status = stage_record(night, &entries.groups[i], &fresh, fault);
    record_groups_end(&entries);
    return status;
}

static enum status judge(const struct night *night, struct fault *fault)
{
    enum run_ending ending = RUN_UP_TO_DATE;
    enum status status = judge_records(night, fault);
    for (size_t i = 0; status == OK && i < night->n_runs; i++)
        if (run_is_wind_on(&night->runs[i]) && night->runs[i].usable)
            status = stage_point(night, &night->runs[i], &ending, fault);
    return status;
}

static enum status judge_season(const struct fault_season *season, struct fault *fault)
{
    struct night night;
    enum status status = night_read(season->store, season->campaign, &night, fault);
    if (status != OK)
        return status;
    status = store_begin(season->store, fault);
    if (status == OK)
        status = judge(&night, fault);
    if (status == OK)
        status = store_commit(season->store, fault);
    if (status != OK)
        store_rollback(season->store);
    night_end(&night);
    return status;
}

static void copy_text(const char *from, char *to, size_t size)
{
    (void)snprintf(to, size, "%s", from != NULL ? from : "");
}

static enum status list_flags(const struct fault_season *season, struct raised_list *list,
                              struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = statement_prepare(
        season->store, "SELECT rule, run, subject FROM flag ORDER BY run, rule, subject",
        &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row &&
           list->n < FAULT_FLAGS_MAX) {
        struct raised *flag = &list->flags[list->n++];
        flag->rule = flag_rule_from_code(statement_text(statement, 0));
        copy_text(statement_text(statement, 1), flag->run, sizeof flag->run);
        copy_text(statement_text(statement, 2), flag->subject, sizeof flag->subject);
    }
    statement_free(statement);
    return status;
}

int fault_season_judge(const struct fault_season *season, struct raised_list *list)
{
    struct fault fault = {.status = OK};
    *list = (struct raised_list){calloc(FAULT_FLAGS_MAX, sizeof *list->flags), 0};
    if (list->flags == NULL)
        return 0;
    enum status status = read_logs(season, &fault);
    if (status == OK)
        status = judge_season(season, &fault);
    if (status == OK)
        status = list_flags(season, list, &fault);
    if (status == OK && list->n < FAULT_FLAGS_MAX)
        return 1;
    free(list->flags);
    *list = (struct raised_list){NULL, 0};
    return status == OK ? 0 : tell(&fault);
}

double fault_season_number(const struct fault_season *season, const char *sql)
{
    struct fault fault = {.status = OK};
    struct statement *statement = NULL;
    int row = 0;
    double number = (double)NAN;
    if (statement_prepare(season->store, sql, &statement, &fault) == OK &&
        statement_step(statement, &row, &fault) == OK && row)
        number = statement_real(statement, 0);
    statement_free(statement);
    return number;
}

int fault_season_remember(struct fault_season *season)
{
    char sql[200];
    struct fault fault = {.status = OK};
    for (int run = 0; run < FAULT_RUNS; run++) {
        (void)snprintf(sql, sizeof sql,
                       "SELECT max(dynamic_pressure_pa * q_ratio) FROM point_coefficient WHERE run "
                       "= 'R%02d'",
                       run + 1);
        season->wind[run] = fault_season_number(season, sql);
    }
    return close_store(season, &fault) == OK ? 1 : tell(&fault);
}

int fault_season_renew(struct fault_season *season)
{
    char out[PROGRAM_OUTPUT];
    struct fault fault = {.status = OK};
    if (close_store(season, &fault) != OK)
        return tell(&fault);
    if (program_shell(out, "cp %s/season.sqlite %s/pass.sqlite", season->folder, season->folder) !=
        0) {
        (void)fprintf(stderr, "faults: no copy of the season: %s\n", out);
        return 0;
    }
    return open_store(season, "pass.sqlite", &fault) == OK ? 1 : tell(&fault);
}

void fault_season_log(const struct fault_season *season, int run, const char *kind,
                      char path[FAULT_PATH])
{
    (void)snprintf(path, FAULT_PATH, "%s/logs/r%02d_%s.csv", season->folder, run + 1, kind);
}
