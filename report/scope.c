/* scope.c - the page's entry as temporary views; see scope.h. */
#include "report/scope.h"

static const char views[] =
    "CREATE TEMP TABLE IF NOT EXISTS page_scope (facility TEXT NOT NULL, entry TEXT NOT NULL);"
    "DELETE FROM page_scope;"

    "CREATE TEMP VIEW IF NOT EXISTS page_run AS SELECT r.* FROM run AS r JOIN page_scope AS s "
    "ON r.facility = s.facility AND r.entry = s.entry;"

    "CREATE TEMP VIEW IF NOT EXISTS page_delta AS SELECT x.* FROM delta_result AS x "
    "WHERE x.reduction IN (SELECT reduction FROM page_reduction);"

    "CREATE TEMP VIEW IF NOT EXISTS page_ratio AS SELECT x.* FROM delta_ratio AS x "
    "WHERE x.reduction IN (SELECT reduction FROM page_reduction);"

    "CREATE TEMP VIEW IF NOT EXISTS page_trimmed AS SELECT x.* FROM trimmed_delta AS x "
    "WHERE x.reduction IN (SELECT reduction FROM page_reduction);"

    "CREATE TEMP VIEW IF NOT EXISTS page_package AS SELECT x.* FROM package_delta AS x "
    "WHERE x.reduction IN (SELECT reduction FROM page_reduction)";

/* What nearly every query of the page asks is found once: in a season of many nights, looking through all
 * reductions and flags for each of them cost most of the page's time.
 *
 * A point's reduction is named after its run, the entry's records after facility/entry, all others after
 * facility/entry/name. */
static const char tables[] =
    "DROP TABLE IF EXISTS temp.page_reduction;"
    "CREATE TEMP TABLE page_reduction AS SELECT d.* FROM reduction AS d "
    "WHERE d.is_current = 1 AND ((d.stage = 'point' AND d.subject IN (SELECT run FROM page_run)) "
    "OR (d.stage IN ('record', 'repeats') AND d.subject IN (SELECT facility || '/' || entry FROM "
    "page_scope)) "
    "OR (d.stage NOT IN ('point', 'record', 'repeats') AND d.subject IN (SELECT s.facility || '/' "
    "|| s.entry || '/' || c.configuration FROM configuration AS c, page_scope AS s))) "
    "ORDER BY d.reduction;"
    "CREATE UNIQUE INDEX temp.page_reduction_key ON page_reduction (reduction);"

    "DROP TABLE IF EXISTS temp.page_flag;"
    "CREATE TEMP TABLE page_flag AS SELECT f.* FROM flag_row AS f "
    "WHERE (f.run = '' OR f.run IN (SELECT run FROM page_run)) "
    "AND (f.reduction IS NULL OR f.reduction IN (SELECT reduction FROM page_reduction)) "
    "ORDER BY f.rowid;"
    "CREATE INDEX temp.page_flag_rule ON page_flag (rule, state);"
    "CREATE INDEX temp.page_flag_run ON page_flag (run, point);";

enum status scope_set(struct store *store, const char *facility, const char *entry,
                      struct fault *fault)
{
    struct statement *insert = NULL;

    enum status status = store_execute(store, views, fault);
    if (status == OK)
        status = statement_prepare(store, "INSERT INTO page_scope VALUES (?1, ?2)", &insert, fault);
    if (status == OK)
        status = statement_bind_text(insert, 1, facility, fault);
    if (status == OK)
        status = statement_bind_text(insert, 2, entry, fault);
    if (status == OK)
        status = statement_run(insert, fault);
    statement_free(insert);
    if (status == OK)
        status = store_execute(store, tables, fault);
    return status;
}
