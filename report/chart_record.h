/* chart_record.h - the record strip: channels and rules by points, marked where a limit is passed.
 *
 * An empty cell is fine. A filled one carries the ratio of value to limit, "!" where a rule has no
 * numbers; one that failed is hatched, so that neither is told by colour alone.                    */
#ifndef LAPWING_REPORT_CHART_RECORD_H
#define LAPWING_REPORT_CHART_RECORD_H

#include <stddef.h>

#include "report/html.h"

struct record_cell {
    size_t row;
    int column;        /* -1: all of the row */
    double ratio;      /* NAN: none */
    int is_lost;       /* 1: failed or refused */
    int is_plain;      /* 1: only words, nothing is wrong */
    const char *words; /* in a cell over the whole row; NULL for the ratio */
    const char *title;
};

struct record_chart {
    const char *label; /* for a screen reader */
    const char *const *rows;
    size_t n_rows;
    const char *const *columns;
    size_t n_columns;
    const struct record_cell *cells;
    size_t n_cells;
};

void chart_record(struct html *page, const struct record_chart *chart);

#endif
