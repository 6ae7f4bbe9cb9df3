/* csv_flags.c - everything that needs a person's eyes: each flag with its size, its limit, what it does. */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"state", "", CSV_TEXT},
    {"rule", "", CSV_TEXT},
    {"facility", "empty: of no run", CSV_TEXT},
    {"entry", "empty: of no run", CSV_TEXT},
    {"run", "empty: of no run", CSV_TEXT},
    {"point", "empty: the whole run", CSV_TEXT},
    {"subject", "channel, tap, quantity", CSV_TEXT},
    {"value", "in the unit of the row", CSV_NUMBER},
    {"limit", "in the unit of the row", CSV_NUMBER},
    {"unit", "", CSV_TEXT},
    {"effect_counts", "counts of the main measure", CSV_NUMBER},
    {"sentence", "what was seen", CSV_TEXT},
    {"consequence", "", CSV_TEXT},
    {"action", "what to do next", CSV_TEXT},
    {"detail", "", CSV_TEXT},
    {"decision_detail", "with notes only", CSV_NOTE},
};

/* What a rule says of a decision quotes who decided it, and why. */
static const char sql[] =
    "SELECT f.state, f.rule, coalesce(r.facility, ''), coalesce(r.entry, ''), f.run, f.point, "
    "f.subject, f.value, f.limit_value, f.unit, f.effect_counts, f.sentence, f.consequence, "
    "f.action, CASE WHEN f.is_decision THEN '' ELSE f.detail END, "
    "CASE WHEN f.is_decision THEN f.detail ELSE '' END FROM "
    "(SELECT g.*, EXISTS (SELECT 1 FROM decision AS m WHERE (m.who <> '' AND instr(g.detail, "
    "m.who) > 0) OR (m.why <> '' AND instr(g.detail, m.why) > 0)) AS is_decision FROM flag AS g) "
    "AS f LEFT JOIN run AS r ON r.run = f.run "
    "LEFT JOIN point AS p ON p.run = f.run AND p.point = f.point "
    "ORDER BY r.sequence, p.sequence, f.rule, f.subject, f.detail, f.state";

const struct csv_table csv_flags = {"flags.csv", sql, columns, sizeof columns / sizeof columns[0]};
