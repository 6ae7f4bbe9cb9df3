/* season_sheets.c - see season_sheets.h. */
#include "ingest/season_sheets.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "ingest/calibration_file.h"

void season_sheets_free(struct season_sheets *sheets)
{
    if (sheets == NULL)
        return;
    configuration_sheet_free(sheets->configurations);
    run_sheet_free(sheets->runs);
    tap_sheet_free(sheets->taps);
    free(sheets->calibrations);
    free(sheets);
}

char *season_path(const char *folder, const char *file)
{
    if (file[0] == '/')
        return strdup(file);
    size_t size = strlen(folder) + strlen(file) + 2;
    char *path = malloc(size);
    if (path != NULL)
        (void)snprintf(path, size, "%s/%s", folder, file);
    return path;
}

/* The reading of one folder's sheets. */
struct folder {
    const char *path;
    struct units *units;
    struct problems *problems;
    struct season_sheets *sheets;
};

static enum status read_configurations(struct folder *folder, const char *path, struct fault *fault)
{
    return configuration_sheet_read(path, folder->problems, &folder->sheets->configurations, fault);
}

static enum status read_runs(struct folder *folder, const char *path, struct fault *fault)
{
    return run_sheet_read(path, folder->problems, &folder->sheets->runs, fault);
}

/* Needed when a map has taps; read as well when it is there. */
static enum status read_taps(struct folder *folder, const char *path, struct fault *fault)
{
    const struct campaign *campaign = folder->sheets->campaign;
    int wanted = access(path, F_OK) == 0;
    for (size_t i = 0; i < campaign->n_maps; i++)
        wanted = wanted || campaign->maps[i].has_taps;
    if (!wanted)
        return OK;
    return tap_sheet_read(path, folder->units, folder->problems, &folder->sheets->taps, fault);
}

static enum status read_below(struct folder *folder, const char *name,
                              enum status (*read)(struct folder *, const char *, struct fault *),
                              struct fault *fault)
{
    char *path = season_path(folder->path, name);
    if (path == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the path of %s", name);
    enum status status = read(folder, path, fault);
    free(path);
    return status;
}

static enum status read_calibrations(struct folder *folder, struct fault *fault)
{
    const struct campaign *campaign = folder->sheets->campaign;
    enum status status = OK;
    folder->sheets->calibrations =
        calloc(campaign->n_balances + 1, sizeof *folder->sheets->calibrations);
    if (folder->sheets->calibrations == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the calibrations");
    for (size_t i = 0; i < campaign->n_balances && status == OK; i++) {
        const struct balance *balance = &campaign->balances[i];
        char *path = season_path(folder->path, balance->file);
        if (path == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for the path of %s", balance->file);
        status = calibration_file_read(path, balance->file, folder->units, folder->problems,
                                       &folder->sheets->calibrations[i], fault);
        free(path);
    }
    return status;
}

static void unknown(const struct folder *folder, size_t i, enum run_column column, const char *what,
                    const char *name, const char *where)
{
    const struct sheet *sheet = folder->sheets->runs->sheet;
    sheet_problem(sheet, &sheet->rows[i], column, folder->problems,
                  "%s '%.80s' of run '%.80s' is not in %s; correct the name or add it", what, name,
                  folder->sheets->runs->runs[i].name, where);
}

/* RUN, RUN/POINT, RUN+RUN or none. */
static void check_run_names(const struct folder *folder, size_t i, enum run_column column,
                            const char *text)
{
    const struct run_sheet *runs = folder->sheets->runs;
    const char *what = column == RUN_ZERO ? "zero" : "tare";
    if (text[0] == '\0' || strcmp(text, "none") == 0)
        return;
    for (;;) {
        size_t length = strcspn(text, "+");
        const char *slash = column == RUN_ZERO ? memchr(text, '/', length) : NULL;
        size_t name = slash != NULL ? (size_t)(slash - text) : length;
        if (run_find(runs, text, name) == NULL) {
            char shown[80];
            (void)snprintf(shown, sizeof shown, "%.*s", (int)(name < 79 ? name : 79), text);
            unknown(folder, i, column, what, shown, "runs.csv");
        }
        if (text[length] == '\0')
            return;
        text += length + 1;
    }
}

static void check_run(const struct folder *folder, size_t i)
{
    const struct campaign *campaign = folder->sheets->campaign;
    const struct run_entry *run = &folder->sheets->runs->runs[i];
    if (campaign_facility(campaign, run->facility) == NULL)
        unknown(folder, i, RUN_FACILITY, "facility", run->facility, "campaign.yaml");
    if (run->balance[0] != '\0' && campaign_balance(campaign, run->balance) == NULL)
        unknown(folder, i, RUN_BALANCE, "balance", run->balance, "campaign.yaml");
    if (run->configuration[0] != '\0' &&
        configuration_find(folder->sheets->configurations, run->configuration) == NULL)
        unknown(folder, i, RUN_CONFIGURATION, "configuration", run->configuration,
                "configurations.csv");
    for (size_t k = 0; k < run->n_logs; k++)
        if (run->logs[k].map[0] != '\0' && campaign_map(campaign, run->logs[k].map) == NULL)
            unknown(folder, i, RUN_LOGS, "channel map", run->logs[k].map, "campaign.yaml");
    check_run_names(folder, i, RUN_ZERO, run->zero);
    check_run_names(folder, i, RUN_TARE, run->tare);
}

enum status season_sheets_read(const char *path, const struct campaign *campaign,
                               struct units *units, struct problems *problems,
                               struct season_sheets **out, struct fault *fault)
{
    struct folder folder = {path, units, problems, NULL};

    *out = NULL;
    folder.sheets = calloc(1, sizeof *folder.sheets);
    if (folder.sheets == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the season's sheets");
    folder.sheets->campaign = campaign;
    enum status status = read_below(&folder, "configurations.csv", read_configurations, fault);
    if (status == OK)
        status = read_below(&folder, "runs.csv", read_runs, fault);
    if (status == OK)
        status = read_below(&folder, "taps.csv", read_taps, fault);
    if (status == OK)
        status = read_calibrations(&folder, fault);
    for (size_t i = 0; status == OK && i < folder.sheets->runs->n; i++)
        check_run(&folder, i);
    if (status != OK) {
        season_sheets_free(folder.sheets);
        return status;
    }
    *out = folder.sheets;
    return OK;
}

struct log_reading season_sheets_reading(const struct season_sheets *sheets,
                                         const struct run_entry *run, size_t log)
{
    const struct balance *balance =
        run->balance[0] != '\0' ? campaign_balance(sheets->campaign, run->balance) : NULL;
    const struct facility *facility = campaign_facility(sheets->campaign, run->facility);
    return (struct log_reading){
        .map = campaign_map(sheets->campaign, run->logs[log].map),
        .taps = sheets->taps,
        .output_unit = balance != NULL ? balance->output_unit : NULL,
        .yaw_sign = facility != NULL ? facility->yaw_sign : 1,
    };
}
