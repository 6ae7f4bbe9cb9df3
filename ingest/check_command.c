/* check_command.c - see check_command.h. */
#include "ingest/check_command.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "ingest/image_names.h"
#include "ingest/problem_fold.h"
#include "ingest/run_needs.h"
#include "ingest/run_reader.h"
#include "schema/store_check.h"

/* A run whose names are unknown has been told of; its logs cannot be read. */
static int is_readable(const struct season_sheets *sheets, const struct run_entry *run, size_t log)
{
    return run->logs[log].file[0] != '\0' &&
           campaign_map(sheets->campaign, run->logs[log].map) != NULL &&
           campaign_facility(sheets->campaign, run->facility) != NULL &&
           (run->balance[0] == '\0' || campaign_balance(sheets->campaign, run->balance) != NULL);
}

static enum status check_log(const char *folder, const struct season_sheets *sheets,
                             const struct run_entry *run, size_t log, struct units *units,
                             struct problems *problems, size_t *read_whole, struct fault *fault)
{
    struct read_log about;
    struct log_record *record = NULL;
    size_t before = problems->n;
    enum status status = run_reader_log(folder, sheets, run, log, units, LOG_PROBLEMS_MAX, problems,
                                        &about, &record, fault);
    if (record != NULL) {
        decision_sheet_see(sheets->decisions, run->name, record);
        (*read_whole)++;
    }
    log_record_free(record);
    if (status != OK || problems->n - before < LOG_PROBLEMS_MAX)
        return status;
    fault_set(fault, BAD_INPUT, __FILE__, __LINE__,
              "%d problems; reading of this log stopped here; correct these first",
              LOG_PROBLEMS_MAX);
    fault_where(fault, "%s", run->logs[log].file);
    problems_add(problems, fault);
    return OK;
}

static enum status check_logs(const char *folder, const struct season_sheets *sheets,
                              struct units *units, struct problem_fold *fold,
                              struct problems *of_sheets, struct check_result *result,
                              struct fault *fault)
{
    struct problems problems = problems_to(problem_fold_take, fold);
    enum status status = OK;
    for (size_t i = 0; i < sheets->runs->n; i++) {
        const struct run_entry *run = &sheets->runs->runs[i];
        size_t read_whole = 0;
        for (size_t k = 0; k < run->n_logs && status == OK; k++) {
            if (!is_readable(sheets, run, k))
                continue;
            result->logs++;
            fold->map = run->logs[k].map;
            fold->file = run->logs[k].file;
            status = check_log(folder, sheets, run, k, units, &problems, &read_whole, fault);
        }
        if (status == OK && read_whole == run->n_logs)
            decision_sheet_check_points(sheets->decisions, run->name, of_sheets);
    }
    result->log_problems = problems.n;
    return status;
}

static enum status check_campaign(const char *folder, const struct campaign *campaign,
                                  campaign_problem *report, void *context,
                                  struct check_result *result, struct fault *fault)
{
    struct problems of_sheets = problems_to(report, context);
    struct problem_fold of_logs = {0};
    struct season_sheets *sheets = NULL;
    struct units *units = NULL;
    enum status status = units_open(&units, fault);
    if (status == OK)
        status = season_sheets_read(folder, campaign, units, &of_sheets, &sheets, fault);
    if (status == OK)
        status = run_wind_off_check(campaign, sheets->runs, &of_sheets, fault);
    if (status == OK)
        status = image_files_check(folder, sheets->configurations,
                                   campaign->limits.picture_megabytes, &of_sheets, fault);
    if (status == OK)
        status = check_logs(folder, sheets, units, &of_logs, &of_sheets, result, fault);
    if (status == OK)
        status = problem_fold_tell(&of_logs, report, context, fault);
    problem_fold_end(&of_logs);
    season_sheets_free(sheets);
    units_close(units);
    result->sheet_problems += of_sheets.n;
    return status;
}

/* A season that was made already, and is damaged or no season. */
static enum status check_season(const char *folder, struct problems *problems,
                                struct check_result *result, struct fault *fault)
{
    enum status status = store_check_folder(folder, fault);
    if (status != BAD_INPUT)
        return status;
    problems_add(problems, fault);
    result->sheet_problems++;
    fault->status = OK;
    return OK;
}

enum status check_folder(const char *folder, campaign_problem *report, void *context,
                         struct check_result *result, struct fault *fault)
{
    struct fault own = {.status = OK};
    struct campaign *campaign = NULL;
    struct problems problems = problems_to(report, context);

    *result = (struct check_result){0};
    if (fault == NULL)
        fault = &own;
    enum status status = check_season(folder, &problems, result, fault);
    if (status == OK)
        status = campaign_read(folder, &campaign, report, context, fault);
    if (status == NOT_FOUND) /* told by nobody yet */
        problems_add(&problems, fault);
    if (status == BAD_INPUT || status == NOT_FOUND) {
        result->sheet_problems++;
        fault->status = OK;
        return OK;
    }
    if (status == OK)
        status = check_campaign(folder, campaign, report, context, result, fault);
    campaign_free(campaign);
    if (status == OK)
        fault->status = OK; /* problems are the answer, not a failure */
    return status;
}

static void print_problem(void *context, const struct fault *problem)
{
    char line[1024];
    (void)context;
    fault_line(problem, line, sizeof line);
    (void)printf("%s\n", line);
}

static int run_check(const struct common_options *common, int argc, char **argv,
                     struct fault *fault)
{
    struct check_result result;
    if (argc > 1)
        return fault_exit_code(FAIL(fault, BAD_INPUT,
                                    "check takes no argument, got '%s'; see `lapwing check --help`",
                                    argv[1]));
    enum status status = check_folder(common->folder, print_problem, NULL, &result, fault);
    if (status == OK && result.sheet_problems + result.log_problems == 0 && !common->quiet)
        (void)printf("no problem; %zu logs read\n", result.logs);
    if (status == OK && (fflush(stdout) != 0 || ferror(stdout)))
        status = FAIL(fault, WRITE_FAILED, "standard output: %s", strerror(errno));
    if (status != OK)
        return fault_exit_code(status);
    if (result.sheet_problems > 0)
        return 2;
    return result.log_problems > 0 ? 1 : 0;
}

const char check_usage[] =
    "usage: lapwing [-C DIR] check\n\n"
    "Reads campaign.yaml, configurations.csv, runs.csv, taps.csv, decisions.csv, the balances'\n"
    "files and every log from beginning to end, and prints every problem, one a line:\n\n"
    "  file:line:column: what was seen; limit; what to do\n\n"
    "A run that could not give one coefficient - a load, a pressure, a zero missing - is told\n"
    "here too; so is a picture that cannot be shown. A problem that all logs of a channel map "
    "share is told once. A season.sqlite that "
    "is\n"
    "there already is read for damage. Nothing is written.\n"
    "Reading of one log stops after 1000 problems.\n\n"
    "Exit status: 0 no problem; 1 problems in logs only (those runs would be\n"
    "quarantined); 2 problems in the campaign's files; 3 memory or internal failure.\n";

const struct command check_command = {
    .name = "check",
    .summary = "read everything, report every problem, change nothing",
    .usage = check_usage,
    .run = run_check,
};
