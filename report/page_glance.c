/* page_glance.c - the order of the page about one run; see page_glance.h. */
#include "report/page_glance.h"

#include <stdio.h>

#include "report/cut_text.h"
#include "report/glance_words.h"
#include "report/page.h"
#include "report/sign_text.h"

static const struct page_link links[] = {
    {"result", "Verdict"}, {"points", "Points"}, {"record", "Record"}};

static void write_line(struct html *page, const char *tag, const char *class,
                       void (*words)(const struct glance *glance, struct buffer *out),
                       const struct glance *glance)
{
    struct buffer line = {0};

    words(glance, &line);
    html_open(page, tag, "class", class, HTML_END);
    sign_text_write(page, buffer_string(&line));
    html_close(page);
    page->out.failed |= line.failed;
    buffer_free(&line);
}

static void write_missing(struct html *page, const struct glance *glance)
{
    for (int is_needed = 1; is_needed >= 0; is_needed--) {
        struct buffer line = {0};
        glance_missing_line(glance, is_needed, &line);
        if (line.length > 0)
            html_element(page, "p", buffer_string(&line), "class", "proof", HTML_END);
        page->out.failed |= line.failed;
        buffer_free(&line);
    }
}

static void write_entry(struct html *page, enum chip chip, const char *symbol, const char *word,
                        const char *text, const char *action)
{
    html_open(page, "li", HTML_END);
    html_open(page, "div", HTML_END);
    page_chip(page, chip, symbol, word);
    html_close(page);
    html_open(page, "div", HTML_END);
    html_open(page, "p", HTML_END);
    sign_text_write(page, text);
    html_close(page);
    if (action != NULL)
        html_element(page, "p", action, "class", "where", HTML_END);
    html_close(page);
    html_close(page);
}

static void write_reasons(struct html *page, const struct glance *glance)
{
    html_open(page, "div", "class", "panel", HTML_END);
    html_open(page, "ul", "class", "eyes", HTML_END);
    for (size_t i = 0; i < glance->n_reasons; i++) {
        const struct glance_reason *reason = &glance->reasons[i];
        int repeat = reason->verdict == GLANCE_REPEAT;
        write_entry(page, repeat ? CHIP_BAD : CHIP_LOOK, repeat ? "\xE2\x9C\x97" : "!",
                    repeat ? "repeat now" : "look at", reason->text, reason->action);
    }
    for (size_t i = 0; i < glance->n_notes; i++)
        write_entry(page, CHIP_PLAIN, "i", "note", glance->notes[i], NULL);
    if (glance->n_reasons == 0)
        write_entry(page, CHIP_GOOD, "\xE2\x9C\x93", "usable", "No rule speaks against this run.",
                    NULL);
    html_close(page);
    html_close(page);
}

static void write_verdict(struct html *page, const struct glance *glance)
{
    html_open(page, "section", "id", "result", HTML_END);
    write_line(page, "p", "origin", glance_run_line, glance);
    write_line(page, "h1", NULL, glance_verdict_line, glance);
    if (glance->n_points > 0)
        write_line(page, "p", "proof", glance_count_line, glance);
    write_missing(page, glance);
    write_reasons(page, glance);
    html_close(page);
}

enum status page_glance(struct html *page, const struct glance *glance, struct fault *fault)
{
    char title[2 * sizeof(struct cut_text) + 32];
    const char *season = glance->season[0] != '\0' ? glance->season : "Season";

    (void)snprintf(title, sizeof title, "%s: run %s at a glance",
                   cut_text(season, CUT_TEXT_MOST).text, cut_text(glance->run, CUT_TEXT_MOST).text);
    enum status status =
        page_begin(page, title, title, links, sizeof links / sizeof links[0], fault);
    if (status != OK)
        return status;
    write_verdict(page, glance);
    status = panel_glance_points(page, glance, fault);
    if (status == OK)
        status = panel_glance_record(page, glance, fault);
    if (status != OK)
        return status;
    page_end(page, "Made from this run's logs and its zeros and tare as they were when it was "
                   "looked at; the night's report decides. Downforce is positive. The page asks "
                   "nothing of the network and reads without its script.");
    return html_status(page, fault);
}
