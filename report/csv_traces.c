/* csv_traces.c - the kept samples, thinned: of channels that a flag speaks of, and of those that
 * keep_samples names. */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"run", "", CSV_TEXT},
    {"point", "", CSV_TEXT},
    {"channel", "column, or tap", CSV_TEXT},
    {"role", "", CSV_TEXT},
    {"reason", "rule that they may have raised", CSV_TEXT},
    {"unit", "of minimum, mean and maximum", CSV_TEXT},
    {"from_s", "s, since the point's first row", CSV_NUMBER},
    {"to_s", "s, since the point's first row", CSV_NUMBER},
    {"n", "1, samples", CSV_NUMBER},
    {"minimum", "in the unit of the row", CSV_NUMBER},
    {"mean", "in the unit of the row", CSV_NUMBER},
    {"maximum", "in the unit of the row", CSV_NUMBER},
};

static const char sql[] =
    "SELECT t.run, t.point, t.channel, t.role, t.reason, t.unit, t.from_s, t.to_s, t.n, t.minimum, "
    "t.mean, t.maximum FROM trace_thinned AS t JOIN run AS r ON r.run = t.run JOIN point AS p ON "
    "p.run = t.run AND p.point = t.point WHERE t.reason = 'kept' OR (t.run, t.point, t.channel) IN "
    "(SELECT run, point, channel FROM flag_trace) "
    "ORDER BY r.sequence, p.sequence, t.channel, t.bin";

const struct csv_table csv_traces = {"traces.csv", sql, columns,
                                     sizeof columns / sizeof columns[0]};
