/* run_sheet.c - see run_sheet.h. */
#include "ingest/run_sheet.h"

#include <stdlib.h>
#include <string.h>

static const struct sheet_column columns[RUN_COLUMNS] = {[RUN_NAME] = {"run", 1},
                                                         [RUN_FACILITY] = {"facility", 1},
                                                         [RUN_ENTRY] = {"entry", 0},
                                                         [RUN_START] = {"start", 1},
                                                         [RUN_CONFIGURATION] = {"configuration", 1},
                                                         [RUN_KIND] = {"kind", 1},
                                                         [RUN_BALANCE] = {"balance", 0},
                                                         [RUN_LOGS] = {"logs", 1},
                                                         [RUN_ZERO] = {"zero", 0},
                                                         [RUN_TARE] = {"tare", 0},
                                                         [RUN_MOUNTING] = {"mounting", 0},
                                                         [RUN_NOTE] = {"note", 0}};

static const char *const kinds[] = {"zero", "weight_tare", "belt_tare", "wind_on", "record_only"};

void run_sheet_free(struct run_sheet *sheet)
{
    if (sheet == NULL)
        return;
    for (size_t i = 0; i < sheet->n; i++) {
        for (size_t k = 0; k < sheet->runs[i].n_logs; k++) {
            free(sheet->runs[i].logs[k].map);
            free(sheet->runs[i].logs[k].file);
            free(sheet->runs[i].logs[k].block);
        }
        free(sheet->runs[i].logs);
    }
    free(sheet->runs);
    sheet_free(sheet->sheet);
    free(sheet);
}

int run_is_record_only(const struct run_entry *run)
{
    return strcmp(run->kind, "record_only") == 0;
}

const struct run_entry *run_find(const struct run_sheet *sheet, const char *name, size_t length)
{
    for (size_t i = 0; i < sheet->n; i++)
        if (strlen(sheet->runs[i].name) == length && memcmp(sheet->runs[i].name, name, length) == 0)
            return &sheet->runs[i];
    return NULL;
}

static void check_name(const struct run_sheet *sheet, size_t i, struct problems *problems)
{
    const struct sheet_row *row = &sheet->sheet->rows[i];
    const char *name = sheet->runs[i].name;
    if (name[0] == '\0' || strcmp(name, "none") == 0 || strpbrk(name, "/+") != NULL) {
        sheet_problem(sheet->sheet, row, RUN_NAME, problems,
                      "'%s' cannot name a run; limit: not empty, not 'none', no '/' and no '+', "
                      "which mean something in the zero column; rename it",
                      name);
        return;
    }
    const struct run_entry *same = run_find(sheet, name, strlen(name));
    if (same != &sheet->runs[i])
        sheet_problem(sheet->sheet, row, RUN_NAME, problems,
                      "run '%s' is on line %zu already; limit: one row a run; rename one", name,
                      same->line);
}

static void check_entry(const struct run_sheet *sheet, size_t i, struct problems *problems)
{
    if (strchr(sheet->runs[i].entry, '/') != NULL)
        sheet_problem(sheet->sheet, &sheet->sheet->rows[i], RUN_ENTRY, problems,
                      "entry '%s' holds a '/', which stands between facility, entry and "
                      "configuration; rename it",
                      sheet->runs[i].entry);
}

/* Names that tables show and commands take. */
static void check_characters(const struct run_sheet *sheet, size_t i, struct problems *problems)
{
    static const enum run_column names[] = {RUN_NAME, RUN_FACILITY, RUN_ENTRY, RUN_CONFIGURATION};
    for (size_t k = 0; k < sizeof names / sizeof names[0]; k++)
        sheet_check_name(sheet->sheet, &sheet->sheet->rows[i], names[k], columns[names[k]].name,
                         problems);
}

static void check_kind(const struct run_sheet *sheet, size_t i, struct problems *problems)
{
    const struct sheet_row *row = &sheet->sheet->rows[i];
    const struct run_entry *run = &sheet->runs[i];
    size_t k = 0;
    while (k < sizeof kinds / sizeof kinds[0] && strcmp(run->kind, kinds[k]) != 0)
        k++;
    if (k == sizeof kinds / sizeof kinds[0])
        sheet_problem(sheet->sheet, row, RUN_KIND, problems,
                      "kind '%s' is unknown; limit: zero, weight_tare, belt_tare, wind_on or "
                      "record_only; correct "
                      "it",
                      run->kind);
    if (strcmp(run->kind, "wind_on") == 0 && run->configuration[0] == '\0')
        sheet_problem(sheet->sheet, row, RUN_CONFIGURATION, problems,
                      "wind-on run '%s' has no configuration; name it", run->name);
}

static void read_start(struct run_sheet *sheet, size_t i, struct problems *problems)
{
    struct run_entry *run = &sheet->runs[i];
    const char *wrong = iso_time_parse(run->start_text, &run->start);
    if (wrong != NULL)
        sheet_problem(sheet->sheet, &sheet->sheet->rows[i], RUN_START, problems,
                      "start '%s': %s; limit: like 2026-02-11T20:05:00+01:00; correct it",
                      run->start_text, wrong);
}

