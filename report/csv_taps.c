/* csv_taps.c - every tap of every point, corrected. */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"run", "", CSV_TEXT},
    {"point", "", CSV_TEXT},
    {"configuration", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"tap", "", CSV_TEXT},
    {"surface", "", CSV_TEXT},
    {"x_m", "m, aft positive", CSV_NUMBER},
    {"y_m", "m, to the car's right positive", CSV_NUMBER},
    {"z_m", "m, up positive", CSV_NUMBER},
    {"cp_raw", "1, before wall corrections", CSV_NUMBER},
    {"cp", "1, corrected", CSV_NUMBER},
    {"cp_u", "1, standard uncertainty within the point", CSV_NUMBER},
    {"n", "1, samples", CSV_NUMBER},
    {"state", "", CSV_TEXT},
};

/* As the view tap_coefficient, which does not give the order: over it every table is joined twice. */
static const char sql[] =
    "SELECT r.run, c.point, r.configuration, r.facility, r.entry, c.tap, t.surface, t.x_m, t.y_m, "
    "t.z_m, c.cp_raw, c.cp, c.cp_u, c.n, c.state FROM tap_result AS c JOIN reduction AS d ON "
    "d.reduction = c.reduction AND d.is_current = 1 JOIN run AS r ON r.run = d.subject JOIN point "
    "AS p ON p.run = r.run AND p.point = c.point JOIN tap AS t ON t.tap = c.tap ORDER BY "
    "r.sequence, p.sequence, t.sequence";

const struct csv_table csv_taps = {"taps.csv", sql, columns, sizeof columns / sizeof columns[0]};
