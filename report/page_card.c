/* page_card.c - a calibration card as a page; see calibration_report.h. */
#include <math.h>
#include <stdio.h>

#include "report/calibration_report.h"
#include "report/cut_text.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/sign_text.h"
#include "schema/number.h"

static const struct page_link links[] = {
    {"result", "Result"}, {"terms", "Terms"}, {"made", "How it was made"}};

static void cell(struct html *page, const char *text)
{
    html_element(page, "td", text, HTML_END);
}

static void share_cell(struct html *page, int is_known, double share)
{
    cell(page, is_known ? number_text_plain(100 * share, 4).text : "\xE2\x80\x93");
}

static void heads(struct html *page, const char *const *texts, size_t n)
{
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    for (size_t i = 0; i < n; i++)
        html_element(page, "th", texts[i], "class", i == 0 ? "left" : NULL, "scope", "col",
                     HTML_END);
    html_close(page);
    html_close(page);
}

static void result_row(struct html *page, const struct calibration_card *card, size_t load)
{
    const struct card_component *of = &card->component[load];
    char text[128];
    html_open(page, "tr", HTML_END);
    html_element(page, "th", calibration_load_name(load), "scope", "row", HTML_END);
    (void)snprintf(text, sizeof text, "R%zu", card->loadings->output_of[load] + 1);
    cell(page, text);
    (void)snprintf(text, sizeof text, "%.6g %s", of->rated, calibration_load_unit(load));
    cell(page, text);
    (void)snprintf(text, sizeof text, "%.6g to %.6g", of->lowest, of->highest);
    html_open(page, "td", HTML_END);
    sign_text_write(page, text);
    html_close(page);
    (void)snprintf(text, sizeof text, "%zu", card_kept(of));
    cell(page, text);
    cell(page, number_text_plain(of->freedom, 0).text);
    share_cell(page, 1, of->fit_share);
    share_cell(page, 1, of->press_share);
    share_cell(page, 1, of->residual_sd);
    share_cell(page, 1, of->residual_largest);
    share_cell(page, of->checks > 0, of->check_rms);
    share_cell(page, of->checks > 0, of->check_largest);
    share_cell(page, of->has_hysteresis, of->hysteresis_largest);
    html_close(page);
}

static void write_missing(struct html *page, const struct calibration_card *card)
{
    if (card->n_missing == 0)
        return;
    html_element(page, "h3", "Terms left out for want of loadings", HTML_END);
    html_open(page, "ul", HTML_END);
    for (size_t i = 0; i < card->n_missing; i++)
        html_element(page, "li", card->missing[i], HTML_END);
    html_close(page);
}

static void write_result(struct html *page, const struct calibration_card *card)
{
    static const char *const texts[] = {
        "load",  "output",   "rated",   "loaded",     "terms",         "freedom",   "fit sd",
        "PRESS", "loads sd", "largest", "checks rms", "largest check", "hysteresis"};
    struct buffer heading = {0};
    card_heading(card, &heading);
    html_open(page, "section", "id", "result", HTML_END);
    html_element(page, "h1", buffer_string(&heading), HTML_END);
    page->out.failed |= heading.failed;
    buffer_free(&heading);
    html_element(
        page, "p",
        card->n_check > 0
            ? "Accuracy is the error of the checks, which took no part in the fit."
            : "No loading was held out: nothing here says how accurate the calibration is.",
        "class", "proof", HTML_END);
    page_scroller(page, "panel scroll", "results of the calibration");
    html_open(page, "table", HTML_END);
    heads(page, texts, sizeof texts / sizeof texts[0]);
    html_open(page, "tbody", HTML_END);
    for (size_t i = 0; i < LOAD_COUNT; i++)
        if (card->component[i].is_present)
            result_row(page, card, i);
    html_close(page);
    html_close(page);
    html_close(page);
    html_element(
        page, "p",
        "From fit sd on, per cent of the rated load. fit sd: of the regression; PRESS: root "
        "of the mean square with each loading left out in turn; loads: what the "
        "calibration reads from the outputs less what was applied; hysteresis: the "
        "largest error of loadings reached by unloading, by the fit of the others.",
        "class", "note", HTML_END);
    write_missing(page, card);
    html_close(page);
}

/* With the decimals of its standard error, where nine decimals can show that one. */
static void coefficient_cell(struct html *page, const struct card_term *of)
{
    const double least = 1e-8;
    int decimals = number_text_decimals(of->error, 7);
    char text[64];

    (void)snprintf(text, sizeof text, "%.6g \xC2\xB1 %.2g", of->coefficient, of->error);
    html_open(page, "td", HTML_END);
    if (of->error >= least)
        html_format(page, "%s \xC2\xB1 %s", number_text_plain(of->coefficient, decimals).text,
                    number_text_plain(of->error, decimals).text);
    else
        sign_text_write(page, text);
    html_close(page);
}

