/* panel_compare_method.c - how a comparison was made: signs, rules, and the keys of what it rests on. */
#include "report/page.h"
#include "report/panel_compare.h"
#include "report/query.h"
#include "report/redact.h"

static const char signs[] =
    "Every delta is configuration minus baseline, or the first of two minus the second. Downforce "
    "is "
    "positive, drag aft positive; balance is the front axle's share of the downforce, its changes "
    "are percentage points.";

static const char rules[] = "Interval inside the grey strip: no change that matters. Else zero "
                            "outside: gain or loss, by the "
                            "declared direction. Else: can't tell yet. The difference of two "
                            "configurations was not declared "
                            "before the night and gets no verdict.";

static const char caution[] =
    "These results support engineering judgement. They are no sign-off of a car, a part or a "
    "set-up, "
    "and no substitute for a licensed engineer where the law asks for one.";

static enum status take_pair(struct statement *row, void *context, struct fault *fault)
{
    struct html *page = context;

    (void)fault;
    html_element(page, "dt", statement_text(row, 0), HTML_END);
    html_open(page, "dd", HTML_END);
    html_text(page, statement_text(row, 1));
    html_close(page);
    return OK;
}

static enum status take_reduction(struct statement *row, void *context, struct fault *fault)
{
    struct html *page = context;

    (void)fault;
    html_open(page, "tr", HTML_END);
    for (int i = 0; i < 2; i++)
        html_element(page, "td", statement_text(row, i), "class", "left", HTML_END);
    if (!statement_is_null(row, 2)) { /* of a redacted season */
        html_open(page, "td", "class", "left", HTML_END);
        html_element(page, "code", statement_text(row, 2), HTML_END);
        html_close(page);
    }
    html_close(page);
    return OK;
}

static enum status write_list(struct html *page, struct store *store, int is_redacted,
                              struct fault *fault)
{
    html_open(page, "details", HTML_END);
    html_element(page, "summary", "Reductions it rests on", HTML_END);
    page_scroller(page, "scroll", "reductions it rests on");
    html_open(page, "table", HTML_END);
    html_raw(page, "<thead><tr><th class=\"left\">Stage</th><th class=\"left\">Of</th>");
    html_raw(page, is_redacted ? "" : "<th class=\"left\">Key, SHA-256 of all it depends on</th>");
    html_raw(page, "</tr></thead>");
    html_open(page, "tbody", HTML_END);
    enum status status = query_each(
        store, "SELECT stage, subject, nullif(key, '') FROM asked_reduction ORDER BY rowid", NULL,
        take_reduction, page, fault);
    for (int i = 0; i < 4; i++)
        html_close(page);
    return status;
}

enum status compare_method(struct html *page, const struct derived_scope *scope,
                           struct fault *fault)
{
    int is_redacted = 0;

    enum status status = redact_is_on(scope->store, &is_redacted, fault);
    page_section(page, "method", "How it was made",
                 is_redacted ? "Redacted: ids for names; what people wrote and hashes are left out."
                             : "Enough to make it again, byte for byte.");
    html_open(page, "div", "class", "panel", HTML_END);
    html_open(page, "dl", "class", "origin-list", HTML_END);
    html_element(page, "dt", "Signs", HTML_END);
    html_element(page, "dd", signs, HTML_END);
    html_element(page, "dt", "Rules", HTML_END);
    html_element(page, "dd", rules, HTML_END);
    if (status == OK)
        status = query_each(
            scope->store,
            "SELECT CASE name WHEN 'campaign' THEN 'campaign.yaml, SHA-256' ELSE name END, "
            "CASE name WHEN 'confidence' THEN printf('%.6g %%', 100 * value) ELSE value END FROM "
            "asked WHERE value <> '' AND name NOT IN ('season', 'count') ORDER BY "
            "name",
            NULL, take_pair, page, fault);
    html_close(page);
    if (status == OK)
        status = write_list(page, scope->store, is_redacted, fault);
    html_close(page);
    html_open(page, "div", "class", "caution", HTML_END);
    html_element(page, "p", caution, HTML_END);
    html_close(page);
    html_close(page);
    return status;
}
