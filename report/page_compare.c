/* page_compare.c - the order of a comparison's page; see compare_report.h. */
#include <stdio.h>
#include <stdlib.h>

#include "report/compare_report.h"
#include "report/page.h"
#include "report/panel_compare.h"
#include "report/panel_derived.h"
#include "report/query.h"

static const struct page_link links[] = {
    {"result", "Result"}, {"firm", "How firm"}, {"method", "How it was made"}};

static const char views[] = "DROP VIEW IF EXISTS temp.page_ratio; DROP VIEW IF EXISTS "
                            "temp.page_trimmed; DROP VIEW IF EXISTS temp.page_package;"
                            "CREATE TEMP VIEW page_ratio AS SELECT * FROM asked_ratio;"
                            "CREATE TEMP VIEW page_trimmed AS SELECT * FROM asked_equal_balance;"
                            "CREATE TEMP VIEW page_package AS SELECT * FROM asked_package;";

typedef enum status derived_write(struct html *page, const struct derived_scope *scope,
                                  struct fault *fault);

static derived_write *const panels[] = {compare_headline,       compare_deltas,  derived_ratio,
                                        derived_trimmed,        derived_package, compare_variants,
                                        compare_left_out_panel, compare_method};

static enum status write_panels(struct html *page, const struct derived_scope *scope,
                                struct fault *fault)
{
    enum status status = OK;

    for (size_t i = 0; status == OK && i < sizeof panels / sizeof panels[0]; i++)
        status = panels[i](page, scope, fault);
    return status;
}

enum status page_compare(struct html *page, struct store *store, struct fault *fault)
{
    struct derived_scope scope = {store, "", 0};
    struct text_pool texts = {0};
    const char *season = "";
    char title[240];

    enum status status = store_execute(store, views, fault);
    if (status == OK)
        status = query_real(store, "SELECT CAST(value AS REAL) FROM asked WHERE name = 'count'",
                            NULL, &scope.count, fault);
    if (status == OK)
        status = query_text(store, "SELECT value FROM asked WHERE name = 'season'", NULL, &texts,
                            &season, fault);
    (void)snprintf(title, sizeof title, "%.200s: comparison", season);
    if (status == OK)
        status = page_begin(page, title, season[0] != '\0' ? season : "Season", links,
                            sizeof links / sizeof links[0], fault);
    text_pool_free(&texts);
    if (status == OK)
        status = write_panels(page, &scope, fault);
    if (status != OK)
        return status;
    page_end(page, "This page holds what was asked for and nothing else of the season. It asks "
                   "nothing of the network and reads without its script.");
    return html_status(page, fault);
}
