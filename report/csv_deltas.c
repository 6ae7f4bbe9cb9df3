/* csv_deltas.c - every delta of every entry of the season, judged and exploratory; its columns are those
 * of schema/delta_columns.h. */
#include "report/csv_out.h"

static const char sql[] =
    "SELECT x.configuration, x.baseline, x.facility, x.entry, x.quantity, "
    "CASE WHEN x.quantity = 'balance' THEN '%' WHEN x.quantity IN ('CDA', 'CLA') THEN 'm2' ELSE "
    "'1' "
    "END, x.target, x.is_main, x.delta, x.half_width, "
    "x.lower, x.upper, x.standard_uncertainty, x.degrees_of_freedom, x.multiplier, x.mountings, "
    "x.baseline_mountings, x.verdict, x.real_but_small, x.reason, x.method, x.noise_source, "
    "x.beside_delta, x.beside_standard_uncertainty, x.beside_degrees_of_freedom, x.disagrees, "
    "x.pairs_needed, x.shrunk, x.shrunk_standard_uncertainty FROM delta AS x LEFT JOIN "
    "configuration AS c ON c.configuration = x.configuration LEFT JOIN target AS t ON t.target = "
    "x.target LEFT JOIN (SELECT facility, entry, min(sequence) AS first FROM run GROUP BY "
    "facility, "
    "entry) AS e ON e.facility = x.facility AND e.entry = x.entry ORDER BY e.first, c.sequence, "
    "x.configuration, x.is_main DESC, x.quantity, t.sequence, "
    "x.target";

const struct csv_table csv_deltas = {"deltas.csv", sql, delta_columns, DELTA_COLUMNS};
