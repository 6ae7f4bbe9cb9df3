/* delta_columns.h - the columns of a table of deltas, for deltas.csv and `lapwing compare --format csv`.
 *
 * A column of a CSV table is its name, its unit in words with the sign, and whether it holds text.  */
#ifndef LAPWING_DELTA_COLUMNS_H
#define LAPWING_DELTA_COLUMNS_H

/* CSV_NOTE is text that people wrote about people or parts: it leaves only when asked for. */
enum csv_kind { CSV_TEXT, CSV_NUMBER, CSV_NOTE };

struct csv_column {
    const char *name; /* "dynamic_pressure_pa" */
    const char *unit; /* "Pa"; "1, downforce positive" */
    enum csv_kind kind;
};

/* Places in delta_columns, and in the queries that fill such a table. */
enum delta_column {
    DELTA_CONFIGURATION,
    DELTA_BASELINE,
    DELTA_FACILITY,
    DELTA_ENTRY,
    DELTA_QUANTITY,
    DELTA_UNIT,
    DELTA_TARGET,
    DELTA_IS_MAIN,
    DELTA_DELTA,
    DELTA_HALF_WIDTH,
    DELTA_LOWER,
    DELTA_UPPER,
    DELTA_STANDARD_UNCERTAINTY,
    DELTA_DEGREES_OF_FREEDOM,
    DELTA_MULTIPLIER,
    DELTA_MOUNTINGS,
    DELTA_BASELINE_MOUNTINGS,
    DELTA_VERDICT,
    DELTA_REAL_BUT_SMALL,
    DELTA_REASON,
    DELTA_METHOD,
    DELTA_NOISE_SOURCE,
    DELTA_BESIDE_DELTA,
    DELTA_BESIDE_STANDARD_UNCERTAINTY,
    DELTA_BESIDE_DEGREES_OF_FREEDOM,
    DELTA_DISAGREES,
    DELTA_PAIRS_NEEDED,
    DELTA_SHRUNK,
    DELTA_SHRUNK_STANDARD_UNCERTAINTY,
    DELTA_COLUMNS
};

extern const struct csv_column delta_columns[DELTA_COLUMNS];

#endif
