/* panel_trade.c - what each gain costs: the change of one measure against that of another.
 *
 * Which two, and what one is worth of the other, is the campaign's section trade. Without it downforce
 * stands against drag, and no line is drawn: what a gain may cost is for the team to say.            */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/chart_trade.h"
#include "report/cut_text.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/panel.h"

enum {
    TITLE = 700,
    DRAWN_ALL = 12, /* of more changes than this the best are drawn, as in the delta table */
    DRAWN_BEST = 8
};

struct trade {
    const struct findings *findings;
    struct text_pool texts;
    const char *metric, *per; /* names; "" when the campaign does not say */
    double worth;             /* NAN when it does not say */
    size_t x, y;              /* metrics: paid, and brought; METRICS_MAX for none */
};

static size_t find_metric(const struct findings *findings, const char *name, const char *quantity)
{
    for (size_t m = 0; m < findings->n_metrics; m++)
        if (strcmp(name[0] != '\0' ? findings->metrics[m].name : findings->metrics[m].quantity,
                   name[0] != '\0' ? name : quantity) == 0)
            return m;
    return METRICS_MAX;
}

static enum status read_trade(const struct night_page *night, struct trade *trade,
                              struct fault *fault)
{
    struct store *store = night->store;

    *trade = (struct trade){.findings = night->findings, .metric = "", .per = "", .worth = NAN};
    enum status status =
        query_text(store, "SELECT value FROM setting WHERE section = 'trade' AND name = 'metric'",
                   NULL, &trade->texts, &trade->metric, fault);
    if (status == OK)
        status =
            query_text(store, "SELECT value FROM setting WHERE section = 'trade' AND name = 'per'",
                       NULL, &trade->texts, &trade->per, fault);
    if (status == OK)
        status = query_real(store,
                            "SELECT CAST(value AS REAL) FROM setting WHERE section = 'trade' AND "
                            "name = 'worth'",
                            NULL, &trade->worth, fault);
    trade->x = find_metric(night->findings, trade->metric, "CD");
    trade->y = find_metric(night->findings, trade->per, "CL");
    return status;
}

static int has_change(const struct trade *trade, const struct finding_configuration *at)
{
    return !at->is_baseline && isfinite(at->deltas[trade->x].delta) &&
           isfinite(at->deltas[trade->y].delta);
}

static size_t count_changes(const struct trade *trade)
{
    size_t n = 0;

    if (trade->x == METRICS_MAX || trade->y == METRICS_MAX)
        return 0;
    for (size_t i = 0; i < trade->findings->n_leading; i++)
        n += has_change(trade, &trade->findings->configurations[i]) != 0;
    return n;
}

static double sense(const struct finding_metric *metric)
{
    if (strcmp(metric->better, "higher") == 0)
        return 1;
    return strcmp(metric->better, "lower") == 0 ? -1 : (double)NAN;
}

/* Brought less what the cost must bring, stored unit of `per`: above zero it is worth it. */
static double left_over(const struct trade *trade, const struct finding_configuration *at)
{
    const struct finding_metric *metrics = trade->findings->metrics;

    return sense(&metrics[trade->y]) * at->deltas[trade->y].delta +
           sense(&metrics[trade->x]) * trade->worth * at->deltas[trade->x].delta;
}

static struct number_text pair(const struct finding_metric *metric,
                               const struct finding_delta *delta)
{
    const struct display *display = &metric->display;

    return number_text_pair(display->factor * delta->delta, display->factor * delta->half_width,
                            display->decimals);
}

static void mark_title(const struct trade *trade, const struct finding_configuration *at,
                       char out[TITLE])
{
    const struct finding_metric *x = &trade->findings->metrics[trade->x];
    const struct finding_metric *y = &trade->findings->metrics[trade->y];

    (void)snprintf(out, TITLE, "%s: \xCE\x94%.20s %s %s, \xCE\x94%.20s %s %s",
                   cut_text(at->name, CUT_TEXT_MOST).text, y->quantity,
                   pair(y, &at->deltas[trade->y]).text, y->display.unit, x->quantity,
                   pair(x, &at->deltas[trade->x]).text, x->display.unit);
}

