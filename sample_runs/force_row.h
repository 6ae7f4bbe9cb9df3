/* force_row.h - one row of a force log: comma, decimal point, a row of units below the names. */
#ifndef SAMPLE_RUNS_FORCE_ROW_H
#define SAMPLE_RUNS_FORCE_ROW_H

#include "sample_runs/model.h"
#include "sample_runs/text_file.h"

struct force_row {
    double time; /* s since the run began */
    int point;   /* printed from 1 */
    double output[6];
    double total_minus_static;
    struct air air;
    int no_temperature; /* 1: the cell reads NaN */
    struct attitude attitude;
    double belt_speed;
};

void force_row_header(struct text_file *text);
void force_row_write(struct text_file *text, const struct force_row *row);

#endif
