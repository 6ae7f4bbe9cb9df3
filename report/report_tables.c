/* report_tables.c - see report_tables.h. */
#include "report/report_tables.h"

#include "report/report_files.h"

const struct csv_table *const report_tables[] = {
    &csv_deltas,       &csv_points,        &csv_taps,     &csv_tap_changes,
    &csv_loads,        &csv_exclusions,    &csv_channels, &csv_budget,
    &csv_ratios,       &csv_equal_balance, &csv_packages, &csv_traces,
    &csv_observations, &csv_left_out,      &csv_flags,    NULL};

static enum status write_one(struct store *store, const char *path, const struct csv_table *table,
                             const struct table_form *form, struct fault *fault)
{
    struct buffer text = {0};

    enum status status = table_write(store, table, form, &text, fault);
    if (status == OK)
        status = report_save(path, &text, fault);
    buffer_free(&text);
    return status;
}

/* One table in one format: written, or gone. */
static enum status settle(struct store *store, const char *folder, const struct csv_table *table,
                          const struct table_form *form, int is_wanted, struct fault *fault)
{
    char name[TABLE_FILE];
    char path[REPORT_PATH];

    table_file(table, form->format, name);
    enum status status = report_path(folder, name, path, fault);
    if (status != OK)
        return status;
    return is_wanted ? write_one(store, path, table, form, fault) : report_remove(path, fault);
}

static enum status settle_table(struct store *store, const char *folder,
                                const struct csv_table *table, const struct report_options *options,
                                int is_wanted, struct fault *fault)
{
    struct table_form csv = {options->semicolon ? TABLE_CSV_SEMICOLON : TABLE_CSV, options->notes};
    struct table_form json = {TABLE_JSON, options->notes};

    enum status status = settle(store, folder, table, &csv, is_wanted, fault);
    if (status != OK)
        return status;
    return settle(store, folder, table, &json, is_wanted && options->json, fault);
}

enum status report_tables_write(struct store *store, const char *folder,
                                const struct report_options *options, struct fault *fault)
{
    enum status status = OK;

    for (size_t i = 0; status == OK && report_tables[i] != NULL; i++)
        status = settle_table(store, folder, report_tables[i], options, 1, fault);
    if (status != OK)
        return status;
    return settle_table(store, folder, &csv_notes, options, options->notes, fault);
}

static int say(const struct csv_table *table, enum table_format format, report_file_said *said,
               void *context)
{
    char name[TABLE_FILE];

    table_file(table, format, name);
    return said(context, name);
}

int report_tables_say(const struct report_options *options, report_file_said *said, void *context)
{
    int fine = 1;

    for (size_t i = 0; report_tables[i] != NULL; i++) {
        fine &= say(report_tables[i], TABLE_CSV, said, context);
        fine &= !options->json || say(report_tables[i], TABLE_JSON, said, context);
    }
    if (!options->notes)
        return fine;
    fine &= say(&csv_notes, TABLE_CSV, said, context);
    return fine & (!options->json || say(&csv_notes, TABLE_JSON, said, context));
}
