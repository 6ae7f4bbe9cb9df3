/* workbook.c - see workbook.h. */
#include "report/workbook.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>
#include <xlsxwriter.h>

#include "report/query.h"
#include "report/report_files.h"
#include "report/scope.h"
#include "schema/entry.h"

enum {
    HEADS = 2,
    DECIMALS = 10, /* 0 .. 9 */
    COLUMNS_MOST = 128,
    TEXT_MOST = 32000 /* bytes of a cell; the format's limit is 32767 characters */
};

struct sheet {
    const char *name;
    const struct csv_table *table;
    int is_optional; /* 1: no sheet without rows */
};

static const struct sheet sheets[] = {
    {"Deltas", &csv_deltas, 0}, {"Observations", &csv_observations, 0},
    {"Points", &csv_points, 0}, {"Needs your eyes", &workbook_flags, 0},
    {"Budget", &csv_budget, 1}, {"How it was made", &workbook_method, 0},
};

struct making {
    struct store *store;
    lxw_workbook *workbook;
    lxw_format *head, *unit, *decimals[DECIMALS];
    const char *facility, *entry; /* rows of others are passed over */
    int with_notes;
    /* of the sheet at hand */
    const struct sheet *sheet;
    lxw_worksheet *page;
    lxw_row_t rows;
    int by[COLUMNS_MOST]; /* column of the uncertainty, -1 for none */
    size_t width[COLUMNS_MOST];
    int is_cut; /* 1: rows beyond the format's limit were left out */
    lxw_error error;
};

/* What went wrong first is kept. */
static void note_error(struct making *making, lxw_error error)
{
    if (making->error == LXW_NO_ERROR)
        making->error = error;
}

static void write_text(struct making *making, lxw_row_t row, size_t column, const char *text,
                       lxw_format *format)
{
    char cut[TEXT_MOST + 1];
    size_t length = strlen(text);

    if (length > TEXT_MOST) {
        length = TEXT_MOST;
        while (length > 0 && ((unsigned char)text[length] & 0xC0U) == 0x80U)
            length--;
        memcpy(cut, text, length);
        cut[length] = '\0';
        text = cut;
    }
    if (length > making->width[column])
        making->width[column] = length;
    if (length > 0)
        note_error(making,
                   worksheet_write_string(making->page, row, (lxw_col_t)column, text, format));
}

/* Two significant figures of the uncertainty; as it comes without one. */
static lxw_format *format_for(const struct making *making, double uncertainty)
{
    if (!isfinite(uncertainty) || uncertainty <= 0)
        return NULL;
    double decimals = 1 - floor(log10(uncertainty));
    if (decimals < 0)
        decimals = 0;
    return making->decimals[decimals < DECIMALS ? (int)decimals : DECIMALS - 1];
}

static void write_number(struct making *making, struct statement *row, size_t i)
{
    double value = statement_real(row, (int)i);
    int by = making->by[i];

    if (!isfinite(value))
        return;
    lxw_format *format = by >= 0 ? format_for(making, statement_real(row, by)) : NULL;
    note_error(making, worksheet_write_number(making->page, making->rows + HEADS, (lxw_col_t)i,
                                              value, format));
}

/* 1 when the row's column of that name, where there is one, has that text. */
static int fits(const struct csv_table *table, struct statement *row, const char *name,
                const char *text)
{
    for (size_t i = 0; i < table->n; i++)
        if (strcmp(table->columns[i].name, name) == 0) {
            const char *found = statement_text(row, (int)i);
            return found != NULL && strcmp(found, text) == 0;
        }
    return 1;
}

static void add_page(struct making *making)
{
    making->page = workbook_add_worksheet(making->workbook, making->sheet->name);
    if (making->page == NULL)
        note_error(making, LXW_ERROR_MEMORY_MALLOC_FAILED);
}

static enum status take_row(struct statement *row, void *context, struct fault *fault)
{
    struct making *making = context;
    const struct csv_table *table = making->sheet->table;

    (void)fault;
    if (!fits(table, row, "facility", making->facility) ||
        !fits(table, row, "entry", making->entry))
        return OK;
    if (making->page == NULL)
        add_page(making);
    making->is_cut = making->rows + HEADS >= LXW_ROW_MAX - 1;
    if (making->page == NULL || making->is_cut)
        return OK;
    for (size_t i = 0; i < table->n; i++) {
        const char *text = NULL;
        enum csv_kind kind = table->columns[i].kind;
        if (kind == CSV_NUMBER)
            write_number(making, row, i);
        else if ((kind != CSV_NOTE || making->with_notes) &&
                 (text = statement_text(row, (int)i)) != NULL)
            write_text(making, making->rows + HEADS, i, text, NULL);
    }
    making->rows++;
    return OK;
}

