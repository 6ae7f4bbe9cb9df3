/* export_command.c - see export_command.h. */
#include "report/export_command.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "report/redacted_folder.h"
#include "report/redacted_season.h"
#include "report/report_files.h"
#include "report/report_tables.h"

struct request {
    const struct csv_table *table;
    struct table_form form;
    const char *output;            /* NULL: standard output */
    struct report_options options; /* of them redaction and its key */
};

/* 1 when the table's file without its ending has this name. */
static int is_named(const struct csv_table *table, const char *name)
{
    size_t length = strlen(name);

    return strncmp(table->file, name, length) == 0 && strcmp(table->file + length, ".csv") == 0;
}

static enum status find_table(const char *name, const struct csv_table **table, struct fault *fault)
{
    char names[400] = "";
    size_t used = 0;

    for (size_t i = 0; report_tables[i] != NULL; i++) {
        const char *file = report_tables[i]->file;
        if (is_named(report_tables[i], name))
            *table = report_tables[i];
        if (used < sizeof names)
            used += (size_t)snprintf(names + used, sizeof names - used, "%.*s, ",
                                     (int)strcspn(file, "."), file);
    }
    if (is_named(&csv_notes, name))
        *table = &csv_notes;
    if (*table == NULL)
        return FAIL(fault, BAD_INPUT, "there is no table '%.80s'; there are %snotes", name, names);
    return OK;
}

static enum status read_format(const char *word, enum table_format *format, struct fault *fault)
{
    static const struct {
        const char *word;
        enum table_format format;
    } formats[] = {{"csv", TABLE_CSV}, {"semicolon", TABLE_CSV_SEMICOLON}, {"json", TABLE_JSON}};

    for (size_t i = 0; word != NULL && i < sizeof formats / sizeof formats[0]; i++)
        if (strcmp(formats[i].word, word) == 0) {
            *format = formats[i].format;
            return OK;
        }
    return FAIL(fault, BAD_INPUT, "--format takes csv, semicolon or json%s%.40s%s",
                word != NULL ? ", not '" : "", word != NULL ? word : "", word != NULL ? "'" : "");
}

static enum status check(const struct request *request, struct fault *fault)
{
    if (request->table == NULL)
        return FAIL(fault, BAD_INPUT, "export takes a table; see `lapwing export --help`");
    if (request->table == &csv_notes && !request->form.with_notes)
        return FAIL(fault, BAD_INPUT, "notes are what people wrote: they leave with --notes only");
    return report_options_check(&request->options, fault);
}

static enum status read_request(int argc, char **argv, struct request *request, struct fault *fault)
{
    enum status status = OK;

    for (int i = 1; status == OK && i < argc; i++) {
        int has_next = i + 1 < argc;
        int is_taken = 0;
        status = report_options_redact(argc, argv, &i, &request->options, &is_taken, fault);
        if (status != OK || is_taken)
            continue;
        if (strcmp(argv[i], "--notes") == 0)
            request->form.with_notes = request->options.notes = 1;
        else if (strcmp(argv[i], "--format") == 0)
            status = read_format(has_next ? argv[++i] : NULL, &request->form.format, fault);
        else if (strcmp(argv[i], "--output") == 0 && has_next)
            request->output = argv[++i];
        else if (argv[i][0] == '-')
            status = FAIL(fault, BAD_INPUT,
                          "export cannot take '%.80s'%s; see `lapwing export "
                          "--help`",
                          argv[i], strcmp(argv[i], "--output") == 0 ? " without a file" : "");
        else if (request->table != NULL)
            status = FAIL(fault, BAD_INPUT, "export takes one table, not also '%.80s'", argv[i]);
        else
            status = find_table(argv[i], &request->table, fault);
    }
    return status == OK ? check(request, fault) : status;
}

static enum status give(const struct request *request, const struct buffer *text,
                        struct fault *fault)
{
    if (request->output != NULL)
        return report_save(request->output, text, fault);
    if (fwrite(buffer_string(text), 1, text->length, stdout) != text->length || fflush(stdout) != 0)
        return FAIL(fault, WRITE_FAILED, "cannot write to standard output: %s", strerror(errno));
    return OK;
}

/* The table, whole, before a byte of it is given. */
static enum status make(struct store *store, const char *campaign, const struct request *request,
                        struct buffer *text, struct fault *fault)
{
    struct redacted_season season;

    enum status status =
        redacted_season_open(store, campaign, &request->options, 0, &season, fault);
    if (status != OK)
        return status;
    status = table_write(season.store, request->table, &request->form, text, fault);
    return redacted_season_end(&season, status, fault);
}

static int run(const struct common_options *common, int argc, char **argv, struct fault *fault)
{
    struct request request = {.form = {TABLE_CSV, 0}};
    struct store *store = NULL;
    struct buffer text = {0};
    char path[REPORT_PATH];

    enum status status = read_request(argc, argv, &request, fault);
    if (status == OK)
        status = report_path(common->folder, "season.sqlite", path, fault);
    if (status == OK && request.output != NULL && request.options.redaction == REDACT_NOTHING)
        status = redacted_folder_names(common->folder, request.output, fault);
    if (status == OK)
        status = store_open(path, STORE_READ_ONLY, &store, fault);
    if (status == OK)
        status = make(store, common->folder, &request, &text, fault);
    if (status == OK)
        status = give(&request, &text, fault);
    buffer_free(&text);
    enum status closed = store_close(store, status == OK ? fault : NULL);
    return fault_exit_code(status != OK ? status : closed);
}

const struct command export_command = {
    "export", "one table for another program",
    "usage: lapwing [-C DIR] export TABLE [--format csv|semicolon|json] [--notes] [--output FILE]\n"
    "                                    [--redact [deltas-only]] [--redact-key FILE]\n"
    "\n"
    "Writes one of the tables that lie beside the page: deltas, points, taps, tap_changes, loads,\n"
    "exclusions, channels, budget, ratios, equal_balance, packages, traces, observations,\n"
    "left_out, flags; and with --notes, notes: what people wrote. All entries of the season,\n"
    "units in the second row (JSON: in columns).\n"
    "\n"
    "  --format csv        commas and decimal points\n"
    "  --format semicolon  semicolons and decimal commas\n"
    "  --format json       texts as they are, numbers that read back the same\n"
    "  --output FILE       there, whole or not at all; by default on standard output\n"
    "  --redact            ids for names, as in `lapwing report --redact`\n"
    "  --redact-key FILE   makes the ids, and says which is which name; see `lapwing report "
    "--help`\n",
    run};
