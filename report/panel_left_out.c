/* panel_left_out.c - what was left out or taken in, who decided it, and what that changes.
 *
 * Nothing at all is written when nothing was. The deltas are those of the table above it, at the same
 * attitude, as they stand and as they would be; the rest is in exclusions.csv.                     */
#include <math.h>
#include <string.h>

#include "report/number_text.h"
#include "report/page.h"
#include "report/panel.h"

enum { PLACES_LISTED = 12 };

struct left_out {
    struct html *page;
    const struct findings *findings;
    size_t n;
};

static const struct {
    const char *state;
    enum chip chip;
    const char *symbol;
} looks[] = {
    {"excluded", CHIP_LOOK, "\xE2\x80\x93"},  {"restored", CHIP_LOOK, "+"},
    {"failed", CHIP_BAD, "\xE2\x9C\x97"},     {"off-target", CHIP_BAD, "\xE2\x9C\x97"},
    {"near-stall", CHIP_BAD, "\xE2\x9C\x97"},
};

static void write_chip(struct html *page, const char *state)
{
    size_t i = sizeof looks / sizeof looks[0] - 1;

    while (i > 0 && strcmp(looks[i].state, state) != 0)
        i--;
    page_chip(page, looks[i].chip, looks[i].symbol, state);
}

/* The head of the section comes with its first row. */
static void open_section(struct html *page)
{
    page_section(page, "left-out", "What was left out, and what that changes",
                 "Points that a person or a rule kept out of the comparison, or that a person took "
                 "in, and the deltas with and without that.");
    html_open(page, "div", "class", "panel", HTML_END);
    html_open(page, "ul", "class", "eyes", HTML_END);
}

static enum status take_place(struct statement *row, void *context, struct fault *fault)
{
    struct left_out *left_out = context;
    struct html *page = left_out->page;
    const char *state = statement_text(row, 2);
    const char *rules = statement_text(row, 3);

    (void)fault;
    if (left_out->n++ == 0)
        open_section(page);
    if (left_out->n > PLACES_LISTED)
        return OK;
    html_open(page, "li", HTML_END);
    html_open(page, "div", HTML_END);
    write_chip(page, state);
    html_close(page);
    html_open(page, "p", HTML_END);
    html_element(page, "b", statement_text(row, 0), HTML_END);
    html_format(page, " (%s%s)", statement_text(row, 1),
                strchr(statement_text(row, 0), '/') == NULL ? ", whole run" : "");
    if (rules[0] != '\0' && strcmp(rules, state) != 0)
        html_format(page, ", failed by %s", rules);
    if (statement_text(row, 4)[0] != '\0') {
        html_format(page, ", by %s on %s: ", statement_text(row, 4), statement_text(row, 5));
        html_text(page, statement_text(row, 6));
    }
    html_close(page);
    html_close(page);
    return OK;
}

static void write_head(struct html *page)
{
    static const char *const heads[] = {"Quantity",    "As it stands", "Reading",
                                        "Compared to", "It would be",  "Reading"};

    page_scroller(page, "scroll", "deltas with and without what was left out");
    html_open(page, "table", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "Configuration", "class", "left", "scope", "col", HTML_END);
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++)
        html_element(page, "th", heads[i], "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
}

static const struct finding_metric *metric_of(const struct findings *findings, const char *quantity)
{
    for (size_t m = 0; m < findings->n_metrics; m++)
        if (strcmp(findings->metrics[m].quantity, quantity) == 0)
            return &findings->metrics[m];
    return NULL;
}

/* A verdict that is another one on the other basis catches the eye. */
static void write_verdict(struct html *page, const char *verdict, int differs)
{
    const char *word = verdict != NULL ? verdict : "no verdict";

    html_open(page, "td", HTML_END);
    if (differs)
        page_chip(page, CHIP_LOOK, "!", word);
    else
        html_text(page, verdict != NULL ? verdict : "\xE2\x80\x93");
    html_close(page);
}

