/* late_flags.c - see late_flags.h. */
#include "ingest/late_flags.h"

#include <stdio.h>

#include "schema/flag.h"

/* The times of a run's first and last point. */
static const char span_sql[] =
    "CREATE TEMP VIEW IF NOT EXISTS span AS SELECT r.run, r.sequence, r.facility, "
    "min(p.time_s) AS earliest, max(p.time_s) AS latest FROM run AS r "
    "JOIN point AS p ON p.run = r.run WHERE r.state = 'ok' GROUP BY r.run";

/* The rows (run, file, detail) that a rule's flags are to be: logs that another run has as well,
 * runs that last beyond the beginning of another one, wind-on runs none of whose points has a duration,
 * which only a time gives, and decisions on runs that nothing could be read of. */
static const struct {
    enum flag_rule rule;
    const char *wanted;
} late_flags[] = {
    {FLAG_DUPLICATE_LOG,
     "SELECT a.run AS run, a.file AS file, a.file || ' has the same bytes as a log of run ' || "
     "min(b.run) AS detail FROM log AS a "
     "JOIN log AS b ON b.sha256 = a.sha256 AND b.block = a.block AND b.run <> a.run GROUP BY "
     "a.run, a.position"},
    {FLAG_RUNS_OVERLAP,
     "SELECT a.run AS run, '' AS file, 'its points go on from ' || datetime(a.earliest, "
     "'unixepoch') "
     "|| ' to ' || datetime(a.latest, 'unixepoch') || ' UTC; in that time ' || count(*) || ' other "
     "run' || iif(count(*) > 1, 's begin, first ', ' begins, ') || b.run AS detail, "
     "min(b.sequence) FROM span AS a JOIN span AS b ON b.facility = a.facility "
     "AND b.earliest > a.earliest AND b.earliest < a.latest GROUP BY a.run"},
    {FLAG_TIME_MISSING,
     "SELECT run, '' AS file, 'the log tells no time: every point has the run''s start' AS detail "
     "FROM run WHERE kind = 'wind_on' AND state = 'ok' AND run NOT IN "
     "(SELECT run FROM point WHERE duration_s IS NOT NULL)"},
    {FLAG_DECISION_WITHOUT_EFFECT,
     "SELECT d.run AS run, d.point AS file, 'to ' || d.decision || ' it, as ' || d.who || ' "
     "decided "
     "on ' || d.decided || ', changes nothing: the run is quarantined' AS detail "
     "FROM decision AS d JOIN run AS r ON r.run = d.run WHERE r.state = 'quarantined'"},
};

/* Flags that are right already stay. */
static enum status renew_flags(struct store *store, size_t i, struct fault *fault)
{
    const struct flag_row *row = flag_row(late_flags[i].rule);
    const char *wanted = late_flags[i].wanted;
    char text[2400];
    (void)snprintf(
        text, sizeof text,
        "DELETE FROM flag_row WHERE rule = '%s' AND reduction IS NULL AND (run, subject, detail) "
        "NOT IN "
        "(SELECT run, file, detail FROM (%s));"
        "INSERT INTO flag_row (run, point, subject, rule, state, unit, detail) "
        "SELECT run, '', file, '%s', '%s', '', detail FROM (%s) "
        "WHERE (run, file, detail) NOT IN "
        "(SELECT run, subject, detail FROM flag_row WHERE rule = '%s' AND reduction IS NULL) "
        "ORDER BY run;",
        row->code, wanted, row->code, flag_state_name(row->state), wanted, row->code);
    return store_execute(store, text, fault);
}

enum status late_flags_renew(struct store *store, struct fault *fault)
{
    enum status status = store_execute(store, span_sql, fault);
    for (size_t i = 0; i < sizeof late_flags / sizeof late_flags[0] && status == OK; i++)
        status = renew_flags(store, i, fault);
    return status;
}
