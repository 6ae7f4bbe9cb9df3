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

static const char sql[] =
    "SELECT v.run, v.point, v.configuration, r.facility, r.entry, v.tap, v.surface, v.x_m, v.y_m, "
    "v.z_m, v.cp_raw, "
    "v.cp, "
    "v.cp_u, v.n, v.state FROM tap_coefficient AS v JOIN run AS r ON r.run = v.run JOIN point AS p "
    "ON p.run = v.run AND p.point = v.point JOIN tap AS t ON t.tap = v.tap ORDER BY r.sequence, "
    "p.sequence, t.sequence";

const struct csv_table csv_taps = {"taps.csv", sql, columns, sizeof columns / sizeof columns[0]};
