/* proof_evidence.c - where, when, and in which order it was measured; see proof.h. */
#include <math.h>
#include <string.h>

#include "report/number_text.h"
#include "report/page.h"
#include "report/proof.h"
#include "report/time_text.h"

enum { RUNS_NAMED = 48, DECISIONS_NAMED = 12 };

struct order {
    struct html *page;
    const char *part;
    size_t n;
    double first, last, offset;
};

/* Row: run, configuration, state, start, start as written. The part's runs are bold. */
static enum status take_run(struct statement *row, void *context, struct fault *fault)
{
    struct order *order = context;
    const char *configuration = statement_text(row, 1);
    int is_part = strcmp(configuration, order->part) == 0;

    (void)fault;
    if (order->n++ == 0) {
        order->first = statement_real(row, 3);
        order->offset = time_zone_offset(statement_text(row, 4));
    }
    order->last = statement_real(row, 3);
    if (order->n > RUNS_NAMED)
        return OK;
    html_text(order->page, order->n > 1 ? ", " : "");
    if (is_part)
        html_open(order->page, "b", HTML_END);
    html_format(order->page, "%s %s", statement_text(row, 0), configuration);
    if (strcmp(statement_text(row, 2), "ok") != 0)
        html_text(order->page, " (quarantined)");
    else if (statement_integer(row, 5) != 0)
        html_text(order->page, " (excluded)");
    if (is_part)
        html_close(order->page);
    return OK;
}

static enum status write_order(struct html *page, const struct proof *proof, struct order *order,
                               struct fault *fault)
{
    const char *texts[] = {proof->part->name, proof->part->baseline, NULL};

    html_element(page, "dt", "Runs in order", HTML_END);
    html_open(page, "dd", HTML_END);
    html_open(page, "p", "class", "run-order", HTML_END);
    enum status status = query_each(
        proof->store,
        "SELECT run, configuration, state, start_s, start_text, run IN (SELECT run FROM decision "
        "WHERE point = '' AND decision = 'exclude') FROM page_run WHERE kind = "
        "'wind_on' AND configuration IN (?1, ?2) ORDER BY start_s, sequence",
        texts, take_run, order, fault);
    if (order->n > RUNS_NAMED)
        html_format(page, " and %zu more", order->n - RUNS_NAMED);
    html_close(page);
    html_close(page);
    return status;
}

/* Row: place, decision, who, when, why. */
static enum status take_decision(struct statement *row, void *context, struct fault *fault)
{
    struct order *order = context;

    (void)fault;
    if (order->n++ == 0) {
        html_element(order->page, "dt", "Decided by a person", HTML_END);
        html_open(order->page, "dd", HTML_END);
    }
    if (order->n > DECISIONS_NAMED)
        return OK;
    html_open(order->page, "p", HTML_END);
    html_format(order->page, "%s %s by %s on %s", statement_text(row, 0), statement_text(row, 1),
                statement_text(row, 2), statement_text(row, 3));
    if (statement_text(row, 4)[0] != '\0')
        html_format(order->page, ": %s", statement_text(row, 4));
    html_close(order->page);
    return OK;
}

static enum status write_decisions(struct html *page, const struct proof *proof,
                                   struct fault *fault)
{
    const char *texts[] = {proof->part->name, proof->part->baseline, NULL};
    struct order order = {.page = page};

    enum status status = query_each(
        proof->store,
        "SELECT m.run || CASE m.point WHEN '' THEN '' ELSE '/' || m.point END, CASE m.decision "
        "WHEN 'exclude' THEN 'excluded' ELSE 'taken in' END, m.who, m.decided, m.why FROM decision "
        "AS m JOIN page_run AS r ON r.run = m.run WHERE r.kind = 'wind_on' AND r.configuration IN "
        "(?1, ?2) ORDER BY r.sequence, m.sheet_line",
        texts, take_decision, &order, fault);
    if (order.n > DECISIONS_NAMED) {
        html_open(page, "p", HTML_END);
        html_format(page, "And %zu more; left_out.csv has all.", order.n - DECISIONS_NAMED);
        html_close(page);
    }
    if (order.n > 0)
        html_close(page);
    return status;
}

