/* cell_refusal.c - see cell_refusal.h. */
#include "ingest/cell_refusal.h"

#include "ingest/cell_trouble.h"
#include "schema/utf8.h"

/* The sentence for a cell that looks like something known; what says so. */
static enum status known_trouble(const struct channel_map *map, const char *column,
                                 const struct table_cell *cell, const struct cell_trouble *trouble,
                                 struct fault *fault)
{
    int length = (int)(cell->length < 60 ? cell->length : 60);
    if (!trouble->may_be_missing)
        return FAIL(fault, BAD_INPUT, "column '%.80s': '%.*s' %s", column, length, cell->text,
                    trouble->what);
    return FAIL(fault, BAD_INPUT,
                "column '%.80s': '%.*s' %s; add \"%.*s\" to missing in map '%.60s' if it means no "
                "value, or correct it",
                column, length, cell->text, trouble->what, length, cell->text, map->name);
}

enum status cell_refusal_number(const struct cell_reader *reader, const struct header *header,
                                const struct text_table *table, const struct table_row *row,
                                size_t cell, struct fault *fault)
{
    const struct channel_map *map = reader->map;
    const struct table_cell *text = &row->cells[cell];
    const char *column = header->cells[cell].name;
    int length = (int)(text->length < 60 ? text->length : 60);
    struct cell_trouble trouble = cell_trouble_of(text, map->decimal_mark);
    enum status status = OK;
    double value = 0;
    if (cell_value(reader, text, &value) == CELL_OUT_OF_RANGE)
        status = FAIL(fault, BAD_INPUT,
                      "column '%.80s': '%.*s' is out of range; limit: 1.8e308; correct it", column,
                      length, text->text);
    else if (text->length == 0)
        status =
            FAIL(fault, BAD_INPUT,
                 "column '%.80s' is empty; limit: a number, or a word declared as missing; add "
                 "\"\" to missing in map '%.60s' if it means no value%s",
                 column, map->name,
                 map->rows == ROWS_SAMPLES
                     ? ", or give the column hold: blank if it is written in some rows only"
                     : "");
    else if (trouble.what != NULL)
        status = known_trouble(map, column, text, &trouble, fault);
    else
        status = FAIL(fault, BAD_INPUT,
                      "column '%.80s': '%.*s' is not a number with decimal %s; correct it, or "
                      "declare decimal or missing in map '%.60s'",
                      column, length, text->text, map->decimal_mark == ',' ? "comma" : "point",
                      map->name);
    text_table_place(table, cell, fault);
    return status;
}

enum status cell_refusal_recording(const struct header *header, const struct text_table *table,
                                   const struct table_row *row, size_t cell, struct fault *fault)
{
    const struct table_cell *text = &row->cells[cell];
    int length = (int)(text->length < 60 ? text->length : 60);
    enum status status =
        FAIL(fault, BAD_INPUT,
             "column '%.80s': '%.*s' does not tell whether the row is recorded; limit: 0, false, "
             "off, no, or a positive whole number, true, on, yes; correct it, or give the role "
             "recording to another column",
             header->cells[cell].name, length, text->text);
    text_table_place(table, cell, fault);
    return status;
}

/* A label is printed in tables and typed in commands: what commands a terminal has no place in it. */
enum status cell_refusal_label(const struct text_table *table, size_t cell,
                               const struct table_cell *label, struct fault *fault)
{
    for (size_t i = 0; i < label->length;) {
        unsigned point = 0;
        size_t n = utf8_character(label->text + i, label->length - i, &point);
        if (utf8_is_control(point)) {
            enum status status =
                FAIL(fault, BAD_INPUT,
                     "the point label '%.*s' holds the control character U+%04X; limit: printable "
                     "characters; take it out",
                     (int)(label->length < 60 ? label->length : 60), label->text, point);
            text_table_place(table, cell, fault);
            return status;
        }
        i += n > 0 ? n : 1;
    }
    return OK;
}
