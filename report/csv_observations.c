/* csv_observations.c - every mounting's value at every measure: what deltas are made of. */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"configuration", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"mounting", "1, in time", CSV_NUMBER},
    {"quantity", "symbol", CSV_TEXT},
    {"unit", "of values", CSV_TEXT},
    {"target", "attitude or weighted", CSV_TEXT},
    {"runs", "", CSV_TEXT},
    {"time_utc", "UTC", CSV_TEXT},
    {"value", "in the unit of the row", CSV_NUMBER},
    {"baseline_here", "in the unit of the row, baseline brought to this time", CSV_NUMBER},
    {"delta", "in the unit of the row", CSV_NUMBER},
    {"one_mounting_sd", "in the unit of the row, standard deviation of one mounting", CSV_NUMBER},
};

/* A comparison's subject says whose it is. */
static const char sql[] =
    "SELECT o.configuration, e.facility, e.entry, o.mounting, o.quantity, CASE WHEN o.quantity = "
    "'balance' THEN '%' WHEN o.quantity IN ('CDA', 'CLA') THEN 'm2' ELSE '1' END, o.target, "
    "o.runs, datetime(o.time_s, 'unixepoch'), o.value, o.baseline_here, o.delta, "
    "n.standard_deviation FROM observation AS o "
    "JOIN reduction AS d ON d.reduction = o.reduction AND d.is_current = 1 "
    "JOIN configuration AS c ON c.configuration = o.configuration "
    "JOIN (SELECT facility, entry, min(sequence) AS first FROM run WHERE kind = 'wind_on' GROUP "
    "BY facility, entry) AS e ON d.subject = e.facility || '/' || e.entry || '/' || c.baseline "
    "LEFT JOIN noise AS n ON n.reduction = o.reduction AND n.quantity = o.quantity AND n.target = "
    "o.target LEFT JOIN target AS t ON t.target = o.target "
    "ORDER BY e.first, o.quantity, t.sequence, o.target, o.time_s, c.sequence, o.configuration, "
    "o.mounting";

const struct csv_table csv_observations = {"observations.csv", sql, columns,
                                           sizeof columns / sizeof columns[0]};
