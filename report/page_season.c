/* page_season.c - the index of the season: nights, the baseline over them, configurations; see season.h. */
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "report/cut_text.h"
#include "report/page.h"
#include "report/season.h"

static void begin_table(struct html *page, const char *label, const char *const *heads, size_t n)
{
    html_open(page, "div", "class", "panel", HTML_END);
    page_scroller(page, "scroll", label);
    html_open(page, "table", "class", "season", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    for (size_t i = 0; i < n; i++)
        html_element(page, "th", heads[i], "class", "left", "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
}

static void end_table(struct html *page)
{
    for (int k = 0; k < 4; k++)
        html_close(page);
}

static void write_link(struct html *page, const struct page_name *file, const char *text)
{
    html_element(page, "a", text, "href", file->text, HTML_END);
}

static void write_night(struct html *page, const struct season_night *night)
{
    const char *const words[] = {night->facility, night->runs};

    html_open(page, "tr", HTML_END);
    html_open(page, "th", "scope", "row", HTML_END);
    write_link(page, &night->file, night->entry[0] != '\0' ? night->entry : "(no name)");
    html_element(page, "small", night->date, HTML_END);
    html_close(page);
    for (size_t i = 0; i < 2; i++)
        html_element(page, "td", words[i], "class", "left", HTML_END);
    html_element(page, "td", night->headline, "class", "headline", HTML_END);
    html_element(page, "td", night->width, "class", "left", HTML_END);
    html_element(page, "td", night->flags, "class", "left", HTML_END);
    html_close(page);
}

/* The latest first, as it is read. */
static void write_nights(struct html *page, const struct season *season)
{
    static const char *const heads[] = {"Entry",
                                        "Facility",
                                        "Runs usable",
                                        "What it found",
                                        "Widest judged interval",
                                        "Flags that failed or refused"};
    const struct season_night *nights = season->nights;

    begin_table(page, "table of the season's entries", heads, sizeof heads / sizeof heads[0]);
    for (size_t i = season->n_nights; i-- > 0;)
        write_night(page, &nights[i]);
    end_table(page);
}

static void write_part(struct html *page, const struct season *season,
                       const struct season_part *part)
{
    const struct season_night *nights = season->nights;
    const size_t *in = part->nights;
    int is_compared = part->latest != SIZE_MAX;

    html_open(page, "tr", HTML_END);
    html_open(page, "th", "class", "name", "scope", "row", HTML_END);
    if (is_compared)
        write_link(page, &part->file, part->name);
    else
        html_text(page, part->name);
    html_element(page, "small", cut_text(part->change, CUT_TEXT_MOST).text, HTML_END);
    html_close(page);
    html_element(page, "td", part->baseline, "class", "left", HTML_END);
    html_element(page, "td", is_compared ? part->amount : "", "class", "left", HTML_END);
    html_element(page, "td",
                 is_compared                               ? part->verdict
                 : strcmp(part->name, part->baseline) == 0 ? "baseline"
                                                           : "not compared",
                 "class", "left", HTML_END);
    html_open(page, "td", "class", "left", HTML_END);
    for (size_t i = 0; i < part->n_nights; i++) {
        html_text(page, i > 0 ? ", " : "");
        write_link(page, &nights[in[i]].file,
                   nights[in[i]].entry[0] != '\0' ? nights[in[i]].entry : "(no name)");
    }
    html_close(page);
    html_close(page);
}

static void write_parts(struct html *page, const struct season *season)
{
    static const char *const heads[] = {"Configuration", "Baseline", "Latest delta",
                                        "Latest verdict", "Run in"};
    const struct season_part *parts = season->parts;

    page_section(page, "parts", "Configurations seen",
                 "Each with its latest comparison; its name leads to its proof sheet.");
    begin_table(page, "table of configurations", heads, sizeof heads / sizeof heads[0]);
    for (size_t i = 0; i < season->n_parts; i++)
        write_part(page, season, &parts[i]);
    end_table(page);
    html_close(page);
}

static void write_top(struct html *page, const struct season *season, const char *name)
{
    html_element(page, "p", season->car != NULL ? season->car : "", "class", "origin", HTML_END);
    html_open(page, "h1", HTML_END);
    html_format(page, "%s: %zu %s, %zu configuration%s", name, season->n_nights,
                season->n_nights == 1 ? "entry" : "entries", season->n_parts,
                season->n_parts == 1 ? "" : "s");
    html_close(page);
}

enum status page_season(struct html *page, const struct season *season, struct fault *fault)
{
    static const struct page_link links[] = {{"result", "Entries"},
                                             {"night.html", "Latest night"},
                                             {"control", "Baseline"},
                                             {"parts", "Configurations"}};
    size_t n_links = season->n_nights > 0 ? sizeof links / sizeof links[0] : 2;
    const char *name = season->name != NULL && season->name[0] != '\0' ? season->name : "Season";
    char title[sizeof(struct cut_text) + 32];

    (void)snprintf(title, sizeof title, "%s: index", cut_text(name, CUT_TEXT_MOST).text);
    enum status status = page_begin(page, title, name, links, n_links, fault);
    if (status != OK)
        return status;
    html_open(page, "section", "id", "result", HTML_END);
    write_top(page, season, name);
    html_element(page, "h2", "Entries, the latest first", "class", "unseen", HTML_END);
    write_nights(page, season);
    html_close(page);
    if (season->n_nights > 0) {
        status = panel_control(page, season, fault);
        write_parts(page, season);
    }
    page_end(page,
             "One page a night and one sheet a part lie beside this one. None asks anything of "
             "the network.");
    return status == OK ? html_status(page, fault) : status;
}
