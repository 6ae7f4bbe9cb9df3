/* csv_channels.c - the channels that no coefficient is made of: the role other, and runs that are
 * recorded only. */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"run", "", CSV_TEXT},
    {"point", "", CSV_TEXT},
    {"kind", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"column", "header text in the log", CSV_TEXT},
    {"role", "", CSV_TEXT},
    {"unit", "of mean, sd, minimum and maximum", CSV_TEXT},
    {"mean", "in the unit of the row", CSV_NUMBER},
    {"sd", "in the unit of the row", CSV_NUMBER},
    {"n", "1, samples", CSV_NUMBER},
    {"missing", "1, samples without a value", CSV_NUMBER},
    {"minimum", "in the unit of the row", CSV_NUMBER},
    {"maximum", "in the unit of the row", CSV_NUMBER},
    {"stated_uncertainty", "in the unit of the row, expanded, 95 %", CSV_NUMBER},
};

static const char sql[] =
    "SELECT s.run, s.point, r.kind, r.facility, r.entry, s.column_name, s.role, s.unit, s.mean, "
    "s.sd, s.n, s.n_missing, s.minimum, s.maximum, s.stated_uncertainty FROM channel_statistic AS "
    "s JOIN run AS r ON "
    "r.run = s.run "
    "JOIN point AS p ON p.run = s.run AND p.point = s.point "
    "ORDER BY r.sequence, p.sequence, s.position";

const struct csv_table csv_channels = {"channels.csv", sql, columns,
                                       sizeof columns / sizeof columns[0]};
