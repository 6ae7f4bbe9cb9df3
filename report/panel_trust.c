/* panel_trust.c - the checks on the night itself, a sentence each; see trust.h. */
#include "report/page.h"
#include "report/panel.h"
#include "report/trust.h"

static const struct {
    enum chip chip;
    const char *symbol, *word;
} looks[] = {
    [TRUST_HOLDS] = {CHIP_GOOD, "\xE2\x9C\x93", "holds"},
    [TRUST_LOOK] = {CHIP_LOOK, "!", "look"},
    [TRUST_FAILS] = {CHIP_BAD, "\xE2\x9C\x97", "fails"},
    [TRUST_UNKNOWN] = {CHIP_PLAIN, "?", "not known"},
};

static void write_check(struct html *page, const struct trust_check *check)
{
    html_open(page, "tr", HTML_END);
    html_element(page, "th", check->name, "scope", "row", HTML_END);
    html_open(page, "td", "class", "left", HTML_END);
    page_chip(page, looks[check->state].chip, looks[check->state].symbol, looks[check->state].word);
    html_close(page);
    html_open(page, "td", "class", "left why-cell", HTML_END);
    html_text(page, check->says);
    if (check->action[0] != '\0' && check->state != TRUST_UNKNOWN) {
        html_text(page, " ");
        html_element(page, "span", check->action, "class", "soft", HTML_END);
    }
    html_close(page);
    html_close(page);
}

enum status panel_trust(struct html *page, const struct night_page *night, struct fault *fault)
{
    const struct trust *trust = &night->findings->trust;

    (void)fault;
    if (trust->n == 0)
        return OK;
    page_section(
        page, "trust", "Checks on the night",
        findings_has_others(night->findings)
            ? "What the verdicts take for granted, each held against what was measured. One that "
              "fails takes the winner's place at the top."
            : "What a comparison would take for granted, held against what was measured.");
    html_open(page, "div", "class", "panel", HTML_END);
    html_open(page, "table", "class", "checks", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "Check", "class", "left", "scope", "col", HTML_END);
    html_element(page, "th", "Result", "class", "left", "scope", "col", HTML_END);
    html_element(page, "th", "Found", "class", "left", "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
    for (size_t i = 0; i < trust->n; i++)
        write_check(page, &trust->checks[i]);
    for (int k = 0; k < 4; k++)
        html_close(page);
    return OK;
}