/* A copy of from..to without blanks at its ends; NULL without memory. */
static char *trimmed(const char *from, const char *to)
{
    while (from < to && (*from == ' ' || *from == '\t'))
        from++;
    while (to > from && (to[-1] == ' ' || to[-1] == '\t'))
        to--;
    return strndup(from, (size_t)(to - from));
}

/* One "map=file" of the logs cell. */
static enum status add_log(struct run_sheet *sheet, size_t i, const char *from, const char *to,
                           struct problems *problems, struct fault *fault)
{
    struct run_entry *run = &sheet->runs[i];
    const char *equal = memchr(from, '=', (size_t)(to - from));
    struct run_log *logs = realloc(run->logs, (run->n_logs + 1) * sizeof *logs);
    if (logs == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for runs.csv");
    run->logs = logs;
    struct run_log log = {trimmed(from, equal != NULL ? equal : to),
                          equal != NULL ? trimmed(equal + 1, to) : strdup(""), NULL};
    logs[run->n_logs++] = log;
    if (log.map == NULL || log.file == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for runs.csv");
    if (log.map[0] == '\0' || log.file[0] == '\0')
        sheet_problem(sheet->sheet, &sheet->sheet->rows[i], RUN_LOGS, problems,
                      "log '%.*s' of run '%s' is not written map=file; correct it",
                      (int)(to - from < 120 ? to - from : 120), from, run->name);
    for (size_t k = 0; k + 1 < run->n_logs; k++)
        if (strcmp(logs[k].file, log.file) == 0)
            sheet_problem(sheet->sheet, &sheet->sheet->rows[i], RUN_LOGS, problems,
                          "run '%s' names the log '%s' twice; limit: once; take one out", run->name,
                          log.file);
    return OK;
}

static enum status read_logs(struct run_sheet *sheet, size_t i, struct problems *problems,
                             struct fault *fault)
{
    const char *text = sheet->sheet->rows[i].cells[RUN_LOGS];
    if (text[0] == '\0') {
        sheet_problem(sheet->sheet, &sheet->sheet->rows[i], RUN_LOGS, problems,
                      "run '%s' names no log; write map=file", sheet->runs[i].name);
        return OK;
    }
    for (;;) {
        size_t length = strcspn(text, ";");
        enum status status = add_log(sheet, i, text, text + length, problems, fault);
        if (status != OK)
            return status;
        if (text[length] == '\0')
            return OK;
        text += length + 1;
    }
}

static struct run_entry entry_from(const struct sheet_row *row)
{
    return (struct run_entry){.name = row->cells[RUN_NAME],
                              .facility = row->cells[RUN_FACILITY],
                              .entry = row->cells[RUN_ENTRY],
                              .start_text = row->cells[RUN_START],
                              .configuration = row->cells[RUN_CONFIGURATION],
                              .kind = row->cells[RUN_KIND],
                              .balance = row->cells[RUN_BALANCE],
                              .zero = row->cells[RUN_ZERO],
                              .tare = row->cells[RUN_TARE],
                              .mounting = row->cells[RUN_MOUNTING],
                              .note = row->cells[RUN_NOTE],
                              .line = row->line};
}

static enum status read_runs(struct run_sheet *sheet, struct problems *problems,
                             struct fault *fault)
{
    enum status status = OK;
    sheet->runs = calloc(sheet->sheet->n_rows + 1, sizeof *sheet->runs);
    if (sheet->runs == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for runs.csv");
    sheet->n = sheet->sheet->n_rows;
    for (size_t i = 0; i < sheet->n; i++)
        sheet->runs[i] = entry_from(&sheet->sheet->rows[i]);
    for (size_t i = 0; i < sheet->n && status == OK; i++) {
        check_name(sheet, i, problems);
        check_entry(sheet, i, problems);
        check_characters(sheet, i, problems);
        check_kind(sheet, i, problems);
        read_start(sheet, i, problems);
        status = read_logs(sheet, i, problems, fault);
    }
    return status;
}

/* A sheet whose rows were all refused has been told of. */
static void check_not_empty(const struct run_sheet *sheet, size_t before, struct problems *problems)
{
    struct fault fault;
    if (sheet->n > 0 || problems->n > before)
        return;
    fault_set(&fault, BAD_INPUT, __FILE__, __LINE__,
              "the sheet has a header and no run; limit: one run at least; add its row");
    fault_where(&fault, "%s:%zu", sheet->sheet->name, sheet->sheet->header_line);
    problems_add(problems, &fault);
}

enum status run_sheet_read(const char *path, struct problems *problems, struct run_sheet **out,
                           struct fault *fault)
{
    struct run_sheet *sheet = calloc(1, sizeof *sheet);

    size_t before = problems->n;

    *out = NULL;
    if (sheet == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for runs.csv");
    enum status status =
        sheet_read(path, "runs.csv", columns, RUN_COLUMNS, problems, &sheet->sheet, fault);
    if (status == OK)
        status = read_runs(sheet, problems, fault);
    if (status != OK) {
        run_sheet_free(sheet);
        return status;
    }
    check_not_empty(sheet, before, problems);
    *out = sheet;
    return OK;
}
