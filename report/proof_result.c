/* proof_result.c - the table: raw and corrected, interval, degrees of freedom, verdict; see proof.h. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/chart_interval.h"
#include "report/interval_text.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/proof.h"
#include "report/reading.h"
#include "report/redact.h"

struct details {
    double degrees_of_freedom, multiplier;
};

static enum status take_details(struct statement *row, void *context, struct fault *fault)
{
    struct details *details = context;

    (void)fault;
    *details = (struct details){statement_real(row, 0), statement_real(row, 1)};
    return OK;
}

static enum status read_details(const struct proof *proof, size_t m, struct details *details,
                                struct fault *fault)
{
    const char *texts[] = {proof->part->name, proof->findings->metrics[m].quantity,
                           proof->findings->target, NULL};

    *details = (struct details){(double)NAN, (double)NAN};
    return query_each(proof->store,
                      "SELECT degrees_of_freedom, multiplier FROM page_delta WHERE configuration = "
                      "?1 AND quantity = ?2 AND target = ?3",
                      texts, take_details, details, fault);
}

static void draw(struct html *page, const struct proof *proof, size_t m)
{
    const struct finding_metric *metric = &proof->findings->metrics[m];
    const struct finding_delta *delta = &proof->part->deltas[m];
    const struct reading *reading = m == 0 ? reading_of(delta->verdict) : NULL;
    double factor = metric->display.factor;
    struct interval interval = {factor * delta->delta, factor * delta->lower, factor * delta->upper,
                                reading != NULL ? reading->tone : TONE_PLAIN, m > 0};
    struct interval_scale scale = {.width = 150, .strip = factor * metric->worthwhile};
    char label[640];

    interval_words(&interval, metric->quantity, NULL, &metric->display, label, sizeof label);
    interval_scale_add(&scale, &interval);
    interval_scale_finish(&scale);
    html_open(page, "td", "class", "left", HTML_END);
    chart_interval(page, &scale, &interval, label);
    html_close(page);
}

static void write_verdict(struct html *page, const struct proof *proof, size_t m)
{
    const struct finding_delta *delta = &proof->part->deltas[m];
    const struct reading *reading = m == 0 ? reading_of(delta->verdict) : NULL;

    html_open(page, "td", "class", "left", HTML_END);
    if (m > 0)
        html_text(page, "exploratory");
    else if (reading != NULL)
        page_chip(page, reading->chip, reading->symbol, reading->verdict);
    else
        html_text(page, "none");
    if (m == 0 && delta->real_but_small)
        html_text(page, " real, but small");
    html_close(page);
}

/* has_raw: the ledger of which it is made is there. */
static enum status write_row(struct html *page, const struct proof *proof, size_t m, int has_raw,
                             struct fault *fault)
{
    const struct finding_metric *metric = &proof->findings->metrics[m];
    const struct finding_delta *delta = &proof->part->deltas[m];
    const struct display *display = &metric->display;
    double factor = display->factor;
    int decimals = number_text_decimals(factor * delta->half_width, display->decimals);
    struct details details;
    double raw = (double)NAN;

    enum status status = has_raw ? proof_raw(proof, m, &raw, fault) : OK;
    if (status == OK)
        status = read_details(proof, m, &details, fault);
    if (status != OK)
        return status;
    html_open(page, "tr", HTML_END);
    html_open(page, "th", "scope", "row", HTML_END);
    html_format(page, "\xCE\x94%s%s%s", metric->quantity, display->unit[0] != '\0' ? ", " : "",
                display->unit);
    html_element(page, "small", display_sign(metric->quantity), HTML_END);
    html_close(page);
    if (has_raw)
        html_element(page, "td", number_text_delta(factor * raw, decimals).text, HTML_END);
    html_element(page, "td", number_text_delta(factor * delta->delta, decimals).text, "class",
                 "value", HTML_END);
    html_element(page, "td", number_text_width(factor * delta->half_width, display->decimals).text,
                 "class", "width", HTML_END);
    draw(page, proof, m);
    html_open(page, "td", HTML_END);
    html_text(page, number_text_plain(details.degrees_of_freedom, 1).text);
    html_element(page, "small",
                 strcmp(delta->noise_source, "tonight") == 0 ? "this entry" : delta->noise_source,
                 HTML_END);
    html_close(page);
    html_element(page, "td", number_text_plain(details.multiplier, 2).text, HTML_END);
    html_element(page, "td", number_text_declared(factor * metric->worthwhile).text, HTML_END);
    write_verdict(page, proof, m);
    html_close(page);
    return OK;
}

