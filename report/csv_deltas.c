/* csv_deltas.c - every delta of every entry of the season, judged and exploratory. */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"configuration", "", CSV_TEXT},
    {"baseline", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"quantity", "symbol", CSV_TEXT},
    {"unit", "of delta, half_width, lower, upper and standard_uncertainty", CSV_TEXT},
    {"target", "attitude or weighted", CSV_TEXT},
    {"is_main", "1 judged, 0 exploratory", CSV_NUMBER},
    {"delta", "unit of the quantity, downforce positive", CSV_NUMBER},
    {"half_width", "unit of the quantity", CSV_NUMBER},
    {"lower", "unit of the quantity", CSV_NUMBER},
    {"upper", "unit of the quantity", CSV_NUMBER},
    {"standard_uncertainty", "unit of the quantity", CSV_NUMBER},
    {"degrees_of_freedom", "1", CSV_NUMBER},
    {"multiplier", "1", CSV_NUMBER},
    {"mountings", "1", CSV_NUMBER},
    {"baseline_mountings", "1", CSV_NUMBER},
    {"verdict", "", CSV_TEXT},
    {"real_but_small", "1 yes, 0 no", CSV_NUMBER},
    {"reason", "", CSV_TEXT},
};

static const char sql[] =
    "SELECT x.configuration, x.baseline, x.facility, x.entry, x.quantity, "
    "CASE WHEN x.quantity = 'balance' THEN '%' WHEN x.quantity IN ('CDA', 'CLA') THEN 'm2' ELSE "
    "'1' "
    "END, x.target, x.is_main, x.delta, x.half_width, "
    "x.lower, x.upper, x.standard_uncertainty, x.degrees_of_freedom, x.multiplier, x.mountings, "
    "x.baseline_mountings, x.verdict, x.real_but_small, x.reason FROM delta AS x LEFT JOIN "
    "configuration AS c ON c.configuration = x.configuration LEFT JOIN target AS t ON t.target = "
    "x.target LEFT JOIN (SELECT facility, entry, min(sequence) AS first FROM run GROUP BY "
    "facility, "
    "entry) AS e ON e.facility = x.facility AND e.entry = x.entry ORDER BY e.first, c.sequence, "
    "x.configuration, x.is_main DESC, x.quantity, t.sequence, "
    "x.target";

const struct csv_table csv_deltas = {"deltas.csv", sql, columns,
                                     sizeof columns / sizeof columns[0]};