static void write_side(struct html *page, const struct display *display, struct statement *row,
                       int column)
{
    double delta = display->factor * statement_real(row, column);
    double half_width = display->factor * statement_real(row, column + 1);
    int decimals = number_text_decimals(half_width, display->decimals);

    html_open(page, "td", "class", "value", HTML_END);
    html_format(page, "%s%s%s", number_text_pair(delta, half_width, decimals).text,
                display->unit[0] == '\0' || !isfinite(delta) ? "" : " ",
                isfinite(delta) ? display->unit : "");
    html_close(page);
    write_verdict(page, statement_text(row, column + 2), statement_integer(row, 9) != 0);
}

static enum status take_effect(struct statement *row, void *context, struct fault *fault)
{
    struct left_out *left_out = context;
    struct html *page = left_out->page;
    const char *quantity = statement_text(row, 1);
    const struct finding_metric *metric = metric_of(left_out->findings, quantity);

    (void)fault;
    if (metric == NULL)
        return OK;
    if (left_out->n++ == 0)
        write_head(page);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", statement_text(row, 0), "class", "name", "scope", "row", HTML_END);
    html_open(page, "td", HTML_END);
    html_format(page, "\xCE\x94%s", quantity);
    html_close(page);
    write_side(page, &metric->display, row, 3);
    html_element(page, "td",
                 strcmp(statement_text(row, 2), "all in") == 0 ? "nothing left out"
                                                               : "the rules alone",
                 HTML_END);
    write_side(page, &metric->display, row, 6);
    html_close(page);
    return OK;
}

/* A run that was excluded whole is one place. */
static const char places_sql[] =
    "SELECT l.place, l.configuration, l.state, l.rules, l.who, l.decided, l.why, min(p.sequence) "
    "FROM left_out AS l JOIN page_run AS r ON r.run = l.run "
    "JOIN point AS p ON p.run = l.run AND p.point = l.point "
    "GROUP BY l.run, l.place ORDER BY r.sequence, min(p.sequence), l.place";

static const char effects_sql[] =
    "SELECT x.configuration, x.quantity, x.basis, x.delta_with, x.half_width_with, "
    "x.verdict_with, x.delta_without, x.half_width_without, x.verdict_without, x.verdict_differs "
    "FROM exclusion AS x "
    "JOIN page_scope AS s ON s.facility = x.facility AND s.entry = x.entry "
    "LEFT JOIN configuration AS c ON c.configuration = x.configuration "
    "WHERE x.target = ?1 ORDER BY x.is_main DESC, coalesce((SELECT min(sequence) FROM metric AS m "
    "WHERE m.quantity = x.quantity), 1000), x.quantity, c.sequence, x.configuration, x.basis";

static void write_rest(struct html *page, size_t n)
{
    if (n <= PLACES_LISTED)
        return;
    html_open(page, "li", HTML_END);
    html_open(page, "div", HTML_END);
    html_close(page);
    html_format(page, "and %zu more: see the states in points.csv.", n - PLACES_LISTED);
    html_close(page);
}

static enum status write_effects(struct left_out *left_out, const struct night_page *night,
                                 struct fault *fault)
{
    struct html *page = left_out->page;
    const char *texts[] = {night->findings->target, NULL};

    left_out->n = 0;
    enum status status = query_each(night->store, effects_sql, texts, take_effect, left_out, fault);
    if (status != OK)
        return status;
    if (left_out->n > 0) {
        html_close(page);
        html_close(page);
        html_close(page);
    }
    html_open(page, "p", "class", "note", HTML_END);
    if (left_out->n == 0)
        html_text(page, "No delta of the table above changes by it. ");
    else
        html_format(page, "Attitude: %s. ", findings_target_words(night->findings));
    html_text(page, "exclusions.csv has every delta at every attitude that differs.");
    html_close(page);
    return OK;
}

enum status panel_left_out(struct html *page, const struct night_page *night, struct fault *fault)
{
    struct left_out left_out = {page, night->findings, 0};

    enum status status = query_each(night->store, places_sql, NULL, take_place, &left_out, fault);
    if (status != OK || left_out.n == 0)
        return status;
    write_rest(page, left_out.n);
    html_close(page);
    status = write_effects(&left_out, night, fault);
    html_close(page);
    html_close(page);
    return status;
}
