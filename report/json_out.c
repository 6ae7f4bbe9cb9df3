/* json_out.c - a table as JSON; see csv_out.h. Texts are quoted by SQLite, which knows what has to be
 * escaped; its own numbers have 15 digits and would not read back the same, so those are ours.     */
#include <math.h>
#include <string.h>

#include "report/csv_out.h"
#include "report/query.h"
#include "schema/number.h"

struct writing {
    const struct csv_table *table;
    struct buffer *out;
    struct statement *quote; /* json_quote(?1) */
    int with_notes;
    size_t rows;
};

static enum status add_text(struct writing *writing, const char *text, struct fault *fault)
{
    int row = 0;

    enum status status = statement_bind_text(writing->quote, 1, text, fault);
    if (status == OK)
        status = statement_step(writing->quote, &row, fault);
    if (status == OK && row)
        buffer_text(writing->out, statement_text(writing->quote, 0));
    enum status reset = statement_reset(writing->quote, status == OK ? fault : NULL);
    return status != OK ? status : reset;
}

static void add_number(struct buffer *out, double value)
{
    char text[40] = "null";

    if (isfinite(value))
        (void)number_print(value, text, sizeof text);
    buffer_text(out, text);
}

static enum status add_cell(struct writing *writing, struct statement *row, size_t i,
                            struct fault *fault)
{
    enum csv_kind kind = writing->table->columns[i].kind;
    const char *text = kind == CSV_NUMBER ? NULL : statement_text(row, (int)i);

    if (kind == CSV_NUMBER) {
        add_number(writing->out, statement_real(row, (int)i));
        return OK;
    }
    if (text != NULL && (kind != CSV_NOTE || writing->with_notes))
        return add_text(writing, text, fault);
    buffer_text(writing->out, "null");
    return OK;
}

static enum status take_row(struct statement *row, void *context, struct fault *fault)
{
    struct writing *writing = context;
    enum status status = OK;

    buffer_text(writing->out, writing->rows++ > 0 ? ",\n{" : "\n{");
    for (size_t i = 0; status == OK && i < writing->table->n; i++) {
        buffer_text(writing->out, i > 0 ? "," : "");
        status = add_text(writing, writing->table->columns[i].name, fault);
        buffer_text(writing->out, ":");
        if (status == OK)
            status = add_cell(writing, row, i, fault);
    }
    buffer_text(writing->out, "}");
    return status;
}

static enum status write_head(struct writing *writing, struct fault *fault)
{
    const struct csv_table *table = writing->table;
    struct buffer *out = writing->out;

    buffer_text(out, "{\"table\":");
    enum status status = add_text(writing, table->file, fault);
    buffer_text(out, ",\"columns\":[");
    for (size_t i = 0; status == OK && i < table->n; i++) {
        buffer_text(out, i > 0 ? ",\n{\"name\":" : "\n{\"name\":");
        status = add_text(writing, table->columns[i].name, fault);
        buffer_text(out, ",\"unit\":");
        if (status == OK)
            status = add_text(writing, table->columns[i].unit, fault);
        buffer_text(out, "}");
    }
    buffer_text(out, "],\"rows\":[");
    return status;
}

enum status json_write(struct store *store, const struct csv_table *table, int with_notes,
                       struct buffer *out, struct fault *fault)
{
    struct writing writing = {table, out, NULL, with_notes, 0};

    enum status status = statement_prepare(store, "SELECT json_quote(?1)", &writing.quote, fault);
    if (status == OK)
        status = write_head(&writing, fault);
    if (status == OK)
        status = query_each(store, table->sql, NULL, take_row, &writing, fault);
    statement_free(writing.quote);
    buffer_text(out, "]}\n");
    return status == OK ? buffer_status(out, table->file, fault) : status;
}