static enum status take_stream(struct statement *row, void *context, struct fault *fault)
{
    double *value = context;

    (void)fault;
    for (int i = 0; i < 6; i++)
        value[i] = statement_real(row, i);
    return OK;
}

static enum status write_stream(struct html *page, const struct proof *proof, struct fault *fault)
{
    const char *texts[] = {proof->part->name, proof->part->baseline, NULL};
    double value[6] = {NAN, NAN, NAN, NAN, NAN, NAN};

    enum status status = query_each(
        proof->store,
        "SELECT min(speed_m_s), max(speed_m_s), min(dynamic_pressure_pa), "
        "max(dynamic_pressure_pa), "
        "min(reynolds), max(reynolds) FROM point_result AS p JOIN page_reduction AS d ON "
        "d.reduction = p.reduction JOIN page_run AS r ON r.run = p.run WHERE r.kind = 'wind_on' "
        "AND r.configuration IN (?1, ?2) AND p.state NOT IN ('refused', 'failed', 'excluded')",
        texts, take_stream, value, fault);
    if (status != OK || !isfinite(value[2]))
        return status;
    proof_pair(page, "Air", "%s m/s, q %s Pa, Reynolds number on the wheelbase %s million",
               number_text_range(value[0], value[1], 1).text,
               number_text_range(value[2], value[3], 0).text,
               number_text_range(value[4] / 1e6, value[5] / 1e6, 2).text);
    return status;
}

static enum status write_attitudes(struct html *page, const struct proof *proof,
                                   struct fault *fault)
{
    static const char sql[] =
        "SELECT count(*) || ': ' || group_concat(text, ', ') FROM (SELECT target || CASE ?1 WHEN "
        "'weighted' THEN ' (' || printf('%.3g', weight) || ')' ELSE '' END AS text FROM target "
        "WHERE CASE ?1 WHEN 'weighted' THEN weight > 0 ELSE target = ?1 END ORDER BY sequence)";
    const char *texts[] = {proof->findings->target, NULL};
    struct text_pool pool = {0};
    const char *text = "";

    enum status status = query_text(proof->store, sql, texts, &pool, &text, fault);
    proof_pair(page, "Attitudes", "%.500s%s", text[0] != '\0' ? text : "none",
               strcmp(proof->findings->target, "weighted") == 0 ? "; in brackets their weights"
                                                                : "");
    text_pool_free(&pool);
    return status;
}

enum status proof_evidence(struct html *page, const struct proof *proof, struct fault *fault)
{
    const struct finding_delta *delta = &proof->part->deltas[0];
    struct order order = {.page = page, .part = proof->part->name, .first = NAN};

    page_section(page, "evidence", "Evidence", NULL);
    html_open(page, "dl", "class", "origin-list", HTML_END);
    enum status status = write_order(page, proof, &order, fault);
    if (status == OK)
        status = write_decisions(page, proof, fault);
    if (isfinite(order.first))
        proof_pair(
            page, "When", "%s %s to %s %s, %s, at %.100s in entry %.100s",
            time_date(order.first, order.offset).text, time_clock(order.first, order.offset).text,
            time_date(order.last, order.offset).text, time_clock(order.last, order.offset).text,
            time_zone(order.offset).text, proof->findings->facility, proof->findings->entry);
    proof_pair(page, "Mountings", "%lld of %.100s, %lld of %.100s; one mounting is one observation",
               delta->mountings, proof->part->name, delta->baseline_mountings,
               proof->part->baseline);
    if (status == OK)
        status = write_attitudes(page, proof, fault);
    if (status == OK)
        status = write_stream(page, proof, fault);
    html_close(page);
    html_close(page);
    return status;
}