static void term_row(struct html *page, const struct calibration_card *card, size_t term)
{
    static const char *const words[] = {"", "", "|t| below 4", "inflation above 10",
                                        "loading missing"};
    int is_any = 0;
    for (size_t i = 0; i < LOAD_COUNT; i++)
        is_any = is_any || card->component[i].terms[term].state != CARD_NOT_ASKED;
    if (!is_any)
        return;
    html_open(page, "tr", HTML_END);
    html_element(page, "th", card_term_name(card->request->form, term).text, "scope", "row",
                 HTML_END);
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        const struct card_term *of = &card->component[i].terms[term];
        if (!card->component[i].is_present)
            continue;
        if (of->state == CARD_KEPT)
            coefficient_cell(page, of);
        else
            cell(page, words[of->state]);
    }
    html_close(page);
}

static void write_terms(struct html *page, const struct calibration_card *card)
{
    int is_direct = card->request->form == CALIBRATION_DIRECT;
    page_section(page, "terms", "Terms",
                 is_direct ? "Loads, N and N m, per unit of output, with standard errors."
                           : "Outputs at loads over their rated value, with standard errors.");
    page_scroller(page, "panel scroll", "terms of the calibration");
    html_open(page, "table", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "term", "class", "left", "scope", "col", HTML_END);
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        char text[16];
        if (!card->component[i].is_present)
            continue;
        (void)snprintf(text, sizeof text, "R%d", (int)card->loadings->output_of[i] + 1);
        html_element(page, "th", is_direct ? calibration_load_name(i) : text, "scope", "col",
                     HTML_END);
    }
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
    for (size_t term = 0; term < CARD_TERMS; term++)
        term_row(page, card, term);
    html_close(page);
    html_close(page);
    html_close(page);
    html_close(page);
}

static void fact(struct html *page, const char *name, const char *text)
{
    if (text[0] == '\0')
        return;
    html_element(page, "dt", name, HTML_END);
    html_element(page, "dd", text, HTML_END);
}

static void tare_facts(struct html *page, const struct calibration_card *card)
{
    for (size_t s = 0; card->tare != NULL && s < card->loadings->n_series; s++) {
        struct buffer name = {0}, text = {0};
        buffer_format(&name, "tare of series %s", card->loadings->series[s]);
        for (size_t i = 0; i < LOAD_COUNT; i++)
            if (card->component[i].is_present)
                buffer_format(&text, "%s%s %.8g %s", text.length > 0 ? ", " : "",
                              calibration_load_name(i), card->tare[s][i], calibration_load_unit(i));
        fact(page, buffer_string(&name), buffer_string(&text));
        page->out.failed |= name.failed || text.failed;
        buffer_free(&name);
        buffer_free(&text);
    }
}

static void write_made(struct html *page, const struct calibration_card *card)
{
    char text[160];
    page_section(page, "made", "How it was made", NULL);
    html_open(page, "dl", "class", "origin-list", HTML_END);
    fact(page, "loadings", card->loadings->name);
    fact(page, "SHA-256 of the loadings", card->loadings->sha256);
    fact(page, "outputs", card->loadings->output_unit);
    fact(page, "valid from", card->request->valid_from);
    fact(page, "valid until", card->request->valid_until);
    (void)snprintf(text, sizeof text, "%.2f to %.2f K, terms about their mean %.2f K",
                   card->temperature_lowest, card->temperature_highest, card->temperature);
    fact(page, "temperature", isfinite(card->temperature) ? text : "");
    (void)snprintf(text, sizeof text, "spectral radius over the load box %.3g at most; limit 1",
                   card->contraction);
    fact(page, "contraction", isfinite(card->contraction) ? text : "");
    (void)snprintf(text, sizeof text, "%d steps, until no tare moved by 1e-6 of its rated load",
                   card->tare_steps);
    fact(page, "tare iteration", card->tare != NULL ? text : "");
    tare_facts(page, card);
    fact(page, "choice of terms",
         card->request->keep_all
             ? "all were kept"
             : "dropped one at a time: variance inflation above 10, then |t| below 4; linear terms "
               "stay, and what a kept term stands on");
    html_close(page);
    html_close(page);
}

enum status page_card(struct html *page, const struct calibration_card *card, struct fault *fault)
{
    char title[sizeof(struct cut_text) + 32];
    (void)snprintf(title, sizeof title, "Calibration card%s%s",
                   card->request->balance[0] != '\0' ? ": " : "",
                   cut_text(card->request->balance, CUT_TEXT_MOST).text);
    enum status status =
        page_begin(page, title, title, links, sizeof links / sizeof links[0], fault);
    if (status != OK)
        return status;
    write_result(page, card);
    write_terms(page, card);
    write_made(page, card);
    page_end(page,
             "Made from the loadings named above. Results support engineering judgement; they "
             "are no sign-off of a balance's strength or rating. The page asks nothing of "
             "the network and reads without its script.");
    return html_status(page, fault);
}
