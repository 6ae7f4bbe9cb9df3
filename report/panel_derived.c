/* panel_derived.c - the frame of the tables of what follows from deltas; see panel_derived.h. */
#include "report/panel_derived.h"

#include "report/page.h"
#include "report/panel.h"

void derived_open(struct html *page, const char *id, const char *title, const char *why,
                  const struct derived_head *heads)
{
    page_section(page, id, title, why);
    html_open(page, "div", "class", "panel", HTML_END);
    page_scroller(page, "scroll", title);
    html_open(page, "table", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    for (; heads->name != NULL; heads++)
        html_element(page, "th", heads->name, "class", heads->is_of_words ? "left" : NULL, "scope",
                     "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
}

void derived_close(struct html *page, const char *note)
{
    html_close(page); /* tbody */
    html_close(page);
    html_close(page);
    html_element(page, "p", note, "class", "note", HTML_END);
    html_close(page);
    html_close(page); /* section */
}

static struct derived_scope scope_of(const struct night_page *night)
{
    return (struct derived_scope){night->store, night->findings->target, night->findings->count};
}

enum status panel_ratio(struct html *page, const struct night_page *night, struct fault *fault)
{
    struct derived_scope scope = scope_of(night);

    return derived_ratio(page, &scope, fault);
}

enum status panel_equal_balance(struct html *page, const struct night_page *night,
                                struct fault *fault)
{
    struct derived_scope scope = scope_of(night);

    return derived_trimmed(page, &scope, fault);
}

enum status panel_package(struct html *page, const struct night_page *night, struct fault *fault)
{
    struct derived_scope scope = scope_of(night);

    return derived_package(page, &scope, fault);
}
