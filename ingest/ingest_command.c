/* ingest_command.c - see ingest_command.h. */
#include "ingest/ingest_command.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/season_sheets.h"

/* Counts and prints the problems of the campaign's files. */
static void print_problem(void *context, const struct fault *problem)
{
    size_t *n = context;
    char line[1024];
    (*n)++;
    fault_line(problem, line, sizeof line);
    (void)fprintf(stderr, "%s\n", line);
}

/* All problems are on the screen: the fault only says that nothing was done. */
static enum status sum_up_problems(size_t n, enum status status, struct fault *fault)
{
    if (status != BAD_INPUT || n == 0)
        return status;
    return FAIL(fault, BAD_INPUT,
                "%zu problem%s in the campaign's files, listed above; nothing was done", n,
                n == 1 ? "" : "s");
}

/* "(run: reason; run: reason)" of all that is quarantined now. */
static enum status print_quarantined(struct store *store, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    const char *before = " (";
    enum status status = statement_prepare(
        store, "SELECT run, reason FROM run WHERE state = 'quarantined' ORDER BY sequence",
        &statement, fault);
    while (status == OK) {
        status = statement_step(statement, &row, fault);
        if (status != OK || !row)
            break;
        const char *run = statement_text(statement, 0);
        const char *reason = statement_text(statement, 1);
        (void)printf("%s%s: %s", before, run != NULL ? run : "", reason != NULL ? reason : "");
        before = "; ";
    }
    if (status == OK && before[0] == ';')
        (void)printf(")");
    statement_free(statement);
    return status;
}

static enum status print_result(struct store *store, const struct night_result *result,
                                struct fault *fault)
{
    (void)printf("logs: %zu read, %zu unchanged; runs: %zu usable, %zu quarantined",
                 result->logs_read, result->logs_unchanged, result->runs_usable,
                 result->runs_quarantined);
    enum status status = print_quarantined(store, fault);
    (void)printf("\n");
    if (status == OK && (fflush(stdout) != 0 || ferror(stdout)))
        status = FAIL(fault, WRITE_FAILED, "standard output: %s", strerror(errno));
    return status;
}

static enum status ingest_into(struct store *store, const struct common_options *common,
                               const struct night_request *request, struct season_sheets *sheets,
                               struct night_result *result, struct fault *fault)
{
    enum status status = ingest_night(store, request, sheets, result, fault);
    if (status == OK && !common->quiet && request->only == NULL)
        status = print_result(store, result, fault);
    return status;
}

/* The season is opened, or made, once nothing in the sheets is wrong. */
static enum status ingest_season(const struct common_options *common,
                                 const struct night_request *request, struct season_sheets *sheets,
                                 struct night_result *result, struct fault *fault)
{
    struct store *store = NULL;
    char *path = season_path(common->folder, "season.sqlite");
    if (path == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the season's path");
    enum status status = store_open(path, STORE_CREATE, &store, fault);
    free(path);
    if (status == OK)
        status = ingest_into(store, common, request, sheets, result, fault);
    /* The first failure is the one to tell. */
    struct fault closing;
    enum status closed = store_close(store, &closing);
    if (status == OK && closed != OK) {
        status = closed;
        if (fault != NULL)
            *fault = closing;
    }
    return status;
}

static enum status ingest_runs(const struct common_options *common, const char *only,
                               struct night_result *result, struct fault *fault)
{
    struct campaign *campaign = NULL;
    struct season_sheets *sheets = NULL;
    size_t problems = 0;

    *result = (struct night_result){0};
    enum status status = campaign_read(common->folder, &campaign, print_problem, &problems, fault);
    const struct night_request request = {.folder = common->folder,
                                          .campaign = campaign,
                                          .only = only,
                                          .threads = common->threads,
                                          .now_ns = common->now_ns,
                                          .report = print_problem,
                                          .report_context = &problems};
    if (status == OK)
        status = ingest_sheets(&request, &sheets, fault);
    status = sum_up_problems(problems, status, fault);
    if (status == OK)
        status = ingest_season(common, &request, sheets, result, fault);
    season_sheets_free(sheets);
    campaign_free(campaign);
    return status;
}

enum status ingest_folder(const struct common_options *common, struct night_result *result,
                          struct fault *fault)
{
    return ingest_runs(common, NULL, result, fault);
}

enum status ingest_one_run(const struct common_options *common, const char *run,
                           struct night_result *result, struct fault *fault)
{
    return ingest_runs(common, run, result, fault);
}

static int run_ingest(const struct common_options *common, int argc, char **argv,
                      struct fault *fault)
{
    struct night_result result;
    if (argc > 1)
        return fault_exit_code(
            FAIL(fault, BAD_INPUT,
                 "ingest takes no argument, got '%s'; see `lapwing ingest --help`", argv[1]));
    enum status status = ingest_folder(common, &result, fault);
    if (status != OK)
        return fault_exit_code(status);
    return result.runs_quarantined > 0 ? 1 : 0;
}

const struct command ingest_command = {
    .name = "ingest",
    .summary = "read the logs that changed into the season",
    .usage =
        "usage: lapwing [-C DIR] ingest\n\n"
        "Reads campaign.yaml, configurations.csv, runs.csv, taps.csv, decisions.csv and the\n"
        "balances' files, then\n"
        "every log that is new or changed, into DIR/season.sqlite: statistics of each channel at\n"
        "each point. A log whose size and time are unchanged is not opened: after an edit that\n"
        "keeps both, `touch` the log.\n\n"
        "A run whose log cannot be read as declared is quarantined with file:line:column; all\n"
        "other runs are read. Nothing in the logs is repaired or guessed.\n\n"
        "Exit status: 0 all runs usable; 1 some runs quarantined; 2 the campaign's files are\n"
        "wrong, nothing done; 3 storage, memory or internal failure.\n",
    .run = run_ingest,
};
