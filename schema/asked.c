/* asked.c - see asked.h. */
#include "schema/asked.h"

static const char tables[] =
    "DROP TABLE IF EXISTS temp.asked; DROP TABLE IF EXISTS temp.asked_delta;"
    "DROP TABLE IF EXISTS temp.asked_ratio; DROP TABLE IF EXISTS temp.asked_equal_balance;"
    "DROP TABLE IF EXISTS temp.asked_package; DROP TABLE IF EXISTS temp.asked_stability;"
    "DROP TABLE IF EXISTS temp.asked_variant; DROP TABLE IF EXISTS temp.asked_exclusion;"
    "DROP TABLE IF EXISTS temp.asked_reduction;"
    "CREATE TEMP TABLE asked (name TEXT PRIMARY KEY, value TEXT NOT NULL);"
    "INSERT INTO asked SELECT name, value FROM setting WHERE section = 'season' AND name IN "
    "('season', 'count');"
    "INSERT INTO asked SELECT 'campaign', value FROM setting WHERE section = 'season' AND name = "
    "'digest';"
    "INSERT INTO asked SELECT name, value FROM setting WHERE section = 'limits' AND name = "
    "'confidence';"
    "CREATE TEMP TABLE asked_delta AS SELECT 0 AS is_pair, x.* FROM delta AS x LIMIT 0;"
    "CREATE TEMP TABLE asked_ratio AS SELECT * FROM ratio LIMIT 0;"
    "CREATE TEMP TABLE asked_equal_balance AS SELECT * FROM equal_balance LIMIT 0;"
    "CREATE TEMP TABLE asked_package AS SELECT * FROM package LIMIT 0;"
    "CREATE TEMP TABLE asked_stability AS SELECT * FROM stability LIMIT 0;"
    "CREATE TEMP TABLE asked_variant AS SELECT * FROM variant LIMIT 0;"
    "CREATE TEMP TABLE asked_exclusion AS SELECT * FROM exclusion LIMIT 0;"
    "CREATE TEMP TABLE asked_reduction (stage TEXT, subject TEXT, key TEXT);";

/* In the order of the deltas; a ratio stands where its downforce or its drag does. */
static const char rows[] =
    "INSERT INTO asked_ratio SELECT x.* FROM ratio AS x JOIN (SELECT min(rowid) AS place, "
    "configuration, baseline, facility, entry, target FROM asked_delta WHERE is_pair = 0 AND "
    "quantity IN ('CL', 'CD') GROUP BY 2, 3, 4, 5, 6) AS a ON a.configuration = x.configuration "
    "AND "
    "a.baseline = x.baseline AND a.facility = x.facility AND a.entry = x.entry AND a.target = "
    "x.target ORDER BY a.place;"
    "INSERT INTO asked_equal_balance SELECT x.* FROM equal_balance AS x JOIN asked_delta AS a ON "
    "a.is_pair = 0 AND a.configuration = x.configuration AND a.baseline = x.baseline AND "
    "a.facility "
    "= x.facility AND a.entry = x.entry AND a.target = x.target AND a.quantity = x.quantity ORDER "
    "BY "
    "a.rowid, x.device;"
    "INSERT INTO asked_package SELECT x.* FROM package AS x JOIN asked_delta AS a ON a.is_pair = 0 "
    "AND a.configuration = x.configuration AND a.baseline = x.baseline AND a.facility = x.facility "
    "AND a.entry = x.entry AND a.target = x.target AND a.quantity = x.quantity ORDER BY a.rowid;"
    "INSERT INTO asked_stability SELECT x.* FROM stability AS x JOIN asked_delta AS a ON a.is_pair "
    "= "
    "0 AND a.configuration = x.configuration AND a.baseline = x.baseline AND a.facility = "
    "x.facility "
    "AND a.entry = x.entry AND a.target = x.target AND a.quantity = x.quantity ORDER BY a.rowid;"
    "INSERT INTO asked_variant SELECT x.* FROM variant AS x JOIN asked_delta AS a ON a.is_pair = 0 "
    "AND a.configuration = x.configuration AND a.baseline = x.baseline AND a.facility = x.facility "
    "AND a.entry = x.entry AND a.target = x.target AND a.quantity = x.quantity ORDER BY a.rowid, "
    "x.variant;"
    "INSERT INTO asked_exclusion SELECT x.* FROM exclusion AS x JOIN asked_delta AS a ON a.is_pair "
    "= "
    "0 AND a.configuration = x.configuration AND a.baseline = x.baseline AND a.facility = "
    "x.facility "
    "AND a.entry = x.entry AND a.target = x.target AND a.quantity = x.quantity ORDER BY a.rowid, "
    "x.basis;"
    "INSERT INTO asked_reduction SELECT d.stage, d.subject, d.key FROM reduction AS d WHERE "
    "d.is_current = 1 AND ((d.stage IN ('compare', 'derive') AND d.subject IN (SELECT facility || "
    "'/' || entry || '/' || CASE WHEN is_pair THEN (SELECT c.baseline FROM configuration AS c "
    "WHERE "
    "c.configuration = asked_delta.configuration) ELSE baseline END FROM asked_delta)) OR (d.stage "
    "= "
    "'target' AND d.subject IN (SELECT facility || '/' || entry || '/' || configuration FROM "
    "asked_delta UNION SELECT facility || '/' || entry || '/' || baseline FROM asked_delta))) "
    "ORDER "
    "BY d.stage, d.subject;";

enum status asked_make(struct store *store, struct fault *fault)
{
    return store_execute(store, tables, fault);
}

enum status asked_follow(struct store *store, struct fault *fault)
{
    return store_execute(store, rows, fault);
}
