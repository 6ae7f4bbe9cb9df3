/* redact_mend.c - see redact_mend.h. */
#include "report/redact_mend.h"

#include "report/buffer.h"
#include "report/query.h"
#include "report/redact.h"
#include "schema/quantity.h"

/* In the copy, where names are gone: what is made of columns that were emptied. */
static const char mend_sql[] =
    "UPDATE run SET start_text = strftime('%Y-%m-%dT%H:%M:%SZ', start_s, 'unixepoch');"
    "UPDATE run SET reason = 'reason withheld' WHERE state <> 'ok';"
    "UPDATE log SET mtime_ns = 0, bytes = 0;" /* a length tells a file to who has it */
    "INSERT INTO setting VALUES ('season', 'season', 'Redacted season', '');"
    "INSERT INTO setting VALUES ('redaction', 'names', 'Names are exchanged for ids. What people "
    "wrote, file names, hashes, the car''s dimensions and settings but limits are left out. Days "
    "are counted from "
    "2000-01-01, "
    "the day of the first run.', '')";

/* A value in its unit, or in counts where its quantity is counted and the value is no share of it; a plain number has no unit. Texts of rules
 * that lead to the detail lead nowhere. */
static const char detail_sql[] =
    "UPDATE flag_row SET detail = CASE WHEN value IS NULL THEN 'Detail withheld.' ELSE "
    "trim(printf('%.4g %s', value / said.size, said.unit)) || CASE WHEN limit_value IS NULL THEN "
    "'.' ELSE trim(printf('; limit %.4g %s', limit_value / said.size, said.unit)) || '.' END END "
    "FROM (SELECT f.rowid AS id, CASE WHEN c.symbol IS NULL THEN 1.0 ELSE k.size END AS size, "
    "CASE WHEN c.symbol IS NOT NULL THEN 'counts' WHEN f.unit = '1' THEN '' ELSE f.unit END AS "
    "unit FROM flag_row AS f LEFT JOIN (SELECT CAST(value AS REAL) AS size FROM setting WHERE "
    "section = 'season' AND name = 'count') AS k LEFT JOIN counted AS c ON c.symbol = f.subject "
    "AND f.unit = '1' AND k.size > 0 AND f.rule IN ('zero-drift', 'trend', 'standard-error')) AS "
    "said WHERE said.id = flag_row.rowid;"
    "UPDATE flag_rule SET consequence = replace(replace(consequence, "
    "'; the mean without them is in the detail', ''), ' named in the detail', ''), action = "
    "replace(replace(action, "
    "' named in the detail', ''), ' the place named', ' the place');"
    "DROP TABLE temp.counted";

static enum status mend_details(struct store *redacted, struct fault *fault)
{
    struct buffer sql = {0};

    buffer_text(&sql, "CREATE TEMP TABLE counted (symbol PRIMARY KEY);");
    for (unsigned i = 0; i < QUANTITY_COUNT; i++)
        if (quantity_row((enum quantity)i)->in_counts)
            buffer_format(&sql, "INSERT INTO counted VALUES ('%s');",
                          quantity_row((enum quantity)i)->symbol);
    buffer_text(&sql, detail_sql);
    enum status status = buffer_status(&sql, "a statement", fault);
    if (status == OK)
        status = store_execute(redacted, buffer_string(&sql), fault);
    buffer_free(&sql);
    return status;
}

static const char levels_sql[] =
    "UPDATE flag_row SET value = NULL, limit_value = NULL, detail = 'Detail withheld.';"
    "CREATE TEMP TABLE level (reduction, quantity, target, mean, PRIMARY KEY (reduction, quantity, "
    "target));"
    "INSERT INTO level SELECT o.reduction, o.quantity, o.target, avg(o.value) FROM observation AS "
    "o JOIN configuration AS c ON c.configuration = o.configuration AND c.baseline = "
    "o.configuration GROUP BY o.reduction, o.quantity, o.target;"
    "DELETE FROM observation WHERE NOT EXISTS (SELECT 1 FROM level AS l WHERE l.reduction = "
    "observation.reduction AND l.quantity = observation.quantity AND l.target = "
    "observation.target);"
    "UPDATE observation SET value = value - l.mean, baseline_here = baseline_here - l.mean FROM "
    "level AS l WHERE l.reduction = observation.reduction AND l.quantity = observation.quantity "
    "AND l.target = observation.target;"
    "DROP TABLE level;"
    "INSERT INTO setting VALUES ('redaction', 'levels', 'Absolute coefficients and loads are left "
    "out; a run''s value is given less the mean of its baseline.', '')";

enum status redact_mend(struct store *redacted, enum redaction redaction, struct fault *fault)
{
    enum status status = store_execute(redacted, mend_sql, fault);

    if (status == OK)
        status = mend_details(redacted, fault);
    if (status == OK && redaction == REDACT_LEVELS)
        status = store_execute(redacted, levels_sql, fault);
    return status;
}

static enum status has_setting(struct store *store, const char *sql, int *has, struct fault *fault)
{
    double n = 0;

    enum status status = query_real(store, sql, NULL, &n, fault);
    *has = n > 0;
    return status;
}

enum status redact_is_on(struct store *store, int *is_on, struct fault *fault)
{
    return has_setting(store, "SELECT count(*) FROM setting WHERE section = 'redaction'", is_on,
                       fault);
}

enum status redact_levels_are_out(struct store *store, int *are_out, struct fault *fault)
{
    return has_setting(
        store, "SELECT count(*) FROM setting WHERE section = 'redaction' AND name = 'levels'",
        are_out, fault);
}
