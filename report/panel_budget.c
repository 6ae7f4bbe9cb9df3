/* panel_budget.c - how the interval of the main measure is made up: which part more repeats would make smaller, and
 * which part only a better mounting or a better instrument.
 *
 * Bars are shares of the variance that one mounting's value is drawn anew with. What mountings scatter by and
 * the budget does not hold is the mounting's own: the refit, and all that moves between mountings. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/number_text.h"
#include "report/page.h"
#include "report/panel.h"
#include "report/svg.h"

enum { BAR_WIDTH = 200, BAR_HEIGHT = 14, SOURCES_SHOWN = 14 };

/* Of the first configuration that has a budget at the main measure. */
struct budget {
    struct text_pool texts;
    const char *configuration, *quantity, *target;
    const char *largest; /* of the sources that a repeat draws anew */
    double absolute, delta, predicted, observed, observed_freedom;
    struct display display; /* of the quantity's deltas: counts, where the page has them */
    int is_found;
};

struct rows {
    struct html *page;
    const struct display *display;
    size_t n;
};

static enum status take_budget(struct statement *row, void *context, struct fault *fault)
{
    struct budget *budget = context;

    if (budget->is_found)
        return OK;
    budget->is_found = 1;
    budget->absolute = statement_real(row, 3);
    budget->delta = statement_real(row, 4);
    budget->predicted = statement_real(row, 5);
    budget->observed = statement_real(row, 6);
    budget->observed_freedom = statement_real(row, 7);
    enum status status =
        text_pool_keep(&budget->texts, statement_text(row, 0), &budget->configuration, fault);
    if (status == OK)
        status = text_pool_keep(&budget->texts, statement_text(row, 1), &budget->quantity, fault);
    if (status == OK)
        status = text_pool_keep(&budget->texts, statement_text(row, 2), &budget->target, fault);
    return status;
}

static const char budget_sql[] =
    "SELECT DISTINCT b.configuration, b.quantity, b.target, b.standard_configuration, "
    "b.standard_delta, b.predicted_scatter, b.observed_scatter, b.observed_degrees_of_freedom, "
    "c.sequence FROM budget AS b JOIN page_scope AS s ON s.facility = b.facility AND s.entry = "
    "b.entry LEFT JOIN configuration AS c ON c.configuration = b.configuration "
    "WHERE b.is_main = 1 ORDER BY abs((SELECT max(x.delta) FROM page_delta AS x WHERE "
    "x.configuration = b.configuration AND x.is_main = 1)) DESC, c.sequence, b.configuration";

static const char sources_sql[] =
    "SELECT b.source, b.reach, b.u_configuration, b.u_delta, b.share_percent FROM budget AS b JOIN "
    "page_scope AS s ON s.facility = b.facility AND s.entry = b.entry WHERE b.is_main = 1 AND "
    "b.configuration = ?1 ORDER BY b.share_percent DESC, b.u_configuration DESC, b.source";

/* Those that are as large as the largest, to the digits that are printed. */
static const char largest_sql[] =
    "WITH averaged AS (SELECT b.source, b.u_delta FROM budget AS b JOIN page_scope AS s ON "
    "s.facility = b.facility AND s.entry = b.entry WHERE b.is_main = 1 AND b.configuration = ?1 "
    "AND b.reach IN ('point', 'run')) SELECT coalesce(group_concat(source, ', '), '') FROM (SELECT "
    "source FROM averaged WHERE u_delta >= 0.995 * (SELECT max(u_delta) FROM averaged) ORDER BY "
    "u_delta DESC, source)";

static void write_bar(struct html *page, double share, const char *name)
{
    char label[200];
    double width = BAR_WIDTH * fmin(fmax(share, 0), 100) / 100;

    (void)snprintf(label, sizeof label, "%.100s: %.1f %% of the variance", name, share);
    svg_begin(page, "cell plain", BAR_WIDTH, BAR_HEIGHT, label);
    svg_line(page, "axis", 0, BAR_HEIGHT, BAR_WIDTH, BAR_HEIGHT);
    svg_rect(page, "mark", 0, 2, width, BAR_HEIGHT - 4, NULL, label);
    svg_end(page);
}

/* An uncertainty in the page's unit, to the two digits of a half-width. */
static struct number_text size_of(const struct display *display, double stored)
{
    double size = display->factor * stored;

    return number_text_plain(size, number_text_decimals(size, display->decimals));
}

/* "2.8 counts" */
static void write_size(struct html *page, const struct budget *budget, double stored)
{
    const struct display *display = &budget->display;

    html_format(page, "%s%s%s", size_of(display, stored).text, display->unit[0] != '\0' ? " " : "",
                display->unit);
}

static void write_cell(struct html *page, const struct display *display, double stored)
{
    html_element(page, "td", size_of(display, stored).text, HTML_END);
}

static enum status take_source(struct statement *row, void *context, struct fault *fault)
{
    struct rows *rows = context;
    struct html *page = rows->page;
    const char *name = statement_text(row, 0);
    double share = statement_real(row, 4);

