/* panel_package.c - packages against the sum of their parts. */
#include <math.h>
#include <string.h>

#include "report/display.h"
#include "report/number_text.h"
#include "report/panel_derived.h"
#include "report/query.h"

static const char sql[] =
    "SELECT x.configuration, x.target, x.quantity, x.parts, x.package, x.sum_of_parts, "
    "x.interaction, "
    "x.half_width, x.reason, coalesce((SELECT better FROM metric AS m WHERE m.quantity = "
    "x.quantity "
    "ORDER BY m.sequence LIMIT 1), '') FROM page_package AS x LEFT JOIN configuration AS c ON "
    "c.configuration = x.configuration LEFT JOIN target AS t ON t.target = x.target WHERE (?1 = '' "
    "OR "
    "x.target = ?1) AND EXISTS (SELECT 1 FROM metric AS m WHERE m.quantity = x.quantity) ORDER BY "
    "c.sequence, x.configuration, (SELECT min(sequence) FROM metric AS m WHERE m.quantity = "
    "x.quantity), x.quantity, t.sequence IS NOT NULL, t.sequence, x.target";

static const struct derived_head heads[] = {
    {"Package", 1}, {"Attitude", 1},         {"Quantity", 1},
    {"Delta", 0},   {"Sum of its parts", 0}, {"What they do to each other", 1},
    {NULL, 0}};

struct rows {
    struct html *page;
    double count;
    size_t n;
};

static const char *words_of(double interaction, const char *better)
{
    if (strcmp(better, "higher") != 0 && strcmp(better, "lower") != 0)
        return "they change each other by";
    return (interaction > 0) == (strcmp(better, "higher") == 0) ? "they give each other"
                                                                : "they cost each other";
}

static void write_interaction(struct html *page, const struct display *display,
                              struct statement *row)
{
    double interaction = display->factor * statement_real(row, 6);
    double half = display->factor * statement_real(row, 7);

    html_open(page, "td", "class", "left", HTML_END);
    if (isfinite(interaction))
        html_format(
            page, "%s: %s %s", words_of(interaction, statement_text(row, 9)),
            number_text_pair(interaction, half, number_text_decimals(half, display->decimals)).text,
            display->unit);
    if (isfinite(interaction) && fabs(interaction) <= half)
        html_text(page, ", which may be chance");
    if (statement_text(row, 8)[0] != '\0')
        html_format(page, "%s%s", isfinite(interaction) ? "; " : "", statement_text(row, 8));
    html_close(page);
}

static enum status take(struct statement *row, void *context, struct fault *fault)
{
    struct rows *rows = context;
    struct html *page = rows->page;
    struct display display = display_delta(statement_text(row, 2), rows->count);

    (void)fault;
    if (rows->n++ == 0)
        derived_open(page, "package", "Packages against their parts",
                     "Parts that were measured alone and together: gains do not simply add up.",
                     heads);
    html_open(page, "tr", HTML_END);
    html_open(page, "th", "class", "name", "scope", "row", HTML_END);
    html_text(page, statement_text(row, 0));
    html_element(page, "small", statement_text(row, 3), HTML_END);
    html_close(page);
    html_element(page, "td", statement_text(row, 1), "class", "left", HTML_END);
    html_open(page, "td", "class", "left", HTML_END);
    html_format(page, "\xCE\x94%s%s%s", statement_text(row, 2), display.unit[0] != '\0' ? ", " : "",
                display.unit);
    html_close(page);
    for (int i = 4; i <= 5; i++)
        html_element(
            page, "td",
            number_text_delta(display.factor * statement_real(row, i), display.decimals).text,
            "class", "value", HTML_END);
    write_interaction(page, &display, row);
    html_close(page);
    return OK;
}

enum status derived_package(struct html *page, const struct derived_scope *scope,
                            struct fault *fault)
{
    const char *texts[] = {scope->target, NULL};
    struct rows rows = {page, scope->count, 0};

    enum status status = query_each(scope->store, sql, texts, take, &rows, fault);
    if (status == OK && rows.n > 0)
        derived_close(page, "All deltas are against one baseline, which the interval knows. "
                            "Exploratory: no verdict.");
    return status;
}
