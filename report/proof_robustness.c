/* proof_robustness.c - would the verdict be another without some of the evidence? See proof.h. */
#include <math.h>
#include <string.h>

#include "report/number_text.h"
#include "report/page.h"
#include "report/proof.h"

enum { VARIANTS_SHOWN = 7 };

struct variants {
    struct html *page;
    const struct finding_metric *metric;
    size_t n;
};

static void begin_table(struct html *page, const char *label)
{
    page_scroller(page, "scroll", label);
    html_open(page, "table", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "Otherwise", "class", "left", "scope", "col", HTML_END);
    html_element(page, "th", "Delta", "scope", "col", HTML_END);
    html_element(page, "th", "Verdict", "class", "left", "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
}

static void write_row(struct html *page, const char *name, const char *delta, const char *verdict)
{
    html_open(page, "tr", HTML_END);
    html_element(page, "th", name, "class", "name", "scope", "row", HTML_END);
    html_element(page, "td", delta, HTML_END);
    html_element(page, "td", verdict, "class", "left", HTML_END);
    html_close(page);
}

/* Row: variant, delta, half-width, verdict or NULL. */
static enum status take_variant(struct statement *row, void *context, struct fault *fault)
{
    struct variants *variants = context;
    const struct display *display = &variants->metric->display;
    const char *verdict = statement_text(row, 3);

    (void)fault;
    if (variants->n == 0)
        begin_table(variants->page, "table of the verdict without some of the evidence");
    if (variants->n++ >= VARIANTS_SHOWN)
        return OK;
    write_row(variants->page, statement_text(row, 0),
              number_text_pair(display->factor * statement_real(row, 1),
                               display->factor * statement_real(row, 2), display->decimals)
                  .text,
              verdict != NULL ? verdict : "no verdict");
    return OK;
}

struct beside {
    double delta, u, freedom;
    int disagrees;
};

static enum status take_beside(struct statement *row, void *context, struct fault *fault)
{
    struct beside *beside = context;

    (void)fault;
    *beside = (struct beside){statement_real(row, 0), statement_real(row, 1),
                              statement_real(row, 2), statement_integer(row, 3) != 0};
    return OK;
}

/* The other way to take the drift off, in a sentence. */
static enum status say_beside(struct html *page, const struct proof *proof, struct fault *fault)
{
    const struct display *display = &proof->findings->metrics[0].display;
    const char *texts[] = {proof->part->name, proof->findings->metrics[0].quantity,
                           proof->findings->target, NULL};
    struct beside beside = {NAN, NAN, NAN, 0};
    int is_night = strcmp(proof->part->deltas[0].method, "whole night") == 0;

    enum status status = query_each(
        proof->store,
        "SELECT beside_delta, beside_standard_uncertainty, beside_degrees_of_freedom, disagrees "
        "FROM page_delta WHERE configuration = ?1 AND quantity = ?2 AND target = ?3",
        texts, take_beside, &beside, fault);
    if (status != OK || !isfinite(beside.delta))
        return status;
    html_format(page, "By the other model of drift, %s, the delta is %s%s%s",
                is_night ? "the local bracket" : "the whole night",
                number_text_delta(display->factor * beside.delta, display->decimals).text,
                display->unit[0] != '\0' ? " " : "", display->unit);
    if (isfinite(beside.u))
        html_format(page, " with a standard uncertainty of %s",
                    number_text_plain(display->factor * beside.u, display->decimals).text);
    html_text(page, beside.disagrees ? ": they differ by more than two combined standard errors. "
                                     : ": they agree. ");
    return status;
}

/* Row: stability, variants, same. */
static enum status take_stability(struct statement *row, void *context, struct fault *fault)
{
    struct html *page = context;
    long long variants = statement_integer(row, 1);

    (void)fault;
    html_format(page, "How firm: %s; the same verdict in %lld of %lld variant%s. ",
                statement_text(row, 0), (long long)statement_integer(row, 2), variants,
                variants == 1 ? "" : "s");
    return OK;
}

static enum status say_stability(struct html *page, const struct proof *proof, struct fault *fault)
{
    const struct findings *findings = proof->findings;
    const char *texts[] = {proof->part->name, findings->metrics[0].quantity,
                           findings->target,  findings->facility,
                           findings->entry,   NULL};

    html_open(page, "p", "class", "note", HTML_END);
    enum status status =
        query_each(proof->store,
                   "SELECT stability, variants, same FROM stability WHERE configuration = ?1 AND "
                   "quantity = ?2 AND target = ?3 AND facility = ?4 AND entry = ?5",
                   texts, take_stability, page, fault);
    if (status == OK)
        status = say_beside(page, proof, fault);
    html_close(page);
    return status;
}

static enum status write_variants(struct html *page, const struct proof *proof,
                                  struct variants *variants, struct fault *fault)
{
    const struct findings *findings = proof->findings;
    const char *texts[] = {proof->part->name, variants->metric->quantity,
                           findings->target,  findings->facility,
                           findings->entry,   NULL};

    enum status status = query_each(
        proof->store,
        "SELECT variant, delta, half_width, verdict FROM variant WHERE configuration = ?1 AND "
        "quantity = ?2 AND target = ?3 AND facility = ?4 AND entry = ?5 ORDER BY verdict_differs "
        "DESC, variant",
        texts, take_variant, variants, fault);
    for (int k = 0; variants->n > 0 && k < 3; k++)
        html_close(page);
    if (variants->n == 0)
        html_element(page, "p", "The verdict was not worked out again without some of its runs.",
                     "class", "note", HTML_END);
    else if (variants->n > VARIANTS_SHOWN) {
        html_open(page, "p", "class", "note", HTML_END);
        html_format(page,
                    "And %zu more, in the view variant of the season's database; those with "
                    "another verdict come first.",
                    variants->n - VARIANTS_SHOWN);
        html_close(page);
    }
    return status;
}

enum status proof_robustness(struct html *page, const struct proof *proof, struct fault *fault)
{
    struct variants variants = {.page = page, .metric = &proof->findings->metrics[0]};
    enum status status = OK;

    page_section(page, "robust", "Does the verdict hold?", NULL);
    if (proof->findings->n_metrics > 0) {
        status = say_stability(page, proof, fault);
        if (status == OK)
            status = write_variants(page, proof, &variants, fault);
    }
    html_close(page);
    return status;
}