static void write_heads(struct making *making)
{
    const struct csv_table *table = making->sheet->table;

    for (size_t i = 0; i < table->n; i++) {
        write_text(making, 0, i, table->columns[i].name, making->head);
        size_t width = making->width[i];
        write_text(making, 1, i, table->columns[i].unit, making->unit);
        making->width[i] = width < 10 ? 10 : width; /* units may run over */
        note_error(making,
                   worksheet_set_column(making->page, (lxw_col_t)i, (lxw_col_t)i,
                                        (double)(width > 48 ? 48 : making->width[i]) + 2, NULL));
    }
    if (making->is_cut)
        note_error(making, worksheet_write_string(making->page, LXW_ROW_MAX - 1, 0,
                                                  "more rows than a sheet holds: the CSV files "
                                                  "have them all",
                                                  NULL));
    worksheet_freeze_panes(making->page, HEADS, 1);
}

static enum status write_sheet(struct making *making, const struct sheet *sheet,
                               struct fault *fault)
{
    making->sheet = sheet;
    making->page = NULL;
    making->rows = 0;
    making->is_cut = 0;
    for (size_t i = 0; i < sheet->table->n; i++) {
        making->by[i] = workbook_uncertainty(sheet->table, i);
        making->width[i] = 0;
    }
    if (!sheet->is_optional)
        add_page(making);
    enum status status =
        query_each(making->store, sheet->table->sql, NULL, take_row, making, fault);
    if (status == OK && making->page != NULL)
        write_heads(making);
    return status;
}

static lxw_format *add_format(struct making *making)
{
    lxw_format *format = workbook_add_format(making->workbook);

    if (format == NULL)
        note_error(making, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return format;
}

static void add_formats(struct making *making)
{
    making->head = add_format(making);
    if (making->head != NULL)
        format_set_bold(making->head);
    making->unit = add_format(making);
    if (making->unit != NULL)
        format_set_italic(making->unit);
    for (int d = 0; d < DECIMALS; d++) {
        char text[DECIMALS + 3] = "0";
        if (d > 0)
            (void)snprintf(text, sizeof text, "0.%.*s", d, "000000000");
        making->decimals[d] = add_format(making);
        if (making->decimals[d] != NULL)
            format_set_num_format(making->decimals[d], text);
    }
}

/* A date is asked for by the format; 1980 where nothing was run. The name of the application that the format
 * also asks for is the library's own: its interface has no way to set it. */
static enum status set_properties(struct making *making, struct fault *fault)
{
    double created = NAN;
    char title[512];
    char subject[] = "deltas, observations, points, flags and settings of one entry";
    lxw_doc_properties properties = {.title = title, .subject = subject};

    (void)snprintf(title, sizeof title, "%.200s, %.200s", making->facility, making->entry);
    enum status status =
        query_real(making->store, "SELECT max(start_s) FROM page_run", NULL, &created, fault);
    properties.created = (time_t)(isfinite(created) && created > 315532800 ? created : 315532800);
    note_error(making, workbook_set_properties(making->workbook, &properties));
    return status;
}

static enum status fill(struct making *making, struct fault *fault)
{
    add_formats(making);
    enum status status = set_properties(making, fault);
    for (size_t i = 0; status == OK && i < sizeof sheets / sizeof sheets[0]; i++)
        status = write_sheet(making, &sheets[i], fault);
    return status;
}

static enum status make(struct making *making, const char *path, const char *beside, char *folder,
                        struct fault *fault)
{
    lxw_workbook_options options = {.constant_memory = LXW_FALSE, .tmpdir = folder};

    making->workbook = workbook_new_opt(beside, &options);
    if (making->workbook == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a workbook");
    enum status status = fill(making, fault);
    lxw_error closed = workbook_close(making->workbook);
    note_error(making, closed);
    if (status == OK && making->error == LXW_ERROR_MEMORY_MALLOC_FAILED)
        status = FAIL(fault, NO_MEMORY, "no memory for the workbook %s", path);
    else if (status == OK && making->error != LXW_NO_ERROR)
        status = workbook_refuse(path, lxw_strerror(making->error), fault);
    return status == OK ? workbook_settle(beside, path, fault) : status;
}

enum status workbook_write(struct store *store, const char *path, int with_notes,
                           struct fault *fault)
{
    struct making making = {.store = store, .facility = "", .entry = "", .with_notes = with_notes};
    struct season_entries entries = {0};
    char beside[REPORT_PATH + 16];
    char folder[REPORT_PATH];

    (void)snprintf(beside, sizeof beside, "%s.making", path);
    (void)snprintf(folder, sizeof folder, "%s", path);
    char *slash = strrchr(folder, '/');
    (void)snprintf(slash != NULL ? slash : folder, 2, "%s", slash != NULL ? "" : ".");
    enum status status = entries_read(store, &entries, fault);
    if (status == OK && entries.n > 0) {
        making.facility = entries.items[0].facility;
        making.entry = entries.items[0].entry;
    }
    if (status == OK)
        status = scope_set(store, making.facility, making.entry, fault);
    if (status == OK)
        status = make(&making, path, beside, folder, fault);
    (void)unlink(beside);
    entries_end(&entries);
    return status;
}
