/* workbook_tables.c - sheets of the workbook that have no CSV file; see workbook.h. */
#include "report/workbook.h"

static const struct csv_column flag_columns[] = {
    {"state", "", CSV_TEXT},
    {"rule", "", CSV_TEXT},
    {"sentence", "what was seen", CSV_TEXT},
    {"consequence", "", CSV_TEXT},
    {"action", "what to do next", CSV_TEXT},
    {"run", "empty: no run's", CSV_TEXT},
    {"point", "empty: the whole run", CSV_TEXT},
    {"subject", "channel, tap, quantity", CSV_TEXT},
    {"value", "in the unit of the row", CSV_NUMBER},
    {"limit", "in the unit of the row", CSV_NUMBER},
    {"unit", "", CSV_TEXT},
    {"effect_counts", "counts of the main measure", CSV_NUMBER},
    {"detail", "", CSV_TEXT},
    {"decision_detail", "with notes only", CSV_NOTE},
};

/* What a rule says of a decision quotes who decided it, and why. */
static const char flag_sql[] =
    "SELECT f.state, f.rule, k.sentence, k.consequence, k.action, f.run, f.point, f.subject, "
    "f.value, f.limit_value, f.unit, f.effect_counts, "
    "CASE WHEN f.is_decision THEN '' ELSE f.detail END, "
    "CASE WHEN f.is_decision THEN f.detail ELSE '' END FROM "
    "(SELECT g.*, EXISTS (SELECT 1 FROM decision AS m WHERE (m.who <> '' AND instr(g.detail, "
    "m.who) > 0) OR (m.why <> '' AND instr(g.detail, m.why) > 0)) AS is_decision "
    "FROM page_flag AS g) AS f JOIN flag_rule AS k ON k.rule = f.rule "
    "LEFT JOIN run AS r ON r.run = f.run LEFT JOIN point AS p ON p.run = f.run AND p.point = "
    "f.point ORDER BY CASE f.state WHEN 'failed' THEN 0 WHEN 'refused' THEN 1 WHEN 'flagged' THEN "
    "2 ELSE 3 END, coalesce(abs(f.effect_counts), -1) DESC, f.rule, r.sequence, p.sequence, "
    "f.point, f.subject, f.detail";

const struct csv_table workbook_flags = {"night.xlsx", flag_sql, flag_columns,
                                         sizeof flag_columns / sizeof flag_columns[0]};

static const struct csv_column method_columns[] = {
    {"part", "", CSV_TEXT},  {"of", "", CSV_TEXT},   {"what", "", CSV_TEXT},
    {"value", "", CSV_TEXT}, {"unit", "", CSV_TEXT},
};

static const char method_sql[] =
    "SELECT part, thing, what, value, unit FROM ("
    "SELECT 1 AS step, 0 AS place, 'entry' AS part, facility AS thing, 'entry' AS what, entry AS "
    "value, '' AS unit FROM page_scope "
    "UNION ALL SELECT 2, 0, 'sign', 'CL, CLF, CLR', 'positive', 'downforce', '' "
    "UNION ALL SELECT 2, 1, 'sign', 'CD', 'positive', 'aft', '' "
    "UNION ALL SELECT 2, 2, 'sign', 'balance', 'meaning', 'share of the downforce on the front "
    "axle', '%' "
    "UNION ALL SELECT 3, sequence, 'correction', step, 'method', method, '' FROM "
    "correction_method WHERE facility = (SELECT facility FROM page_scope) "
    "UNION ALL SELECT 4, sequence, 'correction', step, 'known to hold for', evidence, '' FROM "
    "correction_method WHERE facility = (SELECT facility FROM page_scope) "
    "UNION ALL SELECT 5, 0, 'setting', section, name, value, unit FROM setting WHERE section NOT "
    "LIKE 'facility %' OR section = (SELECT 'facility ' || facility FROM page_scope) OR "
    "instr(section, (SELECT 'facility ' || facility || ', ' FROM page_scope)) = 1 "
    "UNION ALL SELECT 6, r.sequence, 'log', l.run, l.file, l.sha256, 'SHA-256' FROM log AS l JOIN "
    "page_run AS r ON r.run = l.run "
    "UNION ALL SELECT 7, 0, 'reduction', stage, subject, key, 'SHA-256' FROM page_reduction) "
    "ORDER BY step, place, thing, what, value";

const struct csv_table workbook_method = {"night.xlsx", method_sql, method_columns,
                                          sizeof method_columns / sizeof method_columns[0]};
