/* findings_refused.c - a configuration that was measured but given no number is not one that was not
 * measured; see findings.h. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/findings.h"

/* A point is refused when its reduction gave no coefficient at all, or none at its target; one whose
 * balance alone is undefined has a downforce and is none of these. */
static const char refusals_sql[] =
    "WITH seen AS (SELECT r.configuration, (p.state = 'refused' AND p.downforce_coefficient IS "
    "NULL "
    "              AND p.drag_coefficient IS NULL) OR EXISTS (SELECT 1 FROM page_flag AS f "
    "              WHERE f.run = p.run AND f.point = p.point AND f.rule = 'target-refused') "
    "              AS is_refused "
    "              FROM point_result AS p JOIN page_reduction AS d ON d.reduction = p.reduction "
    "              JOIN page_run AS r ON r.run = p.run WHERE r.kind = 'wind_on') "
    "SELECT s.configuration, count(*), sum(s.is_refused), "
    "(SELECT k.sentence FROM page_flag AS f JOIN flag_rule AS k ON k.rule = f.rule "
    " JOIN page_run AS r ON r.run = f.run WHERE f.state = 'refused' AND r.kind = 'wind_on' AND "
    " r.configuration = s.configuration GROUP BY f.rule ORDER BY count(*) DESC, f.rule LIMIT 1) "
    "FROM seen AS s GROUP BY s.configuration ORDER BY s.configuration";

static enum status take_refusals(struct statement *row, void *context, struct fault *fault)
{
    struct findings *findings = context;

    for (size_t i = 0; i < findings->n_configurations; i++) {
        struct finding_configuration *at = &findings->configurations[i];
        if (strcmp(at->name, statement_text(row, 0)) != 0)
            continue;
        at->points = (struct finding_points){statement_integer(row, 1), statement_integer(row, 2)};
        return text_pool_keep(&findings->texts, statement_text(row, 3), &at->refusal, fault);
    }
    return OK;
}

static int is_refused(const struct finding_configuration *configuration)
{
    return configuration != NULL && configuration->points.all > 0 &&
           configuration->points.refused == configuration->points.all;
}

/* The configuration's own refusal comes before its baseline's. */
static enum status say_refusal(struct findings *findings, struct finding_configuration *at,
                               struct fault *fault)
{
    const struct finding_configuration *baseline = findings_configuration(findings, at->baseline);
    const struct finding_configuration *refused = is_refused(at) ? at : baseline;
    char reason[400];

    if (at->is_baseline || isfinite(at->deltas[0].delta) || !is_refused(refused) ||
        refused->refusal[0] == '\0')
        return OK;
    size_t length = strlen(refused->refusal);
    int has_stop = refused->refusal[length - 1] == '.';
    (void)snprintf(reason, sizeof reason, "%seasured, but refused: %.*s",
                   refused == at ? "m" : "baseline m", (int)(length - (has_stop ? 1 : 0)),
                   refused->refusal);
    return text_pool_keep(&findings->texts, reason, &at->deltas[0].reason, fault);
}

/* Row: configuration. Every run of it that could be read was left out whole, by decision. */
static enum status take_excluded(struct statement *row, void *context, struct fault *fault)
{
    struct findings *findings = context;

    for (size_t i = 0; i < findings->n_configurations; i++) {
        struct finding_configuration *at = &findings->configurations[i];
        if (strcmp(at->name, statement_text(row, 0)) == 0 && !at->is_baseline &&
            !isfinite(at->deltas[0].delta))
            return text_pool_keep(&findings->texts,
                                  "all its runs are excluded by a person: no delta",
                                  &at->deltas[0].reason, fault);
    }
    return OK;
}

static const char excluded_sql[] =
    "SELECT configuration FROM page_run WHERE kind = 'wind_on' AND state = 'ok' GROUP BY "
    "configuration HAVING count(*) = sum(run IN (SELECT run FROM decision WHERE point = '' AND "
    "decision = 'exclude')) ORDER BY configuration";

enum status findings_read_refusals(struct store *store, struct findings *findings,
                                   struct fault *fault)
{
    enum status status = query_each(store, refusals_sql, NULL, take_refusals, findings, fault);

    for (size_t i = 0; status == OK && i < findings->n_configurations; i++)
        status = say_refusal(findings, &findings->configurations[i], fault);
    if (status == OK)
        status = query_each(store, excluded_sql, NULL, take_excluded, findings, fault);
    return status;
}
