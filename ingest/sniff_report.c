/* sniff_report.c - the guesses for people; see sniff_print.h. */
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "ingest/sniff_cell.h"
#include "ingest/sniff_print.h"

static void print_text_part(const struct sniff_text *text, FILE *out)
{
    int kinds = (text->ends_lf > 0) + (text->ends_crlf > 0) + (text->ends_cr > 0);
    (void)fprintf(out, "size       %zu bytes, %zu lines\n", text->bytes, text->n_lines);
    (void)fprintf(out, "encoding   %s%s\n", sniff_encoding_name(text->encoding),
                  text->has_mark ? ", with a byte-order mark" : "");
    if (text->high_bytes > 0)
        (void)fprintf(out, "           %zu high bytes; %zu degree signs, %zu micro signs\n",
                      text->high_bytes, text->degree_signs, text->micro_signs);
    (void)fprintf(out, "line ends  %s: %zu LF, %zu CR LF, %zu CR; the last line %s\n",
                  kinds > 1             ? "mixed"
                  : text->ends_crlf > 0 ? "CR LF"
                  : text->ends_cr > 0   ? "CR"
                  : text->ends_lf > 0   ? "LF"
                                        : "none",
                  text->ends_lf, text->ends_crlf, text->ends_cr,
                  text->terminated ? "has one" : "has none: is the file complete?");
    if (text->separator != 0)
        (void)fprintf(out, "sep=       the first line names the delimiter\n");
}

/* How well the delimiter cuts, against the next best. */
static enum confidence delimiter_confidence(const struct sniff_shape *shape, int is_named)
{
    if (is_named)
        return CONFIDENCE_SURE;
    if (shape->second_score > 0.9 * shape->delimiter_score)
        return CONFIDENCE_GUESS;
    return shape->delimiter_score > 0.6 ? CONFIDENCE_SURE : CONFIDENCE_LIKELY;
}

static void print_shape(const struct sniff *sniff, FILE *out)
{
    const struct sniff_shape *shape = &sniff->shape;
    (void)fprintf(out, "delimiter  %s (%s): score %.2f of 1; next best %s %.2f\n",
                  sniff_delimiter_name(shape->delimiter),
                  sniff_confidence_name(delimiter_confidence(shape, sniff->text.separator != 0)),
                  shape->delimiter_score, sniff_delimiter_name(shape->second), shape->second_score);
    (void)fprintf(out, "decimal    %s (%s): %zu numbers with a point, %zu with a comma\n",
                  shape->decimal_mark == ',' ? "comma" : "point",
                  shape->decimal_doubtful ? "guess" : "sure", shape->n_point, shape->n_comma);
    if (sniff->titles.names != NULL)
        (void)fprintf(out, "head       %zu lines of preamble, none of names: %s\n",
                      shape->first_name, sniff->titles.names_why);
    else
        (void)fprintf(out, "head       %zu lines of preamble, %u of names (line %zu), units %s\n",
                      shape->first_name, shape->name_rows, shape->first_name + 1,
                      shape->unit_row ? "in a row below" : "in the names or nowhere");
}

static void print_titles(const struct sniff_titles *titles, FILE *out)
{
    if (titles->n_comments > 0)
        (void)fprintf(out, "comments   %zu line%s with '%s'\n", titles->n_comments,
                      titles->n_comments == 1 ? " begins" : "s begin", titles->comment);
    if (titles->n_blocks == 0)
        return;
    (void)fprintf(out, "blocks     %zu, each below a line that begins with '%s'; looked at is '",
                  titles->n_blocks, titles->blocks);
    sniff_print_text(titles->title, out);
    (void)fprintf(out, "', line %zu\n", titles->first_title + 1);
}

/* The beginning of a line, as long as it fits into one of ours. */
static void print_row(const struct sniff *sniff, size_t line, const char *what, FILE *out)
{
    char text[SNIFF_SENTENCE / 2];
    const struct sniff_line *at = &sniff->text.lines[line - 1];
    const struct table_cell cell = {sniff->text.text + at->begin, at->length};
    sniff_cell_copy(&cell, text, sizeof text);
    (void)fprintf(out, "%-10s line %zu: ", what, line);
    sniff_print_text(text, out);
    (void)fprintf(out, "%s\n", strlen(text) < at->length ? " ..." : "");
}

