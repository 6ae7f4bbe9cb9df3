/* page_night.c - the order of the night page; see page_night.h. */
#include "report/page_night.h"

#include <stdio.h>

#include "report/cut_text.h"
#include "report/page.h"

/* From the answer to the doubts, then to what follows from the answer: what was found, what could be
 * wrong with it, what it costs, and how it was made. */
static panel_write *const result_panels[] = {panel_redaction, panel_headline, panel_facts,
                                             panel_deltas};
static panel_write *const later_panels[] = {
    panel_trust, panel_strip, panel_exceptions,    panel_left_out, panel_repeat,
    panel_trade, panel_ratio, panel_equal_balance, panel_package,  panel_budget,
    panel_sweep, panel_floor, panel_method};

static const struct page_link links[] = {
    {"result", "Result"},
    {"night", "Night"},
    {"eyes", "Needs your eyes"},
    {"cost", "Cost"},
    {"sweep", "Sweep"},
    {"pressures", "Pressures"},
    {"method", "How it was made"},
    {"index.html", "Season"},
};

static enum status write_panels(struct html *page, panel_write *const *panels, size_t n,
                                const struct night_page *night, struct fault *fault)
{
    enum status status = OK;

    for (size_t i = 0; status == OK && i < n; i++)
        status = panels[i](page, night, fault);
    return status;
}

enum status page_night(struct html *page, const struct night_page *night, struct fault *fault)
{
    const char *season = night->findings->season;
    const char *name = season[0] != '\0' ? season : "Season";
    char title[sizeof(struct cut_text) + 32];

    (void)snprintf(title, sizeof title, "%s: night report", cut_text(name, CUT_TEXT_MOST).text);
    enum status status =
        page_begin(page, title, name, links, sizeof links / sizeof links[0], fault);
    html_open(page, "section", "id", "result", HTML_END);
    if (status == OK)
        status = write_panels(page, result_panels, sizeof result_panels / sizeof result_panels[0],
                              night, fault);
    if (status != OK)
        return status;
    html_close(page);
    status = write_panels(page, later_panels, sizeof later_panels / sizeof later_panels[0], night,
                          fault);
    if (status != OK)
        return status;
    page_end(page,
             "Every number on this page is in the season's database. The page asks nothing of "
             "the network and reads without its script.");
    return html_status(page, fault);
}
