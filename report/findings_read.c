/* findings_read.c - the store's rows to struct findings; see findings.h. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/findings.h"
#include "report/scope.h"

static enum status keep(struct findings *findings, struct statement *row, int column,
                        const char **text, struct fault *fault)
{
    return text_pool_keep(&findings->texts, statement_text(row, column), text, fault);
}

static enum status read_settings(struct store *store, struct findings *findings,
                                 struct fault *fault)
{
    struct text_pool *texts = &findings->texts;

    enum status status =
        query_text(store, "SELECT value FROM setting WHERE section = 'season' AND name = 'season'",
                   NULL, texts, &findings->season, fault);
    if (status == OK)
        status =
            query_text(store, "SELECT value FROM setting WHERE section = 'car' AND name = 'name'",
                       NULL, texts, &findings->car, fault);
    if (status == OK)
        status = query_real(store,
                            "SELECT CAST(value AS REAL) FROM setting WHERE name = 'count' "
                            "ORDER BY section LIMIT 1",
                            NULL, &findings->count, fault);
    if (status == OK)
        status = query_real(store,
                            "SELECT CAST(value AS REAL) FROM setting WHERE name = 'confidence' "
                            "ORDER BY section LIMIT 1",
                            NULL, &findings->confidence, fault);
    if (!(findings->count > 0))
        findings->count = 0;
    return status;
}

static enum status take_metric(struct statement *row, void *context, struct fault *fault)
{
    struct findings *findings = context;

    if (findings->n_metrics == METRICS_MAX)
        return OK;
    struct finding_metric *metric = &findings->metrics[findings->n_metrics];
    enum status status = keep(findings, row, 0, &metric->name, fault);
    if (status == OK)
        status = keep(findings, row, 1, &metric->quantity, fault);
    if (status == OK)
        status = keep(findings, row, 2, &metric->better, fault);
    metric->toward = statement_real(row, 3);
    metric->worthwhile = statement_real(row, 4);
    metric->display = display_delta(metric->quantity, findings->count);
    findings->n_metrics++;
    return status;
}

/* Rows come family by family: the last one's, or one more when the baseline is another. */
static size_t family_of(const struct findings *findings, const char *baseline)
{
    if (findings->n_configurations < 2)
        return 0;
    const struct finding_configuration *last =
        &findings->configurations[findings->n_configurations - 2];
    return strcmp(last->baseline, baseline) == 0 ? last->family : last->family + 1;
}

static enum status take_configuration(struct statement *row, void *context, struct fault *fault)
{
    struct findings *findings = context;
    void *items = findings->configurations;

    struct finding_configuration *added = query_append(&items, &findings->n_configurations,
                                                       &findings->capacity, sizeof *added, fault);
    findings->configurations = items;
    if (added == NULL)
        return NO_MEMORY;
    added->sequence = findings->n_configurations;
    enum status status = keep(findings, row, 0, &added->name, fault);
    if (status == OK)
        status = keep(findings, row, 1, &added->baseline, fault);
    if (status == OK)
        status = keep(findings, row, 2, &added->change, fault);
    added->refusal = "";
    added->stability = "";
    added->baseline_level = (double)NAN;
    added->is_baseline = strcmp(added->name, added->baseline) == 0;
    added->family = family_of(findings, added->baseline);
    if (added->family == 0)
        findings->n_leading = findings->n_configurations;
    for (size_t m = 0; m < METRICS_MAX; m++)
        added->deltas[m] = (struct finding_delta){.delta = NAN,
                                                  .half_width = NAN,
                                                  .lower = NAN,
                                                  .upper = NAN,
                                                  .verdict = "",
                                                  .reason = "",
                                                  .method = "",
                                                  .noise_source = "",
                                                  .beside_delta = NAN};
    return status;
}

static enum status fill_delta(struct findings *findings, struct statement *row,
                              struct finding_delta *delta, struct fault *fault)
{
    delta->is_there = 1;
    delta->delta = statement_real(row, 2);
    delta->half_width = statement_real(row, 3);
    delta->lower = statement_real(row, 4);
    delta->upper = statement_real(row, 5);
    delta->real_but_small = statement_integer(row, 7) != 0;
    delta->mountings = statement_integer(row, 9);
    delta->baseline_mountings = statement_integer(row, 10);
    delta->beside_delta = statement_real(row, 13);
    delta->disagrees = statement_integer(row, 14) != 0;
    enum status status = keep(findings, row, 6, &delta->verdict, fault);
    if (status == OK)
        status = keep(findings, row, 8, &delta->reason, fault);
    if (status == OK)
        status = keep(findings, row, 11, &delta->method, fault);
    if (status == OK)
        status = keep(findings, row, 12, &delta->noise_source, fault);
    return status;
}

