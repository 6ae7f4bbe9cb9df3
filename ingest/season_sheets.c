/* season_sheets.c - see season_sheets.h. */
#include "ingest/season_sheets.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "ingest/boundary_names.h"
#include "ingest/calibration_file.h"
#include "ingest/run_needs.h"
#include "ingest/trim_names.h"
#include "ingest/wind_off_needs.h"

void season_sheets_free(struct season_sheets *sheets)
{
    if (sheets == NULL)
        return;
    configuration_sheet_free(sheets->configurations);
    run_sheet_free(sheets->runs);
    tap_sheet_free(sheets->taps);
    decision_sheet_free(sheets->decisions);
    free(sheets->calibrations);
    for (size_t i = 0; sheets->supports != NULL && i < TABLE_KINDS * sheets->campaign->n_facilities;
         i++)
        support_sheet_end(&sheets->supports[i]);
    free(sheets->supports);
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

/* A folder whose runs name no configuration needs no list of them. */
static int names_a_configuration(const struct run_sheet *runs)
{
    for (size_t i = 0; i < runs->n; i++)
        if (runs->runs[i].configuration[0] != '\0')
            return 1;
    return 0;
}

/* After the runs. */
static enum status read_configurations(struct folder *folder, const char *path, struct fault *fault)
{
    if (access(path, F_OK) != 0 && !names_a_configuration(folder->sheets->runs)) {
        folder->sheets->configurations = calloc(1, sizeof *folder->sheets->configurations);
        if (folder->sheets->configurations == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for the configurations");
        return OK;
    }
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

/* Nobody has to decide anything. */
static enum status read_decisions(struct folder *folder, const char *path, struct fault *fault)
{
    if (access(path, F_OK) != 0)
        return OK;
    return decision_sheet_read(path, folder->sheets->runs, folder->problems,
                               &folder->sheets->decisions, fault);
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
        status = calibration_file_read(path, balance->file, balance, folder->units,
                                       folder->problems, &folder->sheets->calibrations[i], fault);
        free(path);
    }
    return status;
}

static enum status read_support(struct folder *folder, const struct facility *facility,
                                enum table_kind kind, struct support_sheet *table,
                                struct fault *fault)
{
    const char *file = facility->tables[kind].file;
    if (file == NULL)
        return OK;
    char *path = season_path(folder->path, file);
    if (path == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the path of %s", file);
    table->facility = facility;
    table->kind = kind;
    enum status status =
        support_sheet_read(path, file, folder->units, folder->problems, table, fault);
    free(path);
    return status;
}

static enum status read_supports(struct folder *folder, struct fault *fault)
{
    const struct campaign *campaign = folder->sheets->campaign;
    enum status status = OK;
    folder->sheets->supports =
        calloc(TABLE_KINDS * campaign->n_facilities + 1, sizeof *folder->sheets->supports);
    if (folder->sheets->supports == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the tables of the facilities");
    for (size_t i = 0; status == OK && i < TABLE_KINDS * campaign->n_facilities; i++)
        status =
            read_support(folder, &campaign->facilities[i / TABLE_KINDS],
                         (enum table_kind)(i % TABLE_KINDS), &folder->sheets->supports[i], fault);
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

/* What the names of a cell must be. */
struct wind_off_cell {
    enum run_column column;
    const char *name;  /* of the column */
    const char *kind;  /* of the runs it names */
    const char *limit; /* how it is written */
    size_t most;       /* names */
    int with_points;   /* 1: RUN/POINT is meant too */
};

static const struct wind_off_cell zero_cell = {
    RUN_ZERO, "zero", "zero", "RUN, RUN/POINT, or two of them with a '+' between", 2, 1};
static const struct wind_off_cell tare_cell = {RUN_TARE, "tare", "weight_tare", "one run", 1, 0};

/* A run whose own facility or balance is unknown has been told of. */
static int is_placed(const struct folder *folder, const struct run_entry *run)
{
    const struct campaign *campaign = folder->sheets->campaign;
    return campaign_facility(campaign, run->facility) != NULL &&
           (run->balance[0] == '\0' || campaign_balance(campaign, run->balance) != NULL);
}

/* One name of the cell, length characters of text. */
static void check_run_name(const struct folder *folder, size_t i, const struct wind_off_cell *cell,
                           const char *text, size_t length)
{
    const struct run_sheet *runs = folder->sheets->runs;
    const char *slash = cell->with_points ? memchr(text, '/', length) : NULL;
    size_t name = slash != NULL ? (size_t)(slash - text) : length;
    const struct run_entry *off = run_find(runs, text, name);
    if (off == NULL) {
        char shown[80];
        (void)snprintf(shown, sizeof shown, "%.*s", (int)(name < 79 ? name : 79), text);
        unknown(folder, i, cell->column, cell->name, shown, "runs.csv");
        return;
    }
    if (is_placed(folder, &runs->runs[i]) && !wind_off_may_serve(off, &runs->runs[i], cell->kind))
        sheet_problem(runs->sheet, &runs->sheet->rows[i], cell->column, folder->problems,
                      "%s of run '%.80s': '%.80s' is named, which is not a %s run of the same "
                      "facility, entry and balance; name one",
                      cell->name, runs->runs[i].name, off->name, cell->kind);
}

/* The cell is empty, "none", or names runs. */
static void check_run_names(const struct folder *folder, size_t i, const struct wind_off_cell *cell,
                            const char *text)
{
    const struct run_sheet *runs = folder->sheets->runs;
    size_t names = 0;
    if (text[0] == '\0' || strcmp(text, "none") == 0)
        return;
    for (const char *name = text; name != NULL; names++) {
        size_t length = strcspn(name, "+");
        check_run_name(folder, i, cell, name, length);
        name = name[length] == '+' ? name + length + 1 : NULL;
    }
    if (names > cell->most)
        sheet_problem(runs->sheet, &runs->sheet->rows[i], cell->column, folder->problems,
                      "%s '%.80s' of run '%.80s' names %zu runs; limit: %s; correct it", cell->name,
                      text, runs->runs[i].name, names, cell->limit);
}

/* FILE#TITLE names a block, where the log's map says that files hold some. A '#' elsewhere belongs to
 * the file's name. */
static enum status take_blocks(const struct folder *folder, size_t i, struct fault *fault)
{
    struct run_entry *run = &folder->sheets->runs->runs[i];
    for (size_t k = 0; k < run->n_logs; k++) {
        struct run_log *log = &run->logs[k];
        const struct channel_map *map = campaign_map(folder->sheets->campaign, log->map);
        char *mark = map == NULL || map->blocks == NULL ? NULL : strchr(log->file, '#');
        if (mark == NULL)
            continue;
        log->block = strdup(mark + 1);
        if (log->block == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for runs.csv");
        *mark = '\0';
    }
    return OK;
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
    check_run_names(folder, i, &zero_cell, run->zero);
    check_run_names(folder, i, &tare_cell, run->tare);
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
    enum status status = read_below(&folder, "runs.csv", read_runs, fault);
    if (status == OK)
        status = read_below(&folder, "configurations.csv", read_configurations, fault);
    if (status == OK)
        status = read_below(&folder, "taps.csv", read_taps, fault);
    if (status == OK)
        status = read_below(&folder, "decisions.csv", read_decisions, fault);
    if (status == OK)
        status = read_calibrations(&folder, fault);
    if (status == OK)
        status = read_supports(&folder, fault);
    for (size_t i = 0; status == OK && i < folder.sheets->runs->n; i++) {
        status = take_blocks(&folder, i, fault);
        check_run(&folder, i);
    }
    if (status == OK) {
        boundary_names_check(campaign, folder.sheets->runs, folder.sheets->taps, problems);
        trim_names_check(campaign, folder.sheets->configurations, problems);
        status = run_needs_check(campaign, folder.sheets->runs, problems, fault);
    }
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
        .is_recorded_only = run_is_record_only(run),
        .yaw_sign = facility != NULL ? facility->yaw_sign : 1,
        .block = run->logs[log].block,
        .keep_samples = &sheets->campaign->keep_samples,
    };
}
