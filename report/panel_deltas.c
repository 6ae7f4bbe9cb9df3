/* panel_deltas.c - the delta table: numbers, the interval drawn beside them, and the reading.
 *
 * Number, picture and word of a row come from one row of the store. The main measure is judged; all
 * other columns are exploratory: thin, unadjusted, without words.                                  */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/chart_interval.h"
#include "report/cut_text.h"
#include "report/delta_note.h"
#include "report/interval_text.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/panel.h"
#include "report/reading.h"
#include "report/sign_text.h"

/* With more configurations than a dozen and their baseline, the best stay and the rest is folded. */
enum { SHOWN_MAX = 13, BEST = 8 };

/* The interval of a row in the page's unit. */
static struct interval drawn_interval(const struct findings *findings,
                                      const struct finding_configuration *configuration, size_t m)
{
    const struct finding_delta *delta = &configuration->deltas[m];
    const struct reading *reading = m == 0 ? reading_of(delta->verdict) : NULL;
    double factor = findings->metrics[m].display.factor;

    return (struct interval){factor * delta->delta, factor * delta->lower, factor * delta->upper,
                             reading != NULL ? reading->tone : TONE_PLAIN, m > 0};
}

static struct interval_scale column_scale(const struct findings *findings, size_t m)
{
    const struct finding_metric *metric = &findings->metrics[m];
    struct interval_scale scale = {.width = m == 0 ? 200 : 124,
                                   .is_thin = m > 0,
                                   .strip = metric->display.factor * metric->worthwhile};

    for (size_t i = 0; i < findings->n_configurations; i++) {
        struct interval interval = drawn_interval(findings, &findings->configurations[i], m);
        interval_scale_add(&scale, &interval);
    }
    interval_scale_finish(&scale);
    return scale;
}

/* Name, unit and direction of a column, then the axis its intervals share. The judged column has its
 * numbers in two cells of their own, an exploratory one above the picture. */
static void write_metric_head(struct html *page, const struct findings *findings, size_t m,
                              const struct interval_scale *scale)
{
    const struct finding_metric *metric = &findings->metrics[m];
    char key[24];

    (void)snprintf(key, sizeof key, "k%zu", m);
    html_open(page, "th", "class", "group", "colspan", m == 0 ? "2" : NULL, "scope", "col",
              "data-key", key, HTML_END);
    html_element(page, "b", "\xCE\x94", HTML_END);
    html_element(page, "b", metric->quantity, HTML_END);
    if (metric->display.unit[0] != '\0')
        html_format(page, ", %s", metric->display.unit);
    html_empty(page, "br", HTML_END);
    html_element(page, "small", display_sign(metric->quantity), HTML_END);
    if (m == 0) {
        html_close(page);
        html_open(page, "th", "class", "drawn", HTML_END);
    }
    html_element(page, "small", m == 0 ? "judged" : "; exploratory", HTML_END);
    chart_interval_axis(page, scale);
    html_close(page);
}

static void write_head(struct html *page, const struct findings *findings,
                       const struct interval_scale *scales)
{
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "Configuration", "class", "left", "scope", "col", HTML_END);
    html_element(page, "th", "Mount\xC2\xADings", "class", "spare", "scope", "col", HTML_END);
    for (size_t m = 0; m < findings->n_metrics; m++) {
        write_metric_head(page, findings, m, &scales[m]);
        if (m == 0)
            html_element(page, "th", "Reading", "class", "reading", "scope", "col", HTML_END);
    }
    html_close(page);
    html_close(page);
}

/* "ΔCL of W2: +38.2 ± 6.1 counts, from +32.1 to +44.3" */
static void interval_label(const struct findings *findings,
                           const struct finding_configuration *configuration, size_t m, char *out,
                           size_t size)
{
    const struct finding_metric *metric = &findings->metrics[m];
    struct interval interval = drawn_interval(findings, configuration, m);

    interval_words(&interval, metric->quantity, cut_text(configuration->name, CUT_TEXT_MOST).text,
                   &metric->display, out, size);
}

