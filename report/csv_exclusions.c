/* csv_exclusions.c - every delta that differs when nothing is left out, or when nobody decides. */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"configuration", "", CSV_TEXT},
    {"baseline", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"quantity", "symbol", CSV_TEXT},
    {"unit", "of deltas and half widths", CSV_TEXT},
    {"target", "attitude or weighted", CSV_TEXT},
    {"is_main", "1 judged, 0 exploratory", CSV_NUMBER},
    {"basis", "of without: all in (no decision, no failure) or rules alone (no decision)",
     CSV_TEXT},
    {"delta_with", "unit of the quantity, as it stands", CSV_NUMBER},
    {"half_width_with", "unit of the quantity, as it stands", CSV_NUMBER},
    {"verdict_with", "as it stands", CSV_TEXT},
    {"delta_without", "unit of the quantity, on the basis", CSV_NUMBER},
    {"half_width_without", "unit of the quantity, on the basis", CSV_NUMBER},
    {"verdict_without", "on the basis", CSV_TEXT},
    {"verdict_differs", "1 yes, 0 no", CSV_NUMBER},
    {"points", "1, that only one of both uses", CSV_NUMBER},
    {"runs", "1, that have such points", CSV_NUMBER},
    {"decided_by", "with notes only; empty: rules alone", CSV_NOTE},
};

static const char sql[] =
    "SELECT x.configuration, x.baseline, x.facility, x.entry, x.quantity, "
    "CASE WHEN x.quantity = 'balance' THEN '%' WHEN x.quantity IN ('CDA', 'CLA') THEN 'm2' ELSE "
    "'1' "
    "END, x.target, x.is_main, x.basis, x.delta_with, x.half_width_with, x.verdict_with, "
    "x.delta_without, x.half_width_without, x.verdict_without, x.verdict_differs, x.points, "
    "x.runs, "
    "x.decided_by FROM exclusion AS x "
    "LEFT JOIN configuration AS c ON c.configuration = x.configuration "
    "LEFT JOIN target AS t ON t.target = x.target "
    "LEFT JOIN (SELECT facility, entry, min(sequence) AS first FROM run GROUP BY facility, entry) "
    "AS "
    "e ON e.facility = x.facility AND e.entry = x.entry "
    "ORDER BY e.first, c.sequence, x.configuration, x.is_main DESC, x.quantity, t.sequence, "
    "x.target, "
    "x.basis";

const struct csv_table csv_exclusions = {"exclusions.csv", sql, columns,
                                         sizeof columns / sizeof columns[0]};
