/* csv_notes.c - what people wrote: changes, notes, decisions. Written only when notes are asked for; all
 * other tables carry ids.                                                                           */
#include "report/csv_out.h"

static const struct csv_column columns[] = {
    {"about", "", CSV_TEXT},
    {"configuration", "", CSV_TEXT},
    {"run", "", CSV_TEXT},
    {"point", "empty: the whole run", CSV_TEXT},
    {"facility", "", CSV_TEXT},
    {"entry", "", CSV_TEXT},
    {"decision", "", CSV_TEXT},
    {"who", "", CSV_NOTE},
    {"decided", "as written", CSV_NOTE},
    {"text", "as written", CSV_NOTE},
};

static const char sql[] =
    "SELECT about, configuration, run, point, facility, entry, decision, who, decided, text FROM ("
    "SELECT 1 AS part, 'change' AS about, c.sequence AS place, '' AS point_place, "
    "c.configuration AS configuration, '' AS run, '' AS point, '' AS facility, '' AS entry, "
    "'' AS decision, '' AS who, '' AS decided, c.change AS text FROM configuration AS c "
    "UNION ALL SELECT 2, 'note', c.sequence, '', c.configuration, '', '', '', '', '', '', '', "
    "c.note FROM configuration AS c "
    "UNION ALL SELECT 3, 'note', r.sequence, '', r.configuration, r.run, '', r.facility, r.entry, "
    "'', '', '', r.note FROM run AS r "
    "UNION ALL SELECT 4, 'decision', d.sheet_line, d.point, coalesce(r.configuration, ''), d.run, "
    "d.point, coalesce(r.facility, ''), coalesce(r.entry, ''), d.decision, d.who, d.decided, d.why "
    "FROM decision AS d LEFT JOIN run AS r ON r.run = d.run) "
    "WHERE text <> '' ORDER BY part, place, configuration, run, point_place";

const struct csv_table csv_notes = {"notes.csv", sql, columns, sizeof columns / sizeof columns[0]};
