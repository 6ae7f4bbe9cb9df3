/* csv_out.c - see csv_out.h. */
#include "report/csv_out.h"

#include <math.h>
#include <string.h>

#include "report/query.h"
#include "schema/number.h"

void csv_text(struct buffer *out, const char *text)
{
    buffer_text(out, "\"");
    if (text[0] != '\0' && strchr("=+-@\t\r", text[0]) != NULL)
        buffer_text(out, "'");
    for (const char *at = text; *at != '\0'; at++) {
        if (*at == '"')
            buffer_text(out, "\"");
        buffer_add(out, at, 1);
    }
    buffer_text(out, "\"");
}

static void csv_number(struct buffer *out, double value)
{
    char text[40];

    if (!isfinite(value))
        return;
    (void)number_print(value, text, sizeof text);
    buffer_text(out, text);
}

struct writing {
    const struct csv_table *table;
    struct buffer *out;
};

static enum status take_row(struct statement *row, void *context, struct fault *fault)
{
    struct writing *writing = context;
    struct buffer *out = writing->out;

    (void)fault;
    for (size_t i = 0; i < writing->table->n; i++) {
        if (i > 0)
            buffer_text(out, ",");
        if (writing->table->columns[i].kind == CSV_NUMBER) {
            csv_number(out, statement_real(row, (int)i));
            continue;
        }
        const char *text = statement_text(row, (int)i);
        csv_text(out, text != NULL ? text : "");
    }
    buffer_text(out, "\n");
    return OK;
}

static void write_heads(const struct csv_table *table, struct buffer *out)
{
    for (size_t i = 0; i < table->n; i++) {
        buffer_text(out, i > 0 ? "," : "");
        buffer_text(out, table->columns[i].name);
    }
    buffer_text(out, "\n");
    for (size_t i = 0; i < table->n; i++) {
        buffer_text(out, i > 0 ? "," : "");
        csv_text(out, table->columns[i].unit);
    }
    buffer_text(out, "\n");
}

enum status csv_write(struct store *store, const struct csv_table *table, struct buffer *out,
                      struct fault *fault)
{
    struct writing writing = {table, out};

    write_heads(table, out);
    enum status status = query_each(store, table->sql, NULL, take_row, &writing, fault);
    if (status != OK)
        return status;
    return buffer_status(out, table->file, fault);
}
