/* sheet_store.c - see sheet_store.h. */
#include "ingest/sheet_store.h"

#include "ingest/image_names.h"

static enum status put_configuration(struct statement *statement,
                                     const struct configuration_sheet *sheet, size_t i,
                                     struct fault *fault)
{
    const struct configuration *item = &sheet->items[i];
    const char *const texts[] = {item->name, item->parent[0] != '\0' ? item->parent : NULL,
                                 sheet->items[item->baseline_index].name, item->change, item->note};
    enum status status = statement_bind_integer(statement, 6, (int64_t)i, fault);
    if (status == OK)
        status = statement_bind_real(statement, 7, item->change_time, fault);
    for (int k = 0; k < 5 && status == OK; k++)
        status = statement_bind_text(statement, k + 1, texts[k], fault);
    return status != OK ? status : statement_run(statement, fault);
}

/* Whole sheets are written again, so nothing of before is left. */
static enum status write_parts(struct store *store, const struct configuration_sheet *sheet,
                               struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = statement_prepare(
        store, "INSERT INTO configuration_part (configuration, part, position) VALUES (?1, ?2, ?3)",
        &statement, fault);
    for (size_t i = 0; i < sheet->n; i++)
        for (size_t k = 0; k < sheet->items[i].n_parts && status == OK; k++) {
            status = statement_bind_text(statement, 1, sheet->items[i].name, fault);
            if (status == OK)
                status = statement_bind_text(statement, 2,
                                             sheet->items[sheet->items[i].parts[k]].name, fault);
            if (status == OK)
                status = statement_bind_integer(statement, 3, (int64_t)k, fault);
            if (status == OK)
                status = statement_run(statement, fault);
        }
    statement_free(statement);
    return status;
}

static enum status put_images(struct statement *statement, const struct configuration *item,
                              struct fault *fault)
{
    char name[IMAGE_NAME];
    const char *rest = item->images;
    enum status status = OK;
    for (int64_t k = 0; status == OK && image_names_next(&rest, name); k++) {
        status = statement_bind_text(statement, 1, item->name, fault);
        if (status == OK)
            status = statement_bind_integer(statement, 2, k, fault);
        if (status == OK)
            status = statement_bind_text(statement, 3, name, fault);
        if (status == OK)
            status = statement_run(statement, fault);
    }
    return status;
}

static enum status write_images(struct store *store, const struct configuration_sheet *sheet,
                                struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = statement_prepare(
        store,
        "INSERT INTO configuration_image (configuration, position, file) VALUES (?1, ?2, ?3)",
        &statement, fault);
    for (size_t i = 0; i < sheet->n && status == OK; i++)
        status = put_images(statement, &sheet->items[i], fault);
    statement_free(statement);
    return status;
}

