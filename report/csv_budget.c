/* csv_budget.c - what every delta is uncertain by, source by source, beside what the value itself is. */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"configuration", "", CSV_TEXT},
    {"baseline", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"quantity", "symbol", CSV_TEXT},
    {"unit", "of all uncertainties", CSV_TEXT},
    {"target", "attitude or weighted", CSV_TEXT},
    {"is_main", "1 judged, 0 exploratory", CSV_NUMBER},
    {"source", "elemental source of error", CSV_TEXT},
    {"reach", "of one draw of it", CSV_TEXT},
    {"u_configuration", "standard, of the value, by this source", CSV_NUMBER},
    {"u_baseline", "standard, of the baseline's value, by this source", CSV_NUMBER},
    {"u_delta", "standard, of the delta, by this source", CSV_NUMBER},
    {"share_percent", "% of the delta's variance", CSV_NUMBER},
    {"standard_configuration", "standard, of the value; not for the delta", CSV_NUMBER},
    {"standard_delta", "standard, of the delta; not for the value", CSV_NUMBER},
    {"degrees_of_freedom_delta", "1, empty: infinite", CSV_NUMBER},
};

static const char sql[] =
    "SELECT x.configuration, x.baseline, x.facility, x.entry, x.quantity, "
    "CASE WHEN x.quantity = 'balance' THEN '%' WHEN x.quantity IN ('CDA', 'CLA') THEN 'm2' ELSE "
    "'1' END, x.target, x.is_main, x.source, x.reach, x.u_configuration, x.u_baseline, x.u_delta, "
    "x.share_percent, x.standard_configuration, x.standard_delta, x.degrees_of_freedom_delta "
    "FROM budget AS x "
    "LEFT JOIN configuration AS c ON c.configuration = x.configuration "
    "LEFT JOIN target AS t ON t.target = x.target "
    "LEFT JOIN (SELECT facility, entry, min(sequence) AS first FROM run GROUP BY facility, entry) "
    "AS e ON e.facility = x.facility AND e.entry = x.entry "
    "ORDER BY e.first, c.sequence, x.configuration, x.is_main DESC, x.quantity, t.sequence, "
    "x.target, x.u_configuration DESC, x.source, x.reach";

const struct csv_table csv_budget = {"budget.csv", sql, columns,
                                     sizeof columns / sizeof columns[0]};