static struct trade_mark mark_of(const struct trade *trade, const struct finding_configuration *at,
                                 const char *title)
{
    const struct finding_delta *x = &at->deltas[trade->x], *y = &at->deltas[trade->y];
    double across = trade->findings->metrics[trade->x].display.factor;
    double up = trade->findings->metrics[trade->y].display.factor;
    const struct finding_delta *judged = &at->deltas[0];

    return (struct trade_mark){.name = at->name,
                               .title = title,
                               .look = at->look,
                               .x = across * x->delta,
                               .x_lower = across * x->lower,
                               .x_upper = across * x->upper,
                               .y = up * y->delta,
                               .y_lower = up * y->lower,
                               .y_upper = up * y->upper,
                               .is_hollow = !(judged->lower > 0 || judged->upper < 0)};
}

static void axis_name(const struct finding_metric *metric, char *out, size_t size)
{
    (void)snprintf(out, size, "\xCE\x94%.20s%s%s, %s", metric->quantity,
                   metric->display.unit[0] != '\0' ? ", " : "", metric->display.unit,
                   display_sign(metric->quantity));
}

/* y = slope x on the page: on the line what is brought is just what the cost must bring. */
static void set_line(const struct trade *trade, struct trade_chart *chart)
{
    const struct finding_metric *x = &trade->findings->metrics[trade->x];
    const struct finding_metric *y = &trade->findings->metrics[trade->y];

    chart->slope = -sense(x) * sense(y) * trade->worth * y->display.factor / x->display.factor;
    chart->is_above = sense(y) > 0;
}

static size_t count_drawn(size_t n)
{
    return n <= DRAWN_ALL ? n : DRAWN_BEST;
}

static enum status write_chart(struct html *page, const struct trade *trade, size_t n,
                               struct fault *fault)
{
    const struct finding_metric *metrics = trade->findings->metrics;
    struct trade_mark *marks = calloc(n + 1, sizeof *marks);
    char(*titles)[TITLE] = calloc(n + 1, sizeof *titles);
    char label[400], x_name[120], y_name[120];
    size_t used = 0;

    if (marks == NULL || titles == NULL) {
        free(marks);
        free(titles);
        return FAIL(fault, NO_MEMORY, "no memory to draw what %zu configurations cost", n);
    }
    for (size_t i = 0; i < trade->findings->n_leading && used < n; i++) {
        const struct finding_configuration *at = &trade->findings->configurations[i];
        if (!has_change(trade, at))
            continue;
        mark_title(trade, at, titles[used]);
        marks[used] = mark_of(trade, at, titles[used]);
        used++;
    }
    axis_name(&metrics[trade->x], x_name, sizeof x_name);
    axis_name(&metrics[trade->y], y_name, sizeof y_name);
    (void)snprintf(label, sizeof label,
                   "change of %.80s against change of %.80s, %zu configuration%s",
                   metrics[trade->y].name, metrics[trade->x].name, used, used == 1 ? "" : "s");
    struct trade_chart chart = {label, x_name, y_name, NAN, 1, "", marks, used};
    set_line(trade, &chart);
    page_scroller(page, "scroll", "picture: what each gain costs");
    chart_trade(page, &chart);
    html_close(page);
    free(marks);
    free(titles);
    return OK;
}

static void write_row(struct html *page, const struct trade *trade,
                      const struct finding_configuration *at)
{
    const struct finding_metric *metrics = trade->findings->metrics;
    const struct display *display = &metrics[trade->y].display;

    html_open(page, "tr", HTML_END);
    html_element(page, "th", at->name, "scope", "row", HTML_END);
    html_element(page, "td", pair(&metrics[trade->y], &at->deltas[trade->y]).text, HTML_END);
    html_element(page, "td", pair(&metrics[trade->x], &at->deltas[trade->x]).text, HTML_END);
    if (isfinite(trade->worth))
        html_element(
            page, "td",
            number_text_delta(display->factor * left_over(trade, at), display->decimals).text,
            HTML_END);
    html_close(page);
}

static void write_head(struct html *page, const struct trade *trade)
{
    const struct finding_metric *x = &trade->findings->metrics[trade->x];
    const struct finding_metric *y = &trade->findings->metrics[trade->y];
    const struct finding_metric *columns[] = {y, x};

    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "Configuration", "class", "left", "scope", "col", HTML_END);
    for (size_t i = 0; i < 2; i++) {
        html_open(page, "th", "scope", "col", HTML_END);
        html_format(page, "\xCE\x94%s%s%s", columns[i]->quantity,
                    columns[i]->display.unit[0] != '\0' ? ", " : "", columns[i]->display.unit);
        html_close(page);
    }
    if (isfinite(trade->worth)) {
        html_open(page, "th", "scope", "col", HTML_END);
        html_format(page, "Left over%s%s, as measured", y->display.unit[0] != '\0' ? ", " : "",
                    y->display.unit);
        html_close(page);
    }
    html_close(page);
    html_close(page);
}

