/* page_proof.c - the order of the sheet, and its top; see proof.h. */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "report/cut_text.h"
#include "report/headline.h"
#include "report/page.h"
#include "report/proof.h"

/* Beside each other where there is room. */
static enum status write_both(struct html *page, const struct proof *proof, struct fault *fault)
{
    html_open(page, "div", "class", "two", HTML_END);
    enum status status = proof_evidence(page, proof, fault);
    if (status == OK)
        status = proof_robustness(page, proof, fault);
    html_close(page);
    return status;
}

static proof_section *const sections[] = {proof_change, proof_pictures, proof_result,
                                          write_both,   proof_limits,   proof_origin};

void proof_pair(struct html *page, const char *term, const char *format, ...)
{
    char room[1600];
    va_list arguments;

    va_start(arguments, format);
    int length = vsnprintf(room, sizeof room, format, arguments);
    va_end(arguments);
    if (length < 0) {
        page->out.failed = 1;
        return;
    }
    html_element(page, "dt", term, HTML_END);
    html_element(page, "dd", room, "class", "long", HTML_END);
}

/* Nothing is claimed of a night that a check fails: the check takes the claim's place, as it takes the
 * winner's on the night's page. Checks are on the leading family. */
static void write_claim(struct html *page, const struct proof *proof, const struct buffer *claim)
{
    const struct trust_check *failed =
        proof->part->family == 0 ? trust_failed(&proof->findings->trust) : NULL;
    struct buffer warning = {0};

    if (failed == NULL) {
        html_element(page, "h1", buffer_string(claim), HTML_END);
        return;
    }
    buffer_text(&warning, "Do not use this sheet yet: ");
    headline_lowered(&warning, failed->says);
    html_element(page, "h1", buffer_string(&warning), HTML_END);
    page->out.failed |= warning.failed;
    buffer_free(&warning);
    html_open(page, "p", "class", "proof", HTML_END);
    html_format(page, "Measured, but not to be used before that is cleared. %s %s",
                buffer_string(claim), failed->action);
    html_close(page);
}

static void write_top(struct html *page, const struct proof *proof, const struct buffer *claim)
{
    const struct findings *findings = proof->findings;

    html_open(page, "p", "class", "origin", HTML_END);
    html_text(page, "Proof sheet \xC2\xB7 ");
    html_text(page, findings->car);
    html_raw(page, findings->car[0] != '\0' ? " \xC2\xB7 " : "");
    html_format(page, "%s, entry %s", findings->facility, findings->entry);
    html_close(page);
    write_claim(page, proof, claim);
}

enum status page_proof(struct html *page, const struct proof *proof, struct fault *fault)
{
    static const struct page_link links[] = {
        {"index.html", "Season"}, {"result", "Result"}, {"limits", "Limits"}, {"origin", "Origin"}};
    const char *season = proof->findings->season;
    struct buffer claim = {0};
    char title[sizeof(struct cut_text) + 32];

    (void)snprintf(title, sizeof title, "%s: proof sheet",
                   cut_text(proof->part->name, CUT_TEXT_MOST).text);
    proof_claim(proof, &claim);
    enum status status = buffer_status(&claim, "the claim", fault);
    if (status == OK)
        status = page_begin_sheet(page, title, season[0] != '\0' ? season : "Season", links,
                                  sizeof links / sizeof links[0], fault);
    if (status == OK)
        write_top(page, proof, &claim);
    buffer_free(&claim);
    for (size_t i = 0; status == OK && i < sizeof sections / sizeof sections[0]; i++)
        status = sections[i](page, proof, fault);
    if (status != OK)
        return status;
    page_end(page,
             "Every number on this sheet is in the season's database. Downforce is positive.");
    return html_status(page, fault);
}