static void write_picture(struct html *page, const struct findings *findings,
                          const struct finding_configuration *configuration, size_t m,
                          const struct interval_scale *scale)
{
    struct interval interval = drawn_interval(findings, configuration, m);
    char label[640];

    interval_label(findings, configuration, m, label, sizeof label);
    chart_interval(page, scale, &interval, label);
}

static void write_judged(struct html *page, const struct findings *findings,
                         const struct finding_configuration *configuration,
                         const struct interval_scale *scale)
{
    const struct display *display = &findings->metrics[0].display;
    const struct finding_delta *delta = &configuration->deltas[0];
    double width = display->factor * delta->half_width;
    int decimals = number_text_decimals(width, display->decimals);

    html_element(page, "td", number_text_delta(display->factor * delta->delta, decimals).text,
                 "class", "value", HTML_END);
    html_element(page, "td", number_text_width(width, display->decimals).text, "class", "width",
                 HTML_END);
    html_open(page, "td", "class", "drawn", HTML_END);
    write_picture(page, findings, configuration, 0, scale);
    html_close(page);
}

static void write_exploratory(struct html *page, const struct findings *findings,
                              const struct finding_configuration *configuration, size_t m,
                              const struct interval_scale *scale)
{
    const struct display *display = &findings->metrics[m].display;
    const struct finding_delta *delta = &configuration->deltas[m];

    html_open(page, "td", "class", "value minor", HTML_END);
    html_text(page, number_text_pair(display->factor * delta->delta,
                                     display->factor * delta->half_width, display->decimals)
                        .text);
    write_picture(page, findings, configuration, m, scale);
    html_close(page);
}

static void write_small(struct html *page, const char *text)
{
    html_open(page, "small", HTML_END);
    sign_text_write(page, text);
    html_close(page);
}

/* The verdict and what goes with it, in a cell of its own or, on a narrow screen, below the name:
 * element and class say where, and the style sheet shows one of the two. */
static void write_reading(struct html *page, const struct finding_configuration *configuration,
                          const char *element, const char *class)
{
    const struct finding_delta *delta = &configuration->deltas[0];
    const struct reading *reading = reading_of(delta->verdict);

    html_open(page, element, "class", class, HTML_END);
    if (reading != NULL)
        page_chip(page, reading->chip, reading->symbol, reading->verdict);
    else
        page_chip(page, CHIP_PLAIN, "\xE2\x80\x93", "no verdict");
    if (delta->real_but_small)
        html_element(page, "small", "real, but small", HTML_END);
    if (delta->reason[0] != '\0')
        write_small(page, delta->reason);
    if (configuration->stability[0] != '\0' && strcmp(configuration->stability, "firm") != 0)
        write_small(page, configuration->stability);
    html_close(page);
}

static void write_reference_cells(struct html *page, const struct findings *findings)
{
    html_element(page, "td", "0", "class", "value", HTML_END);
    html_element(page, "td", "ref", "class", "width", HTML_END);
    html_element(page, "td", "", HTML_END);
    html_element(page, "td", "reference", "class", "reading", HTML_END);
    for (size_t m = 1; m < findings->n_metrics; m++)
        html_element(page, "td", "0 ref", "class", "value minor", HTML_END);
}

static void open_row(struct html *page, const struct night_page *night,
                     const struct finding_configuration *configuration)
{
    char keys[METRICS_MAX][40];
    const char *class = configuration->is_baseline ? "reference" : NULL;

    if (configuration == night->headline->winner)
        class = "winner";
    for (size_t m = 0; m < METRICS_MAX; m++) {
        double delta = configuration->is_baseline ? 0 : configuration->deltas[m].delta;
        (void)snprintf(keys[m], sizeof keys[m], "%.9g", isfinite(delta) ? delta : -1e300);
    }
    html_open(page, "tr", "class", class, "data-k0", keys[0], "data-k1", keys[1], "data-k2",
              keys[2], "data-k3", keys[3], "data-k4", keys[4], "data-k5", keys[5], HTML_END);
}