static void write_table(struct html *page, const struct trade *trade)
{
    html_open(page, "details", HTML_END);
    html_element(page, "summary", "Numbers behind this picture", HTML_END);
    page_scroller(page, "scroll", "numbers of what each gain costs");
    html_open(page, "table", HTML_END);
    write_head(page, trade);
    html_open(page, "tbody", HTML_END);
    for (size_t i = 0; i < trade->findings->n_leading; i++)
        if (has_change(trade, &trade->findings->configurations[i]))
            write_row(page, trade, &trade->findings->configurations[i]);
    for (int k = 0; k < 4; k++)
        html_close(page);
}

/* "1 count of drag", "4 counts of downforce", "0.5 of efficiency" */
static void write_amount(struct html *page, const struct finding_metric *metric, double amount)
{
    const char *unit = metric->display.unit;
    int is_one_count = amount == 1 && strcmp(unit, "counts") == 0;

    html_format(page, "%s%s%s of %s", number_text_declared(amount).text, unit[0] != '\0' ? " " : "",
                is_one_count ? "count" : unit, metric->name);
}

/* "The line: for 1 count of drag the team asks 4 counts of downforce." */
static void write_line_note(struct html *page, const struct trade *trade)
{
    const struct finding_metric *x = &trade->findings->metrics[trade->x];
    const struct finding_metric *y = &trade->findings->metrics[trade->y];
    size_t over = 0, n = 0;

    if (!isfinite(trade->worth)) {
        html_text(page,
                  "No line is drawn: the campaign does not say what a gain may cost (trade:). ");
        return;
    }
    for (size_t i = 0; i < trade->findings->n_leading; i++) {
        const struct finding_configuration *at = &trade->findings->configurations[i];
        n += has_change(trade, at) != 0;
        over += has_change(trade, at) && left_over(trade, at) > 0;
    }
    double each = trade->worth * y->display.factor / x->display.factor;
    html_text(page, "The line: for ");
    write_amount(page, x, 1);
    html_text(page, " the team asks ");
    write_amount(page, y, each);
    html_text(page, "; shaded is what is worth it. ");
    html_format(page,
                "As measured, %zu of %zu %s on that side; a cross over the line leaves it open. ",
                over, n, over == 1 ? "is" : "are");
}

static void write_note(struct html *page, const struct trade *trade, size_t n)
{
    const struct findings *findings = trade->findings;

    html_open(page, "p", "class", "note", HTML_END);
    write_line_note(page, trade);
    html_text(page, "Crosses are the intervals of the delta table");
    if (isfinite(findings->confidence))
        html_format(page, ", %s %%", number_text_declared(100 * findings->confidence).text);
    if (trade->x == 0 || trade->y == 0)
        html_format(page, "; that of \xCE\x94%s is the judged one, the other is exploratory",
                    findings->metrics[0].quantity);
    if (count_drawn(n) < n)
        html_format(page, ". Of %zu the best %zu are drawn, the table has all", n, count_drawn(n));
    html_format(page, ". Filled: zero is outside the interval of \xCE\x94%s.",
                findings->metrics[0].quantity);
    html_close(page);
}

static void write_nothing(struct html *page, const struct trade *trade)
{
    html_open(page, "p", "class", "why", HTML_END);
    if (trade->x == METRICS_MAX || trade->y == METRICS_MAX)
        html_text(page, "Nothing is drawn: downforce and drag are not both among the metrics, and "
                        "the campaign names no other two (trade:).");
    else
        html_text(page, "Nothing is drawn: no configuration has both changes.");
    html_close(page);
}

enum status panel_trade(struct html *page, const struct night_page *night, struct fault *fault)
{
    struct trade trade;

    enum status status = read_trade(night, &trade, fault);
    size_t n = status == OK ? count_changes(&trade) : 0;
    if (status == OK) {
        page_section(page, "cost", "What each gain costs",
                     n > 0 ? "What a part brings against what is paid for it." : NULL);
        if (n == 0) {
            write_nothing(page, &trade);
        } else {
            html_open(page, "div", "class", "panel trade", HTML_END);
            status = write_chart(page, &trade, count_drawn(n), fault);
            html_open(page, "div", HTML_END);
            write_note(page, &trade, n);
            write_table(page, &trade);
            html_close(page);
            html_close(page);
        }
        html_close(page);
    }
    text_pool_free(&trade.texts);
    return status;
}