static enum status take_delta(struct statement *row, void *context, struct fault *fault)
{
    struct findings *findings = context;
    const char *name = statement_text(row, 0);
    const char *quantity = statement_text(row, 1);

    for (size_t c = 0; c < findings->n_configurations; c++) {
        struct finding_configuration *configuration = &findings->configurations[c];
        if (strcmp(configuration->name, name) != 0)
            continue;
        for (size_t m = 0; m < findings->n_metrics; m++)
            if (strcmp(findings->metrics[m].quantity, quantity) == 0)
                return fill_delta(findings, row, &configuration->deltas[m], fault);
    }
    return OK;
}

static enum status take_stability(struct statement *row, void *context, struct fault *fault)
{
    struct findings *findings = context;

    for (size_t c = 0; c < findings->n_configurations; c++) {
        struct finding_configuration *at = &findings->configurations[c];
        if (strcmp(at->name, statement_text(row, 0)) != 0)
            continue;
        at->variants = statement_integer(row, 2);
        at->variants_same = statement_integer(row, 3);
        at->all_in_differs = statement_integer(row, 4) != 0;
        return keep(findings, row, 1, &at->stability, fault);
    }
    return OK;
}

static enum status read_stability(struct store *store, struct findings *findings,
                                  struct fault *fault)
{
    const char *texts[] = {findings->n_metrics > 0 ? findings->metrics[0].quantity : "",
                           findings->target, NULL};

    return query_each(
        store,
        "SELECT x.configuration, x.stability, x.variants, x.same, EXISTS (SELECT "
        "1 FROM robustness AS v JOIN page_delta AS y USING (reduction, "
        "configuration, quantity, target) WHERE v.reduction = x.reduction AND "
        "v.configuration = x.configuration AND v.quantity = x.quantity AND "
        "v.target = x.target AND v.variant = 'all in' AND v.verdict IS NOT "
        "y.verdict) FROM stability_result AS x JOIN page_reduction AS d USING (reduction) WHERE "
        "x.quantity = ?1 AND x.target = ?2 ORDER BY x.configuration",
        texts, take_stability, findings, fault);
}

/* qsort has no context: the score is worked out first and sorted with the row. */
struct ranked {
    double score;
    struct finding_configuration configuration;
};

static int by_rank(const void *a, const void *b)
{
    const struct ranked *first = a;
    const struct ranked *second = b;

    if (first->configuration.family != second->configuration.family)
        return first->configuration.family < second->configuration.family ? -1 : 1;
    if (first->score > second->score || first->score < second->score)
        return first->score > second->score ? -1 : 1;
    return first->configuration.sequence < second->configuration.sequence ? -1 : 1;
}

static enum status sort_configurations(struct findings *findings, struct fault *fault)
{
    size_t n = findings->n_configurations;
    struct ranked *ranked = calloc(n + 1, sizeof *ranked);

    if (ranked == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to order %zu configurations", n);
    for (size_t i = 0; i < n; i++) {
        ranked[i].configuration = findings->configurations[i];
        ranked[i].score = findings_score(findings, &findings->configurations[i]);
    }
    qsort(ranked, n, sizeof *ranked, by_rank);
    for (size_t i = 0; i < n; i++)
        findings->configurations[i] = ranked[i].configuration;
    free(ranked);
    return OK;
}

/* Baselines grey; the others colours in the order of the table, and one common look beyond. */
static void give_looks(struct findings *findings)
{
    static const struct series_look looks[] = {{"s1", MARKER_CIRCLE},
                                               {"s2", MARKER_TRIANGLE},
                                               {"s3", MARKER_DIAMOND},
                                               {"s4", MARKER_SQUARE}};
    size_t given = 0;

    for (size_t i = 0; i < findings->n_configurations; i++) {
        struct finding_configuration *configuration = &findings->configurations[i];
        if (configuration->is_baseline)
            configuration->look = (struct series_look){"s0", MARKER_SQUARE};
        else if (given < sizeof looks / sizeof looks[0])
            configuration->look = looks[given++];
        else
            configuration->look = (struct series_look){"sx", MARKER_CIRCLE};
    }
}

/* Configurations that were run in the entry, family by family: first those in which something was
 * compared, with the most usable runs first. */
static const char configurations_sql[] =
    "WITH seen AS (SELECT configuration, sum(state = 'ok') AS runs FROM page_run "
    "              WHERE kind = 'wind_on' GROUP BY configuration), "
    "family AS (SELECT c.baseline, sum(s.runs) AS runs, c.baseline IN "
    "                  (SELECT baseline FROM page_delta WHERE is_main = 1) AS is_compared "
    "           FROM seen AS s JOIN configuration AS c ON c.configuration = s.configuration "
    "           GROUP BY c.baseline) "
    "SELECT c.configuration, c.baseline, c.change FROM seen AS s "
    "JOIN configuration AS c ON c.configuration = s.configuration "
    "JOIN family AS f ON f.baseline = c.baseline "
    "LEFT JOIN configuration AS b ON b.configuration = c.baseline "
    "ORDER BY f.is_compared DESC, f.runs DESC, b.sequence, c.baseline, c.sequence";

/* Where nothing was compared the campaign says it: a night of baselines alone has values all the same. */
static const char target_sql[] =
    "SELECT target FROM (SELECT target, 0 AS place FROM page_delta WHERE is_main = 1 UNION ALL "
    "SELECT value, 1 FROM setting WHERE section = 'season' AND name = 'main_measure: attitude' "
    "AND (value = 'weighted' OR value IN (SELECT target FROM target))) ORDER BY place LIMIT 1";

/* A season without an entry has an empty page. */
static enum status set_scope(struct store *store, struct findings *findings, struct fault *fault)
{
    enum status status = entries_read(store, &findings->entries, fault);

