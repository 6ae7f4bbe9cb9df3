/* redact_mend.c - see redact_mend.h. */
#include "report/redact_mend.h"

#include "report/query.h"
#include "report/redact.h"

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

static const char detail_sql[] =
    "UPDATE flag_row SET detail = CASE WHEN value IS NULL THEN 'Detail withheld.' ELSE "
    "trim(printf('%.4g %s', value, unit)) || CASE WHEN limit_value IS NULL THEN '.' ELSE "
    "trim(printf('; limit %.4g %s', limit_value, unit)) || '.' END END";

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
        status = store_execute(redacted, detail_sql, fault);
    if (status == OK && redaction == REDACT_LEVELS)
        status = store_execute(redacted, levels_sql, fault);
    return status;
}

enum status redact_is_on(struct store *store, int *is_on, struct fault *fault)
{
    double n = 0;

    enum status status = query_real(
        store, "SELECT count(*) FROM setting WHERE section = 'redaction'", NULL, &n, fault);
    *is_on = n > 0;
    return status;
}