static enum status write_configurations(struct store *store,
                                        const struct configuration_sheet *sheet,
                                        struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status =
        store_execute(store,
                      "DELETE FROM configuration_image; DELETE FROM configuration_part; "
                      "DELETE FROM configuration",
                      fault);
    if (status == OK)
        status = statement_prepare(
            store,
            "INSERT INTO configuration (configuration, parent, baseline, change, note, "
            "sequence, change_time_s) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            &statement, fault);
    for (size_t i = 0; i < sheet->n && status == OK; i++)
        status = put_configuration(statement, sheet, i, fault);
    statement_free(statement);
    if (status == OK)
        status = write_parts(store, sheet, fault);
    return status == OK ? write_images(store, sheet, fault) : status;
}

static enum status put_tap(struct statement *statement, const struct tap *tap, size_t sequence,
                           struct fault *fault)
{
    const double numbers[] = {tap->position[0], tap->position[1], tap->position[2],
                              tap->normal[0],   tap->normal[1],   tap->normal[2],
                              tap->area,        tap->tube_length};
    enum status status = statement_bind_text(statement, 1, tap->name, fault);
    if (status == OK)
        status = statement_bind_integer(statement, 2, (int64_t)sequence, fault);
    if (status == OK)
        status = statement_bind_text(statement, 3, tap->column, fault);
    if (status == OK)
        status = statement_bind_text(statement, 4, tap->surface, fault);
    for (int k = 0; k < 8 && status == OK; k++)
        status = statement_bind_real(statement, 5 + k, numbers[k], fault);
    return status != OK ? status : statement_run(statement, fault);
}

static enum status write_taps(struct store *store, const struct tap_sheet *sheet,
                              struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = store_execute(store, "DELETE FROM tap", fault);
    if (status != OK || sheet == NULL)
        return status;
    status = statement_prepare(
        store,
        "INSERT INTO tap (tap, sequence, column_name, surface, x_m, y_m, z_m, normal_x, "
        "normal_y, normal_z, area_m2, tube_length_m) "
        "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12)",
        &statement, fault);
    for (size_t i = 0; i < sheet->n && status == OK; i++)
        status = put_tap(statement, &sheet->taps[i], i, fault);
    statement_free(statement);
    return status;
}

static enum status write_calibrations(struct store *store, const struct season_sheets *sheets,
                                      struct fault *fault)
{
    enum status status = store_execute(store, "DELETE FROM calibration_file", fault);
    for (size_t i = 0; i < sheets->campaign->n_balances && status == OK; i++) {
        const struct balance *balance = &sheets->campaign->balances[i];
        status = calibration_store(store, balance->name, balance->file, balance->output_unit,
                                   &sheets->calibrations[i], fault);
    }
    return status;
}

static enum status put_decision(struct statement *statement, const struct user_decision *decision,
                                struct fault *fault)
{
    const char *const texts[] = {decision->run, decision->point, decision->decision,
                                 decision->who, decision->when,  decision->why};
    enum status status = OK;
    for (int k = 0; k < 6 && status == OK; k++)
        status = statement_bind_text(statement, k + 1, texts[k], fault);
    if (status == OK)
        status = statement_bind_integer(statement, 7, (int64_t)decision->line, fault);
    return status != OK ? status : statement_run(statement, fault);
}

static enum status write_decisions(struct store *store, const struct decision_sheet *sheet,
                                   struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = store_execute(store, "DELETE FROM decision", fault);
    if (status != OK || sheet == NULL)
        return status;
    status = statement_prepare(store,
                               "INSERT INTO decision (run, point, decision, who, decided, why, "
                               "sheet_line) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
                               &statement, fault);
    for (size_t i = 0; i < sheet->n && status == OK; i++)
        status = put_decision(statement, &sheet->items[i], fault);
    statement_free(statement);
    return status;
}

static enum status add_name(struct statement *statement, const char *run, struct fault *fault)
{
    enum status status = statement_bind_text(statement, 1, run, fault);
    return status != OK ? status : statement_run(statement, fault);
}

/* The runs of the store that the sheet does not have, gathered in a table of the connection. */
static enum status drop_runs(struct store *store, const struct run_sheet *sheet,
                             struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = store_execute(
        store,
        "CREATE TEMP TABLE IF NOT EXISTS sheet_run (run TEXT PRIMARY KEY) WITHOUT ROWID;"
        "DELETE FROM sheet_run",
        fault);
    if (status == OK)
        status =
            statement_prepare(store, "INSERT INTO sheet_run (run) VALUES (?1)", &statement, fault);
    for (size_t i = 0; i < sheet->n && status == OK; i++)
        status = add_name(statement, sheet->runs[i].name, fault);
    statement_free(statement);
    if (status != OK)
        return status;
    return store_execute(store,
                         "DELETE FROM flag_row WHERE reduction IS NULL AND run <> '' "
                         "AND run NOT IN (SELECT run FROM sheet_run);"
                         "DELETE FROM run WHERE run NOT IN (SELECT run FROM sheet_run)",
                         fault);
}

enum status sheet_store_write(struct store *store, const struct season_sheets *sheets,
                              struct fault *fault)
{
    enum status status = write_configurations(store, sheets->configurations, fault);
    if (status == OK)
        status = write_taps(store, sheets->taps, fault);
    if (status == OK)
        status = write_calibrations(store, sheets, fault);
    if (status == OK)
        status = write_decisions(store, sheets->decisions, fault);
    if (status == OK)
        status = support_sheets_store(store, sheets->supports,
                                      TABLE_KINDS * sheets->campaign->n_facilities, fault);
    return status != OK ? status : drop_runs(store, sheets->runs, fault);
}