static void write_row(struct html *page, const struct night_page *night,
                      const struct finding_configuration *configuration,
                      const struct interval_scale *scales)
{
    const struct findings *findings = night->findings;
    const struct finding_delta *delta = &configuration->deltas[0];

    open_row(page, night, configuration);
    html_open(page, "th", "class", "name", "scope", "row", HTML_END);
    html_text(page, configuration->name);
    html_text(page, " ");
    if (configuration->change[0] != '\0')
        html_element(page, "small", cut_text(configuration->change, CUT_TEXT_MOST).text, HTML_END);
    if (!configuration->is_baseline)
        write_reading(page, configuration, "div", "narrow");
    html_close(page);
    html_open(page, "td", "class", "spare", HTML_END);
    if (!configuration->is_baseline)
        html_format(page, "%lld", delta->mountings);
    html_close(page);
    if (configuration->is_baseline) {
        write_reference_cells(page, findings);
    } else {
        write_judged(page, findings, configuration, &scales[0]);
        write_reading(page, configuration, "td", "reading");
        for (size_t m = 1; m < findings->n_metrics; m++)
            write_exploratory(page, findings, configuration, m, &scales[m]);
    }
    html_close(page);
}

/* Which baseline the rows below are compared with; the script leaves it on top when it sorts. */
static void write_family(struct html *page, const struct findings *findings, const char *baseline)
{
    char columns[24];

    (void)snprintf(columns, sizeof columns, "%zu", findings->n_metrics + 5);
    html_open(page, "tr", "class", "family", HTML_END);
    html_open(page, "th", "colspan", columns, "scope", "rowgroup", HTML_END);
    html_format(page, "compared with %s", baseline);
    html_close(page);
    html_close(page);
}

/* Which rows a table has: of many configurations the best of the leading family and its baseline stand on
 * the first screen, and the rest is folded. */
enum part { PART_ALL, PART_BEST, PART_REST };

static int is_in(enum part part, const struct finding_configuration *at, size_t rank)
{
    int is_best = at->family == 0 && (at->is_baseline || rank < BEST);

    return part == PART_ALL || is_best == (part == PART_BEST);
}

/* One body a family so that sorting keeps families together; gives the number of rows. */
static size_t write_bodies(struct html *page, const struct night_page *night,
                           const struct interval_scale *scales, enum part part)
{
    const struct findings *findings = night->findings;
    const char *family = NULL;
    size_t rank = 0, written = 0;

    for (size_t i = 0; i < findings->n_configurations; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        int is_here = is_in(part, at, rank);
        rank += !at->is_baseline;
        if (!is_here)
            continue;
        if (family == NULL || strcmp(family, at->baseline) != 0) {
            if (family != NULL)
                html_close(page);
            html_open(page, "tbody", HTML_END);
            family = at->baseline;
            if (findings->n_leading < findings->n_configurations)
                write_family(page, findings, family);
        }
        write_row(page, night, at, scales);
        written++;
    }
    if (family != NULL)
        html_close(page);
    return written;
}

static size_t write_table(struct html *page, const struct night_page *night,
                          const struct interval_scale *scales, enum part part)
{
    page_scroller(page, "scroll",
                  part == PART_REST ? "table of the other deltas" : "table of deltas");
    html_open(page, "table", "class", "deltas sort", HTML_END);
    write_head(page, night->findings, scales);
    size_t written = write_bodies(page, night, scales, part);
    html_close(page);
    html_close(page);
    return written;
}

enum status panel_deltas(struct html *page, const struct night_page *night, struct fault *fault)
{
    const struct findings *findings = night->findings;
    struct interval_scale scales[METRICS_MAX];
    size_t n = findings->n_configurations;

    (void)fault;
    if (findings->n_metrics == 0 || !findings_has_others(findings))
        return OK;
    for (size_t m = 0; m < findings->n_metrics; m++)
        scales[m] = column_scale(findings, m);
    size_t written = write_table(page, night, scales, n <= SHOWN_MAX ? PART_ALL : PART_BEST);
    if (written < n) {
        html_open(page, "details", "class", "rest", HTML_END);
        html_open(page, "summary", HTML_END);
        html_format(page, "%zu more configuration%s", n - written, n - written == 1 ? "" : "s");
        html_close(page);
        (void)write_table(page, night, scales, PART_REST);
        html_close(page);
    }
    delta_note(page, findings);
    return OK;
}