/* Of the part's own family, those whose intervals hold together with its own. */
static size_t parts_tried(const struct proof *proof)
{
    const struct findings *findings = proof->findings;
    size_t n = 0;

    for (size_t i = 0; i < findings->n_configurations; i++)
        n += findings->configurations[i].family == proof->part->family &&
             isfinite(findings->configurations[i].deltas[0].half_width);
    return n;
}

static void write_note(struct html *page, const struct proof *proof, int has_raw)
{
    const struct findings *findings = proof->findings;
    size_t n = parts_tried(proof);

    html_open(page, "p", "class", "note", HTML_END);
    if (isfinite(findings->confidence) && n > 0)
        html_format(page, "Intervals at %s %%. ",
                    number_text_declared(100 * findings->confidence).text);
    if (n > 1)
        html_format(page,
                    "That of %s holds for all %zu parts tried against %s together, and the verdict "
                    "is read from it%s. ",
                    findings->metrics[0].quantity, n, proof->part->baseline,
                    findings->n_metrics > 1 ? "; the others are exploratory, each by itself" : "");
    else if (n == 1)
        html_format(page, "The verdict is read from that of %s%s. ", findings->metrics[0].quantity,
                    findings->n_metrics > 1 ? "; the others are exploratory" : "");
    if (findings->count > 0)
        html_format(page, "1 count = %s. ", number_text_declared(findings->count).text);
    if (proof->part->deltas[0].method[0] != '\0')
        html_format(page, "Delta and noise by the %s. ",
                    strcmp(proof->part->deltas[0].method, "whole night") == 0
                        ? "model of the whole night"
                        : proof->part->deltas[0].method);
    if (has_raw)
        html_text(page, "Raw: before boundary corrections and as attained, mountings against the "
                        "baseline interpolated in time, without an interval. ");
    html_text(page,
              "Worth having: declared "
              "before the comparison, drawn grey; a filled dot has zero outside its interval.");
    html_close(page);
}

enum status proof_result(struct html *page, const struct proof *proof, struct fault *fault)
{
    static const char *const heads[] = {"Raw",
                                        "Corrected",
                                        "Interval",
                                        "Drawn",
                                        "Degrees of freedom, noise of",
                                        "Multi\xC2\xADplier",
                                        "Worth having",
                                        "Verdict"};
    int levels_are_out = 0;

    enum status status = redact_levels_are_out(proof->store, &levels_are_out, fault);
    page_section(page, "result", "Result", NULL);
    page_scroller(page, "panel scroll", "table of the result");
    html_open(page, "table", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "Measure", "class", "left", "scope", "col", HTML_END);
    for (size_t i = levels_are_out ? 1 : 0; i < sizeof heads / sizeof heads[0]; i++)
        html_element(page, "th", heads[i], "class", i == 2 || i == 3 || i == 7 ? "left" : NULL,
                     "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
    for (size_t m = 0; status == OK && m < proof->findings->n_metrics; m++)
        if (proof->part->deltas[m].is_there)
            status = write_row(page, proof, m, !levels_are_out, fault);
    html_close(page);
    html_close(page);
    html_close(page);
    if (status == OK && proof->findings->n_metrics > 0)
        write_note(page, proof, !levels_are_out);
    html_close(page);
    return status;
}
