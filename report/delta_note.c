/* delta_note.c - see delta_note.h. */
#include "report/delta_note.h"

#include <math.h>
#include <string.h>

#include "report/number_text.h"

static size_t judged(const struct findings *findings)
{
    size_t n = 0;

    for (size_t i = 0; i < findings->n_leading; i++)
        if (isfinite(findings->configurations[i].deltas[0].half_width))
            n++;
    return n;
}

/* What the intervals of the judged column hold for; one alone holds for itself. */
static void write_judgement(struct html *page, const struct findings *findings)
{
    size_t n = judged(findings);

    if (!isfinite(findings->confidence) || n == 0)
        return;
    struct number_text percent = number_text_declared(100 * findings->confidence);
    const char *quantity = findings->metrics[0].quantity;
    if (findings->n_leading < findings->n_configurations)
        html_format(page,
                    "\xCE\x94%s is judged: its %s %% intervals hold for all comparisons with one "
                    "baseline together, and",
                    quantity, percent.text);
    else if (n > 1)
        html_format(page,
                    "\xCE\x94%s is judged: its %s %% intervals hold for all %zu comparisons "
                    "together, and",
                    quantity, percent.text, n);
    else
        html_format(page, "\xCE\x94%s is judged by its %s %% interval, and", quantity,
                    percent.text);
    html_text(page, " the reading follows from the drawn interval alone. ");
}

/* Of the intervals of the judged column, how many are by this method, or this noise. */
static size_t count_by(const struct findings *findings, const char *method, const char *source)
{
    size_t n = 0;

    for (size_t i = 0; i < findings->n_leading; i++) {
        const struct finding_delta *delta = &findings->configurations[i].deltas[0];
        n += isfinite(delta->half_width) &&
             (method == NULL || strcmp(delta->method, method) == 0) &&
             (source == NULL || strcmp(delta->noise_source, source) == 0);
    }
    return n;
}

/* How the judged deltas were found and what their noise is. */
static void write_method(struct html *page, const struct findings *findings)
{
    size_t n = judged(findings);
    size_t whole = count_by(findings, "whole night", NULL);
    size_t season = count_by(findings, NULL, "season");

    if (n == 0 || whole + count_by(findings, "local bracket", NULL) != n)
        return;
    if (whole == n)
        html_text(page,
                  "Its deltas are by one model of the whole night, with drift and refits in it. ");
    else if (whole == 0)
        html_text(page, "Its deltas are against the baseline's returns before and after. ");
    else
        html_format(
            page,
            "%zu of its %zu deltas are by one model of the whole night, the others against the "
            "baseline's returns before and after. ",
            whole, n);
    if (season == n)
        html_text(page, "Their noise is borrowed from what the season knows of the facility. ");
    else if (season > 0)
        html_format(page,
                    "The noise of %zu is borrowed from what the season knows of the facility. ",
                    season);
}

/* Words below a reading that is another one without a return, without flagged points, or on what was left
 * out. */
static void write_firmness(struct html *page, const struct findings *findings)
{
    for (size_t i = 0; i < findings->n_configurations; i++) {
        const char *stability = findings->configurations[i].stability;
        if (stability[0] == '\0' || strcmp(stability, "firm") == 0)
            continue;
        html_text(page, "Softer, depends, reversed: the reading is another one without a return, "
                        "without flagged points or with what was left out; the proof sheets list "
                        "them. ");
        return;
    }
}

void delta_note(struct html *page, const struct findings *findings)
{
    const struct finding_metric *metric = &findings->metrics[0];
    double worthwhile = metric->display.factor * metric->worthwhile;

    html_open(page, "p", "class", "note", HTML_END);
    if (findings->count > 0)
        html_format(page, "1 count = %s of any coefficient. ",
                    number_text_declared(findings->count).text);
    if (findings->target[0] != '\0')
        html_format(page, "Attitude: %s. ", findings_target_words(findings));
    write_judgement(page, findings);
    write_method(page, findings);
    html_format(page, "Grey strip: changes within \xC2\xB1%s%s%s do not matter. ",
                number_text_declared(worthwhile).text, metric->display.unit[0] != '\0' ? " " : "",
                metric->display.unit);
    if (judged(findings) > 0)
        html_text(page, "Filled dot: zero is outside the interval; hollow: it is not. ");
    write_firmness(page, findings);
    if (findings->n_metrics > 1)
        html_text(page,
                  "The other columns are exploratory: each interval stands alone, is not adjusted "
                  "for their number, and gets no verdict.");
    html_close(page);
}
