/* panel_compare_firm.c - would a comparison's words be others without some of the night? */
#include <string.h>

#include "report/display.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/panel_compare.h"
#include "report/query.h"

struct rows {
    struct html *page;
    double count;
    size_t n;
};

static const char variants_sql[] =
    "SELECT configuration, quantity, target, variant, delta_headline, half_width_headline, "
    "coalesce(verdict_headline, 'no verdict'), delta, half_width, coalesce(verdict, 'no verdict') "
    "FROM asked_variant ORDER BY rowid";

static const char effects_sql[] =
    "SELECT configuration, quantity, target, CASE basis WHEN 'all in' THEN 'nothing left out' ELSE "
    "'the rules alone' END, delta_with, half_width_with, coalesce(verdict_with, 'no verdict'), "
    "delta_without, half_width_without, coalesce(verdict_without, 'no verdict') FROM "
    "asked_exclusion ORDER BY rowid";

static const struct derived_head heads[] = {
    {"Configuration", 1}, {"Quantity", 1}, {"Attitude", 1},
    {"As it stands", 0},  {"Reading", 1},  {"What differs", 1},
    {"It would be", 0},   {"Reading", 1},  {NULL, 0}};

static void write_side(struct html *page, const struct display *display, struct statement *row,
                       int column)
{
    double half = display->factor * statement_real(row, column + 1);

    html_open(page, "td", "class", "value", HTML_END);
    html_format(page, "%s %s",
                number_text_pair(display->factor * statement_real(row, column), half,
                                 number_text_decimals(half, display->decimals))
                    .text,
                display->unit);
    html_close(page);
}

static void write_row(struct rows *rows, struct statement *row)
{
    struct html *page = rows->page;
    struct display display = display_delta(statement_text(row, 1), rows->count);
    int differs = strcmp(statement_text(row, 6), statement_text(row, 9)) != 0;

    html_open(page, "tr", HTML_END);
    html_element(page, "th", statement_text(row, 0), "class", "name", "scope", "row", HTML_END);
    html_open(page, "td", "class", "left", HTML_END);
    html_format(page, "\xCE\x94%s", statement_text(row, 1));
    html_close(page);
    html_element(page, "td", statement_text(row, 2), "class", "left", HTML_END);
    write_side(page, &display, row, 4);
    html_element(page, "td", statement_text(row, 6), "class", "left", HTML_END);
    html_element(page, "td", statement_text(row, 3), "class", "left", HTML_END);
    write_side(page, &display, row, 7);
    html_open(page, "td", "class", "left", HTML_END);
    if (differs)
        page_chip(page, CHIP_LOOK, "!", statement_text(row, 9));
    else
        html_text(page, statement_text(row, 9));
    html_close(page);
    html_close(page);
}

static enum status take_variant(struct statement *row, void *context, struct fault *fault)
{
    struct rows *rows = context;

    (void)fault;
    if (rows->n++ == 0)
        derived_open(rows->page, "firm", "How firm it stands",
                     "The judged deltas again without some of the night: each return to the "
                     "baseline, what was flagged.",
                     heads);
    write_row(rows, row);
    return OK;
}

static enum status take_effect(struct statement *row, void *context, struct fault *fault)
{
    struct rows *rows = context;

    (void)fault;
    if (rows->n++ == 0)
        derived_open(rows->page, "left-out", "What was left out, and what that changes",
                     "The deltas that would be others with every point in, or by the rules alone.",
                     heads);
    write_row(rows, row);
    return OK;
}

enum status compare_variants(struct html *page, const struct derived_scope *scope,
                             struct fault *fault)
{
    struct rows rows = {page, scope->count, 0};

    enum status status = query_each(scope->store, variants_sql, NULL, take_variant, &rows, fault);
    if (status == OK && rows.n > 0)
        derived_close(page, "Where a reading would be another one it is marked.");
    return status;
}

enum status compare_left_out_panel(struct html *page, const struct derived_scope *scope,
                                   struct fault *fault)
{
    struct rows rows = {page, scope->count, 0};

    enum status status = query_each(scope->store, effects_sql, NULL, take_effect, &rows, fault);
    if (status == OK && rows.n > 0)
        derived_close(page, "Where a reading would be another one it is marked.");
    return status;
}
