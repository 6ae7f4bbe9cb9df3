/* csv_tap_changes.c - what each configuration changes at every tap, tested. */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"configuration", "", CSV_TEXT},
    {"baseline", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"target", "", CSV_TEXT},
    {"tap", "", CSV_TEXT},
    {"surface", "", CSV_TEXT},
    {"x_m", "m, aft positive", CSV_NUMBER},
    {"y_m", "m, to the car's right positive", CSV_NUMBER},
    {"z_m", "m, up positive", CSV_NUMBER},
    {"cp", "1, mean of the runs, corrected", CSV_NUMBER},
    {"delta_cp", "1, from the baseline between its returns", CSV_NUMBER},
    {"delta_cp_u", "1, standard uncertainty between mountings", CSV_NUMBER},
    {"degrees_of_freedom", "1", CSV_NUMBER},
    {"p_value", "1, of no change", CSV_NUMBER},
    {"q_value", "1, p_value adjusted over the configuration's taps", CSV_NUMBER},
    {"is_changed", "1, q_value at most 0.05", CSV_NUMBER},
    {"not_tested", "", CSV_TEXT},
    {"runs", "1", CSV_NUMBER},
};

static const char sql[] =
    "SELECT v.configuration, v.baseline, v.facility, v.entry, v.target, v.tap, v.surface, v.x_m, "
    "v.y_m, v.z_m, v.cp, v.delta_cp, v.delta_cp_u, v.degrees_of_freedom, v.p_value, v.q_value, "
    "v.is_changed, v.not_tested, v.runs FROM tap_change AS v "
    "JOIN configuration AS c ON c.configuration = v.configuration JOIN tap AS t ON t.tap = v.tap "
    "WHERE v.configuration <> v.baseline "
    "ORDER BY v.facility, v.entry, c.sequence, v.target, t.sequence";

const struct csv_table csv_tap_changes = {"tap_changes.csv", sql, columns,
                                          sizeof columns / sizeof columns[0]};
