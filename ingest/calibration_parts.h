/* calibration_parts.h - what the readers of both forms of a calibration file share; see calibration_file.h. */
#ifndef LAPWING_CALIBRATION_PARTS_H
#define LAPWING_CALIBRATION_PARTS_H

#include "ingest/sheet.h"
#include "schema/calibration.h"
#include "schema/units.h"

/* Columns of a calibration file of either form. */
enum calibration_column {
    CALIBRATION_LOAD,   /* direct: the row's load */
    CALIBRATION_OUTPUT, /* iterative: the row's output, or what it says of the loads */
    CALIBRATION_BALANCE,
    CALIBRATION_VALID_FROM,
    CALIBRATION_VALID_UNTIL,
    CALIBRATION_OUTPUTS,      /* unit of the outputs */
    CALIBRATION_LOADINGS,     /* hash of the loadings it was made from; for people */
    CALIBRATION_OUTPUTS_FROM, /* "natural zero" or "zero" */
    CALIBRATION_TEMPERATURE_REFERENCE,
    CALIBRATION_TEMPERATURE_LOWEST,
    CALIBRATION_TEMPERATURE_HIGHEST,
    CALIBRATION_UNIT, /* direct, from here to the terms */
    CALIBRATION_RATED,
    CALIBRATION_LOWEST,
    CALIBRATION_HIGHEST,
    CALIBRATION_RESIDUAL_SD,
    CALIBRATION_OUTPUT_TERMS,
    CALIBRATION_OUTPUT_SHIFTS = CALIBRATION_OUTPUT_TERMS + CALIBRATION_TERMS, /* R1*dT .. */
    CALIBRATION_OF_LOADS = CALIBRATION_OUTPUT_SHIFTS + LOAD_COUNT, /* iterative: the terms */
    CALIBRATION_LOAD_SHIFTS = CALIBRATION_OF_LOADS + CALIBRATION_LOAD_TERMS, /* Fx*dT .. */
    CALIBRATION_SHIFTS = CALIBRATION_LOAD_SHIFTS + LOAD_COUNT,               /* both: dT, dT*dT */
    CALIBRATION_COLUMNS = CALIBRATION_SHIFTS + 2
};

/* One file on its way into *calibration. */
struct calibration_reading {
    const struct sheet *sheet;
    const struct balance *balance; /* of the campaign */
    struct units *units;
    struct problems *problems;
    struct calibration *calibration;
};

/* Rows and columns of one form; gives OK unless memory or the like fails. */
enum status calibration_read_direct(const struct calibration_reading *reading, struct fault *fault);
enum status calibration_read_iterative(const struct calibration_reading *reading,
                                       struct fault *fault);

/* Temperature terms of a row, 0 .. 5, times factor. */
void calibration_read_shifts(const struct calibration_reading *reading, const struct sheet_row *row,
                             size_t of, double factor);

/* A problem at the header. */
void calibration_header_problem(const struct calibration_reading *reading, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* A required column that is missing is a problem. */
void calibration_require(const struct calibration_reading *reading, size_t column);

/* What is declared of load in this cell's row: a rated load that campaign.yaml knows otherwise, or
 * that is not positive, is a problem. */
void calibration_check_rated(const struct calibration_reading *reading, const struct sheet_row *row,
                             size_t column, size_t load);

/* The box's ends in the wrong order are a problem at the header. */
void calibration_check_box(const struct calibration_reading *reading);

/* Name of a column. */
const char *calibration_column_name(size_t column);

#endif
