/* chart_record.c - see chart_record.h. */
#include "report/chart_record.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/cut_text.h"
#include "report/number_text.h"
#include "report/svg.h"
#include "schema/utf8.h"

enum { WIDTH = 1280, LEFT = 190, RIGHT = 16, TOP = 8, ROW = 22, NAME_ROOM = 27, LABEL_ROOM = 7 };

static double column_width(const struct record_chart *chart)
{
    return (double)(WIDTH - RIGHT - LEFT) / (double)(chart->n_columns > 0 ? chart->n_columns : 1);
}

/* What fits at the left, marked where it is cut. */
static void draw_name(struct html *page, const char *name, double y)
{
    svg_text(page, "tick", ANCHOR_END, LEFT - 8, y + 15, cut_text(name, NAME_ROOM).text);
}

static void draw_grid(struct html *page, const struct record_chart *chart)
{
    double width = column_width(chart);
    double bottom = TOP + ROW * (double)chart->n_rows;

    for (size_t r = 0; r <= chart->n_rows; r++)
        svg_line(page, "grid", LEFT, TOP + ROW * (double)r, WIDTH - RIGHT, TOP + ROW * (double)r);
    for (size_t c = 0; c <= chart->n_columns; c++)
        svg_line(page, "grid", LEFT + width * (double)c, TOP, LEFT + width * (double)c, bottom);
    for (size_t r = 0; r < chart->n_rows; r++)
        draw_name(page, chart->rows[r], TOP + ROW * (double)r);
}

static void draw_labels(struct html *page, const struct record_chart *chart)
{
    double width = column_width(chart);
    double y = TOP + ROW * (double)chart->n_rows;
    size_t longest = 1;

    for (size_t c = 0; c < chart->n_columns; c++) {
        size_t length = utf8_characters(chart->columns[c], strlen(chart->columns[c]));
        longest = length > longest ? length : longest;
    }
    size_t step = (size_t)ceil((double)(LABEL_ROOM * (longest + 1)) / width);
    for (size_t c = 0; c < chart->n_columns; c += step)
        svg_text(page, "tick", ANCHOR_MIDDLE, LEFT + width * ((double)c + 0.5), y + 16,
                 chart->columns[c]);
    svg_text(page, "axis-name", ANCHOR_END, WIDTH - RIGHT, y + 34,
             "points in the order of the log");
}

static void draw_hatching(struct html *page, double x, double y, double width)
{
    const double step = 9;
    int lines = (int)fmax(0, floor((width - ROW) / step) + 1);

    for (int i = 0; i < lines; i++)
        svg_line(page, "hatch", x + 2 + step * i, y + ROW - 2, x + ROW - 2 + step * i, y + 2);
}

/* 1.6, 14, >99: what a narrow cell holds. */
static struct number_text ratio_text(double ratio)
{
    if (isnan(ratio))
        return (struct number_text){"!"};
    if (ratio >= 99.5)
        return (struct number_text){">99"};
    return number_text_plain(ratio, ratio < 9.95 ? 1 : 0);
}

static void draw_cell(struct html *page, const struct record_chart *chart,
                      const struct record_cell *cell)
{
    double whole = WIDTH - RIGHT - LEFT;
    double width = cell->column < 0 ? whole : column_width(chart);
    double x = LEFT + (cell->column < 0 ? 0 : width * cell->column);
    double y = TOP + ROW * (double)cell->row;
    const double least = 26; /* page units for a ratio's digits */

    if (!cell->is_plain)
        svg_rect(page, cell->is_lost ? "beyond lost" : "beyond", x + 1, y + 1, width - 2, ROW - 2,
                 NULL, cell->title);
    if (cell->is_lost)
        draw_hatching(page, x, y, width);
    if (width >= least)
        svg_text(page, cell->is_plain ? "tick" : "ratio", ANCHOR_MIDDLE, x + width / 2, y + 15,
                 cell->words != NULL ? cell->words : ratio_text(cell->ratio).text);
}

void chart_record(struct html *page, const struct record_chart *chart)
{
    svg_begin(page, "plot wide", WIDTH, TOP + ROW * (double)chart->n_rows + 42, chart->label);
    draw_grid(page, chart);
    for (size_t i = 0; i < chart->n_cells; i++)
        draw_cell(page, chart, &chart->cells[i]);
    draw_labels(page, chart);
    svg_end(page);
}
