/* csv_out.c - see csv_out.h. */
#include "report/csv_out.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/query.h"
#include "schema/csv_cell.h"
#include "schema/number.h"

void csv_text(struct buffer *out, const char *text)
{
    buffer_text(out, "\"");
    if (csv_is_formula(text))
        buffer_text(out, "'");
    for (const char *at = text; *at != '\0';) {
        size_t length = strcspn(at, "\"");
        buffer_add(out, at, length);
        at += length;
        if (*at != '"')
            break;
        buffer_text(out, "\"\"");
        at++;
    }
    buffer_text(out, "\"");
}

/* How a separated form writes. */
struct marks {
    const char *separator;
    char decimal;
};

static const struct marks marks_of[] = {
    [TABLE_CSV] = {",", '.'}, [TABLE_CSV_SEMICOLON] = {";", ','}};

static void csv_number(struct buffer *out, double value, char decimal)
{
    char text[40];

    if (!isfinite(value))
        return;
    (void)number_print(value, text, sizeof text);
    char *point = strchr(text, '.');
    if (point != NULL)
        *point = decimal;
    buffer_text(out, text);
}

struct writing {
    const struct csv_table *table;
    struct buffer *out;
    struct marks marks;
    int with_notes;
};

static enum status take_row(struct statement *row, void *context, struct fault *fault)
{
    struct writing *writing = context;
    struct buffer *out = writing->out;

    (void)fault;
    for (size_t i = 0; i < writing->table->n; i++) {
        enum csv_kind kind = writing->table->columns[i].kind;
        if (i > 0)
            buffer_text(out, writing->marks.separator);
        if (kind == CSV_NUMBER) {
            csv_number(out, statement_real(row, (int)i), writing->marks.decimal);
            continue;
        }
        const char *text = statement_text(row, (int)i);
        int is_kept = text != NULL && (kind != CSV_NOTE || writing->with_notes);
        csv_text(out, is_kept ? text : "");
    }
    buffer_text(out, "\n");
    return OK;
}

static void write_heads(const struct csv_table *table, const char *separator, struct buffer *out)
{
    for (size_t i = 0; i < table->n; i++) {
        buffer_text(out, i > 0 ? separator : "");
        buffer_text(out, table->columns[i].name);
    }
    buffer_text(out, "\n");
    for (size_t i = 0; i < table->n; i++) {
        buffer_text(out, i > 0 ? separator : "");
        csv_text(out, table->columns[i].unit);
    }
    buffer_text(out, "\n");
}

enum status table_write(struct store *store, const struct csv_table *table,
                        const struct table_form *form, struct buffer *out, struct fault *fault)
{
    if (form->format == TABLE_JSON)
        return json_write(store, table, form->with_notes, out, fault);
    struct writing writing = {table, out, marks_of[form->format], form->with_notes};
    write_heads(table, writing.marks.separator, out);
    enum status status = query_each(store, table->sql, NULL, take_row, &writing, fault);
    if (status != OK)
        return status;
    return buffer_status(out, table->file, fault);
}

enum status csv_write(struct store *store, const struct csv_table *table, struct buffer *out,
                      struct fault *fault)
{
    static const struct table_form plain = {TABLE_CSV, 0};

    return table_write(store, table, &plain, out, fault);
}

void table_file(const struct csv_table *table, enum table_format format, char out[TABLE_FILE])
{
    const char *dot = strrchr(table->file, '.');
    int length = dot != NULL ? (int)(dot - table->file) : (int)strlen(table->file);

    (void)snprintf(out, TABLE_FILE, "%.*s%s", length, table->file,
                   format == TABLE_JSON ? ".json" : ".csv");
}