    if (status != OK)
        return status;
    if (findings->at > 0 && findings->at >= findings->entries.n)
        return FAIL(fault, NO_RESULT, "the season has %zu entries, none at %zu",
                    findings->entries.n, findings->at);
    if (findings->entries.n > 0) {
        findings->facility = findings->entries.items[findings->at].facility;
        findings->entry = findings->entries.items[findings->at].entry;
    }
    return scope_set(store, findings->facility, findings->entry, fault);
}

static enum status read_recorded(struct store *store, struct findings *findings,
                                 struct fault *fault)
{
    enum status status = query_real(store,
                                    "SELECT count(*) FROM page_run WHERE kind = 'record_only' "
                                    "AND run IN (SELECT run FROM point)",
                                    NULL, &findings->recorded_runs, fault);
    if (status == OK)
        status = query_real(store,
                            "SELECT count(*) FROM point WHERE run IN (SELECT run FROM page_run "
                            "WHERE kind = 'record_only')",
                            NULL, &findings->recorded_points, fault);
    if (status == OK)
        status = query_real(store, "SELECT count(*) FROM page_run WHERE kind = 'wind_on'", NULL,
                            &findings->wind_runs, fault);
    if (status == OK)
        status = query_real(store,
                            "SELECT count(*) FROM page_run WHERE kind = 'wind_on' AND state = 'ok'",
                            NULL, &findings->wind_runs_read, fault);
    return status;
}

static enum status read_all(struct store *store, struct findings *findings, struct fault *fault)
{
    const char *target[] = {NULL, NULL};

    enum status status = set_scope(store, findings, fault);
    if (status == OK)
        status = read_settings(store, findings, fault);
    if (status == OK)
        status = query_each(store,
                            "SELECT metric, quantity, better, toward, worthwhile FROM metric "
                            "ORDER BY is_main DESC, sequence",
                            NULL, take_metric, findings, fault);
    if (status == OK)
        status = query_each(store, configurations_sql, NULL, take_configuration, findings, fault);
    if (status == OK)
        status = query_text(store, target_sql, NULL, &findings->texts, &findings->target, fault);
    target[0] = findings->target;
    if (status == OK)
        status = query_each(store,
                            "SELECT configuration, quantity, delta, half_width, lower, upper, "
                            "verdict, real_but_small, reason, mountings, baseline_mountings, "
                            "method, noise_source, beside_delta, disagrees "
                            "FROM page_delta WHERE target = ?1 ORDER BY configuration, quantity",
                            target, take_delta, findings, fault);
    if (status == OK)
        status = read_recorded(store, findings, fault);
    if (status == OK)
        status = findings_read_refusals(store, findings, fault);
    if (status == OK)
        status = read_stability(store, findings, fault);
    if (status == OK)
        status = findings_read_levels(store, findings, fault);
    if (status == OK)
        status = sort_configurations(findings, fault);
    if (status == OK)
        status = findings_read_trust(store, findings, fault);
    return status;
}

enum status findings_read(struct store *store, struct findings *findings, struct fault *fault)
{
    return findings_read_entry(store, 0, findings, fault);
}

enum status findings_read_entry(struct store *store, size_t at, struct findings *findings,
                                struct fault *fault)
{
    *findings = (struct findings){
        .season = "", .car = "", .facility = "", .entry = "", .target = "", .at = at};
    enum status status = read_all(store, findings, fault);
    if (status != OK) {
        findings_end(findings);
        return status;
    }
    give_looks(findings);
    return OK;
}