static void print_times(const struct sniff *sniff, FILE *out)
{
    const struct sniff_rows *rows = &sniff->rows;
    if (rows->time_column == SIZE_MAX) {
        (void)fprintf(out, "time       no column tells it\n");
        return;
    }
    (void)fprintf(out, "time       column '");
    sniff_print_text(sniff->columns[rows->time_column].name, out);
    if (isnan(rows->rate))
        (void)fprintf(out, "', no step\n");
    else
        (void)fprintf(out, "', step %.6g s, %.6g Hz\n", rows->step, rows->rate);
    if (rows->n_gaps > 0)
        (void)fprintf(out,
                      "           %zu gaps (over 1.5 steps), the largest %.6g s before line %zu\n",
                      rows->n_gaps, rows->largest_gap, rows->largest_line);
    if (rows->n_back + rows->n_same > 0)
        (void)fprintf(out, "           goes back %zu times, repeats %zu times\n", rows->n_back,
                      rows->n_same);
}

static void print_rows(const struct sniff *sniff, FILE *out)
{
    const struct sniff_rows *rows = &sniff->rows;
    (void)fprintf(out, "rows       %zu of data, lines %zu to %zu: %s (%s): %s\n", rows->n,
                  rows->first_line, rows->last_line,
                  rows->kind == ROWS_POINTS ? "points" : "samples",
                  sniff_confidence_name(rows->confidence), rows->why);
    if (rows->n_wrong > 0)
        (void)fprintf(out, "           %zu rows have another number of cells, first line %zu\n",
                      rows->n_wrong, rows->first_wrong);
    print_times(sniff, out);
    print_row(sniff, rows->first_line, "first row", out);
    print_row(sniff, rows->last_line, "last row", out);
    (void)fprintf(out, "           %s\n",
                  rows->last_complete ? "complete"
                                      : "the file's last line is cut, or lacks its line end");
}

static void print_role(const struct sniff_column *column, FILE *out)
{
    (void)fprintf(out, "      %s%s%s%s: %s: ",
                  column->role != ROLE_COUNT ? role_name(column->role) : "no role",
                  column->role != ROLE_COUNT && column->statistic == COLUMN_SD ? " (sd)" : "",
                  column->proposed_unit[0] != '\0' ? ", proposed unit " : "", column->proposed_unit,
                  sniff_confidence_name(column->confidence));
    sniff_print_text(column->why, out);
    (void)fputc('\n', out);
}

static void print_column(const struct sniff_column *column, size_t number, FILE *out)
{
    (void)fprintf(out, "%4zu  '", number);
    sniff_print_text(column->name, out);
    (void)fprintf(out, "' unit ");
    sniff_print_text(column->unit != NULL ? column->unit : "not written", out);
    (void)fprintf(out, "; %zu numbers, %zu missing, %zu other", column->n_numbers,
                  column->n_missing, column->n_other);
    if (!isnan(column->min))
        (void)fprintf(out, "; %.6g .. %.6g", column->min, column->max);
    (void)fprintf(out, "; first '");
    sniff_print_text(column->first, out);
    (void)fprintf(out, "', last '");
    sniff_print_text(column->last, out);
    (void)fprintf(out, "'\n");
    print_role(column, out);
}

void sniff_print_guesses(const struct sniff *sniff, const char *name, FILE *out)
{
    (void)fprintf(out, "file       ");
    sniff_print_text(name, out);
    (void)fputc('\n', out);
    print_text_part(&sniff->text, out);
    print_shape(sniff, out);
    print_titles(&sniff->titles, out);
    print_rows(sniff, out);
    (void)fprintf(out, "\ncolumns\n");
    for (size_t i = 0; i < sniff->shape.n; i++)
        print_column(&sniff->columns[i], i + 1, out);
    (void)fprintf(out, "\nnot decided\n");
    sniff_print_open_questions(sniff, "  - ", out);
}
