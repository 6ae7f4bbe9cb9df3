/* flag_trace.c - see flag_trace.h. */
#include "report/flag_trace.h"

#include <stdio.h>

#include "report/chart_spectrum.h"
#include "report/chart_trace.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/query.h"
#include "report/sign_text.h"

enum { LINES = 40 };

static const char worst_sql[] =
    "SELECT t.run, t.point, t.position, count(*) OVER () FROM (SELECT DISTINCT run, point, "
    "position, "
    "severity FROM flag_trace AS f WHERE f.rule = ?1 AND EXISTS (SELECT 1 FROM page_flag AS g "
    "WHERE "
    "g.rule = f.rule AND g.state = ?2 AND g.run = f.run AND g.subject = f.subject)) AS t "
    "JOIN run AS r ON r.run = t.run JOIN point AS p ON p.run = t.run AND p.point = t.point "
    "ORDER BY t.severity DESC, r.sequence, p.sequence, t.position LIMIT 1";

struct worst {
    struct store *store;
    struct kept_trace trace;
    long long n; /* traces of the rule; 0: none */
};

static enum status take_worst(struct statement *row, void *context, struct fault *fault)
{
    struct worst *worst = context;

    worst->n = statement_integer(row, 3);
    return kept_trace_read(worst->store, statement_text(row, 0), statement_text(row, 1),
                           statement_integer(row, 2), &worst->trace, fault);
}

static void begin_table(struct html *page, const char *label, const char *const *heads, size_t n)
{
    html_open(page, "details", HTML_END);
    html_element(page, "summary", "Numbers behind this picture", HTML_END);
    page_scroller(page, "scroll", label);
    html_open(page, "table", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    for (size_t i = 0; i < n; i++)
        html_element(page, "th", heads[i], "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
}

static void end_table(struct html *page)
{
    for (int k = 0; k < 4; k++)
        html_close(page);
}

static void write_bins(struct html *page, const struct kept_trace *trace)
{
    static const char *const heads[] = {"From, s", "Samples", "Minimum", "Mean", "Maximum"};
    static const char *const rows_heads[] = {"Row", "Samples", "Minimum", "Mean", "Maximum"};
    struct kept_bin lines[LINES];
    size_t rows = 0;
    size_t n = kept_trace_thin(trace, LINES, lines, &rows);
    int decimals = kept_trace_decimals(trace);
    int has_time = trace->step > 0;

    begin_table(page, "numbers of the samples over time", has_time ? heads : rows_heads, 5);
    for (size_t i = 0; i < n; i++) {
        double from = (double)(i * rows) * (has_time ? trace->step : 1);
        html_open(page, "tr", HTML_END);
        html_element(page, "th", number_text_plain(from, has_time ? 3 : 0).text, "scope", "row",
                     HTML_END);
        html_element(page, "td", number_text_whole((long long)lines[i].n).text, HTML_END);
        html_element(page, "td", number_text_plain(lines[i].minimum, decimals).text, HTML_END);
        html_element(page, "td", number_text_plain(lines[i].mean, decimals).text, HTML_END);
        html_element(page, "td", number_text_plain(lines[i].maximum, decimals).text, HTML_END);
        html_close(page);
    }
    end_table(page);
}

/* Neighbouring densities together, so that there are some 40 lines. */
static void write_densities(struct html *page, const struct kept_trace *trace)
{
    static const char *const heads[] = {"From, Hz", "To, Hz", "Mean density"};
    size_t each = (trace->n_densities - 3 + LINES) / LINES;
    char text[32];

    begin_table(page, "numbers of the spectrum", heads, 3);
    for (size_t k = 1; k + 1 < trace->n_densities; k += each) {
        double sum = 0;
        size_t last = trace->n_densities - 1;
        size_t end = k + each < last ? k + each : last;
        for (size_t i = k; i < end; i++)
            sum += trace->density[i];
        html_open(page, "tr", HTML_END);
        (void)snprintf(text, sizeof text, "%.4g", spectrum_frequency(trace, k));
        html_element(page, "th", text, "scope", "row", HTML_END);
        (void)snprintf(text, sizeof text, "%.4g", spectrum_frequency(trace, end - 1));
        html_element(page, "td", text, HTML_END);
        (void)snprintf(text, sizeof text, "%.3g", sum / (double)(end - k));
        html_element(page, "td", text, HTML_END);
        html_close(page);
    }
    end_table(page);
}

static void write_spectrum(struct html *page, const struct kept_trace *trace)
{
    char label[400];

    if (trace->segments == 0) {
        html_element(page, "p",
                     "No spectrum: the point is too short for one, lacks samples, or its rows have "
                     "no time.",
                     "class", "where", HTML_END);
        return;
    }
    (void)snprintf(
        label, sizeof label,
        "power spectral density of %.80s at %.80s/%.80s over frequency, both logarithmic",
        trace->channel, trace->run, trace->point);
    chart_spectrum(page, trace, label);
    html_open(page, "p", "class", "where", HTML_END);
    html_format(page,
                "Mean of %zu segments of %zu samples, half overlapping, Hann window. The bar: the "
                "true density is with 95 %% probability between %.2f and %.2f times the drawn one "
                "(%.0f degrees "
                "of freedom; Welch 1967).",
                trace->segments, trace->segment_rows, trace->lower_factor, trace->upper_factor,
                trace->degrees_of_freedom);
    html_close(page);
    write_densities(page, trace);
}

static void write_trace(struct html *page, const struct kept_trace *trace, long long n)
{
    char sentence[KEPT_SENTENCE];
    char label[400];

    kept_trace_say(trace, sentence);
    (void)snprintf(label, sizeof label,
                   "%.80s at %.80s/%.80s over time: mean and range of %zu bins of %zu rows",
                   trace->channel, trace->run, trace->point, trace->n_bins, trace->rows_a_bin);
    html_open(page, "details", "class", "trace", HTML_END);
    html_open(page, "summary", HTML_END);
    html_format(page, "Its samples: %s at %s/%s", trace->channel, trace->run, trace->point);
    html_close(page);
    html_open(page, "p", HTML_END);
    sign_text_write(page, sentence);
    html_close(page);
    chart_trace(page, trace, label);
    html_open(page, "p", "class", "where", HTML_END);
    if (trace->rows_a_bin == 1)
        html_text(page, "Blue: the samples; black: their mean");
    else
        html_format(page,
                    "Blue: mean of every %zu samples, and tinted the smallest and largest of them; "
                    "black: mean of the point",
                    trace->rows_a_bin);
    html_text(page, trace->n_marks == 0 ? "." : "; rings and boxes: what the flag is about.");
    html_close(page);
    write_bins(page, trace);
    write_spectrum(page, trace);
    if (n > 1) {
        html_open(page, "p", "class", "where", HTML_END);
        html_format(page, "%lld more of this kind: traces.csv, or ", n - 1);
        html_element(page, "code", "lapwing explain RUN/POINT --trace CHANNEL", HTML_END);
        html_text(page, ".");
        html_close(page);
    }
    html_close(page);
}

enum status flag_trace_write(struct html *page, struct store *store, const char *rule,
                             const char *state, struct fault *fault)
{
    const char *texts[] = {rule, state, NULL};
    struct worst worst = {.store = store};

    enum status status = query_each(store, worst_sql, texts, take_worst, &worst, fault);
    if (status == OK && worst.n > 0)
        write_trace(page, &worst.trace, worst.n);
    kept_trace_end(&worst.trace);
    return status;
}