    (void)fault;
    if (rows->n++ >= SOURCES_SHOWN)
        return OK;
    html_open(page, "tr", HTML_END);
    html_element(page, "th", name, "scope", "row", HTML_END);
    html_element(page, "td", statement_text(row, 1), "class", "left", HTML_END);
    write_cell(page, rows->display, statement_real(row, 2));
    write_cell(page, rows->display, statement_real(row, 3));
    html_open(page, "td", HTML_END);
    write_bar(page, share, name);
    html_format(page, " %s %%", number_text_plain(share, 1).text);
    html_close(page);
    html_close(page);
    return OK;
}

/* Judged by numbers: the larger half of a mounting's variance decides what is worth doing. */
static void write_advice(struct html *page, const struct budget *budget)
{
    double observed = budget->observed * budget->observed;
    double predicted = budget->predicted * budget->predicted;

    html_open(page, "p", HTML_END);
    if (!(budget->observed > 0) || !(budget->observed_freedom > 0)) {
        html_text(page, "Nothing was mounted often enough to say what mountings scatter by. The "
                        "budget says ");
        write_size(page, budget, budget->predicted);
        html_text(page, " of one mounting; repeats would show whether that is all.");
    } else if (observed > 2 * predicted) {
        html_text(page, "A mounting scatters by ");
        write_size(page, budget, budget->observed);
        html_text(page, "; the instruments and the points account for ");
        write_size(page, budget, budget->predicted);
        html_format(page,
                    ", %.0f %% of its variance. The rest comes with the mounting itself: a better "
                    "mounting makes it smaller, more mountings average it, better instruments do "
                    "neither.",
                    100 * predicted / observed);
    } else {
        html_text(page, "A mounting scatters by ");
        write_size(page, budget, budget->observed);
        html_text(page, ", and the sources below account for ");
        write_size(page, budget, budget->predicted);
        html_text(page, ". More repeats average what reaches a point or a run");
        if (budget->largest[0] != '\0')
            html_format(page, "; the largest of that: %s", budget->largest);
        html_text(page, ".");
    }
    html_close(page);
}

static void write_totals(struct html *page, const struct budget *budget)
{
    html_open(page, "p", HTML_END);
    html_format(page, "%s of %s, %s: standard uncertainty of the value ", budget->quantity,
                budget->configuration,
                strcmp(budget->target, "weighted") == 0 ? "weighted mean of the attitudes"
                                                        : budget->target);
    write_size(page, budget, budget->absolute);
    html_text(page, ", of its delta ");
    write_size(page, budget, budget->delta);
    html_text(page,
              ". What both configurations share is in the first and cancels in the second, so "
              "that neither may be used for the other. Intervals on this page rest on what "
              "mountings scatter by, not on the budget.");
    html_close(page);
}

static void open_table(struct html *page, const struct display *display)
{
    static const char *const titles[] = {"Source", "Reaches", "Of the value", "Of the delta",
                                         "Share of the delta's variance"};

    page_scroller(page, "scroll", "numbers of the sources of uncertainty");
    html_open(page, "table", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    for (size_t i = 0; i < sizeof titles / sizeof titles[0]; i++) {
        int has_unit = (i == 2 || i == 3) && display->unit[0] != '\0';
        html_open(page, "th", "class", i < 2 ? "left" : NULL, "scope", "col", HTML_END);
        html_format(page, "%s%s%s", titles[i], has_unit ? ", " : "", has_unit ? display->unit : "");
        html_close(page);
    }
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
}

static enum status write_sources(struct html *page, const struct night_page *night,
                                 const struct budget *budget, struct fault *fault)
{
    struct rows rows = {page, &budget->display, 0};
    const char *texts[] = {budget->configuration, NULL};

    open_table(page, &budget->display);
    enum status status = query_each(night->store, sources_sql, texts, take_source, &rows, fault);
    html_close(page);
    html_close(page);
    html_close(page);
    html_open(page, "p", "class", "note", HTML_END);
    if (rows.n > SOURCES_SHOWN)
        html_format(page, "And %zu smaller source%s. ", rows.n - SOURCES_SHOWN,
                    rows.n - SOURCES_SHOWN == 1 ? "" : "s");
    html_text(page, "Standard uncertainties. Reaches: how far one and the same error goes; what "
                    "reaches both configurations cancels in the delta, but for its scale. "
                    "budget.csv has every configuration, quantity and attitude, in the quantity's "
                    "own unit; lapwing explain has every point.");
    html_close(page);
    return status;
}

enum status panel_budget(struct html *page, const struct night_page *night, struct fault *fault)
{
    struct budget budget = {.largest = ""};

    enum status status = query_each(night->store, budget_sql, NULL, take_budget, &budget, fault);
    if (status == OK && budget.is_found) {
        const char *texts[] = {budget.configuration, NULL};
        status =
            query_text(night->store, largest_sql, texts, &budget.texts, &budget.largest, fault);
    }
    if (status == OK && budget.is_found) {
        budget.display = display_delta(budget.quantity, night->findings->count);
        page_section(page, "budget", "How the interval is made up",
                     "What the main measure is uncertain by, and what would make it less so.");
        html_open(page, "div", "class", "panel", HTML_END);
        write_advice(page, &budget);
        write_totals(page, &budget);
        status = write_sources(page, night, &budget, fault);
        html_close(page);
        html_close(page);
    }
    text_pool_free(&budget.texts);
    return status;
}
