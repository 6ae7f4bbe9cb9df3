/* csv_derived.c - ratios, deltas at equal balance and packages of every entry of the season. */
#include "report/csv_out.h"

static const struct csv_column ratio_columns[] = {
    {"configuration", "", CSV_TEXT},
    {"baseline", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"target", "attitude or weighted", CSV_TEXT},
    {"ratio", "1, change of CL over change of CD", CSV_NUMBER},
    {"kind", "interval, outside, everything or none", CSV_TEXT},
    {"lower", "1", CSV_NUMBER},
    {"upper", "1", CSV_NUMBER},
    {"correlation", "1, of both changes", CSV_NUMBER},
    {"degrees_of_freedom", "1", CSV_NUMBER},
    {"multiplier", "1", CSV_NUMBER},
    {"reason", "", CSV_TEXT},
};

static const struct csv_column trimmed_columns[] = {
    {"configuration", "", CSV_TEXT},
    {"baseline", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"device", "that takes the change of balance back", CSV_TEXT},
    {"quantity", "symbol", CSV_TEXT},
    {"target", "attitude or weighted", CSV_TEXT},
    {"delta", "unit of the quantity, at the baseline's balance", CSV_NUMBER},
    {"half_width", "unit of the quantity", CSV_NUMBER},
    {"lower", "unit of the quantity", CSV_NUMBER},
    {"upper", "unit of the quantity", CSV_NUMBER},
    {"standard_uncertainty", "unit of the quantity", CSV_NUMBER},
    {"degrees_of_freedom", "1", CSV_NUMBER},
    {"setting_change", "in setting_unit", CSV_NUMBER},
    {"setting_unit", "as declared", CSV_TEXT},
    {"reason", "", CSV_TEXT},
};

static const struct csv_column package_columns[] = {
    {"configuration", "", CSV_TEXT},
    {"baseline", "", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"parts", "semicolon and blank between", CSV_TEXT},
    {"quantity", "symbol", CSV_TEXT},
    {"target", "attitude or weighted", CSV_TEXT},
    {"package", "unit of the quantity", CSV_NUMBER},
    {"sum_of_parts", "unit of the quantity", CSV_NUMBER},
    {"interaction", "unit of the quantity, package minus sum", CSV_NUMBER},
    {"half_width", "unit of the quantity, of the interaction", CSV_NUMBER},
    {"lower", "unit of the quantity", CSV_NUMBER},
    {"upper", "unit of the quantity", CSV_NUMBER},
    {"standard_uncertainty", "unit of the quantity", CSV_NUMBER},
    {"degrees_of_freedom", "1", CSV_NUMBER},
    {"reason", "", CSV_TEXT},
};

static const char ratio_sql[] =
    "SELECT x.configuration, x.baseline, x.facility, x.entry, x.target, x.ratio, x.kind, x.lower, "
    "x.upper, x.correlation, x.degrees_of_freedom, x.multiplier, x.reason FROM ratio AS x LEFT "
    "JOIN "
    "configuration AS c ON c.configuration = x.configuration LEFT JOIN target AS t ON t.target = "
    "x.target LEFT JOIN (SELECT facility, entry, min(sequence) AS first FROM run GROUP BY "
    "facility, "
    "entry) AS e ON e.facility = x.facility AND e.entry = x.entry ORDER BY e.first, c.sequence, "
    "x.configuration, t.sequence, x.target";

static const char trimmed_sql[] =
    "SELECT x.configuration, x.baseline, x.facility, x.entry, x.device, x.quantity, x.target, "
    "x.delta, x.half_width, x.lower, x.upper, x.standard_uncertainty, x.degrees_of_freedom, "
    "x.setting_change, x.setting_unit, x.reason FROM equal_balance AS x LEFT JOIN configuration AS "
    "c "
    "ON c.configuration = x.configuration LEFT JOIN target AS t ON t.target = x.target LEFT JOIN "
    "(SELECT facility, entry, min(sequence) AS first FROM run GROUP BY facility, entry) AS e ON "
    "e.facility = x.facility AND e.entry = x.entry ORDER BY e.first, c.sequence, x.configuration, "
    "x.device, x.quantity, t.sequence, x.target";

static const char package_sql[] =
    "SELECT x.configuration, x.baseline, x.facility, x.entry, x.parts, x.quantity, x.target, "
    "x.package, x.sum_of_parts, x.interaction, x.half_width, x.lower, x.upper, "
    "x.standard_uncertainty, x.degrees_of_freedom, x.reason FROM package AS x LEFT JOIN "
    "configuration AS c ON c.configuration = x.configuration LEFT JOIN target AS t ON t.target = "
    "x.target LEFT JOIN (SELECT facility, entry, min(sequence) AS first FROM run GROUP BY "
    "facility, "
    "entry) AS e ON e.facility = x.facility AND e.entry = x.entry ORDER BY e.first, c.sequence, "
    "x.configuration, x.quantity, t.sequence, x.target";

const struct csv_table csv_ratios = {"ratios.csv", ratio_sql, ratio_columns,
                                     sizeof ratio_columns / sizeof ratio_columns[0]};
const struct csv_table csv_equal_balance = {"equal_balance.csv", trimmed_sql, trimmed_columns,
                                            sizeof trimmed_columns / sizeof trimmed_columns[0]};
const struct csv_table csv_packages = {"packages.csv", package_sql, package_columns,
                                       sizeof package_columns / sizeof package_columns[0]};
