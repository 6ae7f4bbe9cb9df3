/* csv_left_out.c - every point that was left out, or taken in, and by which rule or whom. */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"run", "", CSV_TEXT},
    {"point", "", CSV_TEXT},
    {"configuration", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"target", "attitude", CSV_TEXT},
    {"state", "", CSV_TEXT},
    {"rules", "", CSV_TEXT},
    {"who", "with notes only", CSV_NOTE},
    {"decided", "with notes only, as written", CSV_NOTE},
    {"why", "with notes only", CSV_NOTE},
};

static const char sql[] =
    "SELECT l.run, l.point, l.configuration, l.facility, l.entry, l.target, l.state, l.rules, "
    "l.who, l.decided, l.why FROM left_out AS l JOIN run AS r ON r.run = l.run JOIN point AS p ON "
    "p.run = l.run AND p.point = l.point ORDER BY r.sequence, p.sequence";

const struct csv_table csv_left_out = {"left_out.csv", sql, columns,
                                       sizeof columns / sizeof columns[0]};
