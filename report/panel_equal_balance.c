/* panel_equal_balance.c - what parts are worth with the car trimmed back to the balance it had. */
#include <stdio.h>

#include "report/display.h"
#include "report/number_text.h"
#include "report/panel_derived.h"
#include "report/query.h"

static const char sql[] =
    "SELECT x.configuration, x.target, x.quantity, x.device, x.delta, x.half_width, "
    "x.setting_change, x.setting_unit, x.reason FROM page_trimmed AS x LEFT JOIN configuration AS "
    "c "
    "ON c.configuration = x.configuration LEFT JOIN target AS t ON t.target = x.target WHERE ?1 = "
    "'' "
    "OR x.target = ?1 ORDER BY c.sequence, x.configuration, coalesce((SELECT min(sequence) FROM "
    "metric AS m WHERE m.quantity = x.quantity), 1000), x.quantity, t.sequence IS NOT NULL, "
    "t.sequence, x.target, x.device";

static const struct derived_head heads[] = {{"Configuration", 1},
                                            {"Attitude", 1},
                                            {"Quantity", 1},
                                            {"At the baseline's balance", 0},
                                            {"By", 1},
                                            {NULL, 0}};

struct rows {
    struct html *page;
    double count;
    size_t n;
};

static void write_number(struct html *page, const struct rows *rows, struct statement *row)
{
    struct display display = display_delta(statement_text(row, 2), rows->count);
    double half = display.factor * statement_real(row, 5);
    const char *reason = statement_text(row, 8);

    html_open(page, "td", "class", "value", HTML_END);
    if (reason[0] == '\0')
        html_format(page, "%s %s",
                    number_text_pair(display.factor * statement_real(row, 4), half,
                                     number_text_decimals(half, display.decimals))
                        .text,
                    display.unit);
    else
        html_text(page, "none");
    html_close(page);
    html_open(page, "td", "class", "left", HTML_END);
    if (reason[0] == '\0')
        html_format(page, "%s %s %s", statement_text(row, 3),
                    number_text_delta(statement_real(row, 6), 2).text, statement_text(row, 7));
    else
        html_text(page, reason);
    html_close(page);
}

static enum status take(struct statement *row, void *context, struct fault *fault)
{
    struct rows *rows = context;
    struct html *page = rows->page;

    (void)fault;
    if (rows->n++ == 0)
        derived_open(
            page, "equal-balance", "At equal balance",
            "What a part is worth once a device that was measured the same night has taken "
            "its change of balance back.",
            heads);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", statement_text(row, 0), "class", "name", "scope", "row", HTML_END);
    html_element(page, "td", statement_text(row, 1), "class", "left", HTML_END);
    html_open(page, "td", "class", "left", HTML_END);
    html_format(page, "\xCE\x94%s", statement_text(row, 2));
    html_close(page);
    write_number(page, rows, row);
    html_close(page);
    return OK;
}

enum status derived_trimmed(struct html *page, const struct derived_scope *scope,
                            struct fault *fault)
{
    const char *texts[] = {scope->target, NULL};
    struct rows rows = {page, scope->count, 0};

    enum status status = query_each(scope->store, sql, texts, take, &rows, fault);
    if (status == OK && rows.n > 0)
        derived_close(page,
                      "The device's slopes are this entry's deltas over its change of setting; "
                      "their uncertainty is in the interval. Exploratory.");
    return status;
}
