/* proof_raw.c - a delta before any correction; see proof.h. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/proof.h"

struct raw_value {
    double time, value;
};

struct raw_values {
    const char *part;
    void *of_part, *of_baseline; /* struct raw_value, in time */
    size_t n_part, part_capacity, n_baseline, baseline_capacity;
};

/* The step "raw" of a point's ledger, ratios from its parts; mean over a mounting's points at each target;
 * then over targets by their weights. A mounting that lacks one of them has no row. Three texts are bound:
 * quantity, target, configuration; a fourth the baseline. CROSS keeps the order of the joins: from few
 * runs to their points; SQLite's own choice reads every run's ledger once for each reduction. */
static const char raw_sql[] =
    "WITH step AS (SELECT t.run, t.target, l.quantity, avg(l.value) AS value "
    " FROM page_run AS r CROSS JOIN page_reduction AS td "
    " CROSS JOIN target_result AS t ON t.reduction = td.reduction AND t.run = r.run "
    " CROSS JOIN reduction AS d ON d.is_current = 1 AND d.stage = 'point' AND d.subject = t.run "
    " CROSS JOIN ledger_row AS l ON l.reduction = d.reduction AND l.point = t.point "
    " WHERE r.configuration IN (?3, ?4) AND t.is_used = 1 AND l.step = 'raw' "
    " GROUP BY t.run, t.target, l.quantity), "
    "wanted AS (SELECT run, target, CASE ?1 "
    "  WHEN 'balance' THEN 100 * max(CASE quantity WHEN 'CLF' THEN value END) / "
    "    max(CASE quantity WHEN 'CL' THEN value END) "
    "  WHEN 'L/D' THEN max(CASE quantity WHEN 'CL' THEN value END) / "
    "    max(CASE quantity WHEN 'CD' THEN value END) "
    "  ELSE max(CASE quantity WHEN ?1 THEN value END) END AS value "
    " FROM step GROUP BY run, target), "
    "aim AS (SELECT target, CASE ?2 WHEN 'weighted' THEN weight ELSE 1 END AS weight FROM target "
    " WHERE CASE ?2 WHEN 'weighted' THEN weight > 0 ELSE target = ?2 END) "
    "SELECT o.configuration, o.time_s, (SELECT CASE WHEN count(*) = (SELECT count(*) FROM aim) "
    "  THEN sum(weight * value) / sum(weight) END "
    "  FROM (SELECT a.weight, avg(w.value) AS value FROM aim AS a JOIN wanted AS w "
    "        ON w.target = a.target AND instr(', ' || o.runs || ', ', ', ' || w.run || ', ') > 0 "
    "        WHERE w.value IS NOT NULL GROUP BY a.target)) AS raw "
    "FROM observation AS o JOIN page_reduction AS d ON d.reduction = o.reduction "
    "WHERE o.quantity = ?1 AND o.target = ?2 AND o.configuration IN (?3, ?4) AND raw IS NOT NULL "
    "ORDER BY o.time_s, o.configuration, o.mounting";

static enum status take_value(struct statement *row, void *context, struct fault *fault)
{
    struct raw_values *values = context;
    int is_part = strcmp(statement_text(row, 0), values->part) == 0;
    struct raw_value *added = is_part
                                  ? query_append(&values->of_part, &values->n_part,
                                                 &values->part_capacity, sizeof *added, fault)
                                  : query_append(&values->of_baseline, &values->n_baseline,
                                                 &values->baseline_capacity, sizeof *added, fault);

    if (added == NULL)
        return NO_MEMORY;
    *added = (struct raw_value){statement_real(row, 1), statement_real(row, 2)};
    return OK;
}

/* On the line between the returns before and after; beyond the ends the nearest. n > 0. */
static double baseline_at(const struct raw_value *returns, size_t n, double time)
{
    size_t after = 0;

    while (after < n && returns[after].time < time)
        after++;
    if (after == 0)
        return returns[0].value;
    if (after == n)
        return returns[n - 1].value;
    const struct raw_value *a = &returns[after - 1];
    const struct raw_value *b = &returns[after];
    return a->value + (b->value - a->value) * (time - a->time) / (b->time - a->time);
}

enum status proof_raw(const struct proof *proof, size_t m, double *delta, struct fault *fault)
{
    struct raw_values values = {.part = proof->part->name};
    const char *texts[] = {proof->findings->metrics[m].quantity, proof->findings->target,
                           proof->part->name, proof->part->baseline, NULL};

    *delta = (double)NAN;
    enum status status = query_each(proof->store, raw_sql, texts, take_value, &values, fault);
    if (status == OK && values.n_part > 0 && values.n_baseline > 0) {
        const struct raw_value *of_part = values.of_part;
        double sum = 0;
        for (size_t i = 0; i < values.n_part; i++)
            sum += of_part[i].value -
                   baseline_at(values.of_baseline, values.n_baseline, of_part[i].time);
        *delta = sum / (double)values.n_part;
    }
    free(values.of_part);
    free(values.of_baseline);
    return status;
}
