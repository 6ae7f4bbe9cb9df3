/* panel_ratio.c - what a change of drag brings in downforce, with Fieller's interval in words. */
#include <math.h>
#include <string.h>

#include "report/number_text.h"
#include "report/panel_derived.h"
#include "report/query.h"

static const char sql[] =
    "SELECT x.configuration, x.target, x.ratio, x.kind, x.lower, x.upper, x.reason FROM page_ratio "
    "AS "
    "x LEFT JOIN configuration AS c ON c.configuration = x.configuration LEFT JOIN target AS t ON "
    "t.target = x.target WHERE ?1 = '' OR x.target = ?1 ORDER BY c.sequence, x.configuration, "
    "t.sequence IS NOT NULL, t.sequence, x.target";

static const char change_over_change[] = "\xCE\x94"
                                         "CL / \xCE\x94"
                                         "CD";
static const struct derived_head heads[] = {{"Configuration", 1},
                                            {"Attitude", 1},
                                            {change_over_change, 0},
                                            {"Interval, or what is known", 1},
                                            {NULL, 0}};

struct rows {
    struct html *page;
    size_t n;
};

static void write_interval(struct html *page, struct statement *row)
{
    const char *kind = statement_text(row, 3);
    const char *reason = statement_text(row, 6);
    double lower = statement_real(row, 4);
    double upper = statement_real(row, 5);

    html_open(page, "td", "class", "left", HTML_END);
    if (strcmp(kind, "interval") == 0)
        html_format(page, "%s to %s", number_text_delta(lower, 2).text,
                    number_text_delta(upper, 2).text);
    else if (strcmp(kind, "outside") == 0)
        html_format(page, "below %s or above %s; ", number_text_delta(lower, 2).text,
                    number_text_delta(upper, 2).text);
    html_text(page, strcmp(kind, "interval") == 0 || reason == NULL ? "" : reason);
    html_close(page);
}

static enum status take(struct statement *row, void *context, struct fault *fault)
{
    struct rows *rows = context;
    struct html *page = rows->page;

    (void)fault;
    if (rows->n++ == 0)
        derived_open(
            page, "ratio", "Downforce for drag",
            "The change of CL over the change of CD. Where the change of drag may be 0 the "
            "ratio has no end, and that is said.",
            heads);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", statement_text(row, 0), "class", "name", "scope", "row", HTML_END);
    html_element(page, "td", statement_text(row, 1), "class", "left", HTML_END);
    html_element(page, "td", number_text_delta(statement_real(row, 2), 2).text, "class", "value",
                 HTML_END);
    write_interval(page, row);
    html_close(page);
    return OK;
}

enum status derived_ratio(struct html *page, const struct derived_scope *scope, struct fault *fault)
{
    const char *texts[] = {scope->target, NULL};
    struct rows rows = {page, 0};

    enum status status = query_each(scope->store, sql, texts, take, &rows, fault);
    if (status == OK && rows.n > 0)
        derived_close(page,
                      "Fieller's interval, with the correlation of both changes. Exploratory: "
                      "each stands alone.");
    return status;
}
