/* card_words.c - a calibration card in words; see calibration_report.h. */
#include <math.h>
#include <stdio.h>

#include "report/calibration_report.h"
#include "report/number_text.h"
#include "report/terminal_text.h"
#include "schema/number.h"

enum { NARROW = 6, NUMBER = 10, WIDE = 22 };

size_t card_kept(const struct card_component *component)
{
    size_t kept = 0;
    for (size_t i = 0; i < CALIBRATION_LOAD_TERMS; i++)
        kept += component->terms[i].state == CARD_KEPT;
    return kept;
}

void card_heading(const struct calibration_card *card, struct buffer *out)
{
    const struct calibrate_request *request = card->request;
    buffer_format(out,
                  "Calibration of %s%s from %s: %zu loadings fitted, %zu held out; %s form, "
                  "%zu terms %s",
                  request->balance[0] != '\0' ? "balance " : "a balance", request->balance,
                  card->loadings->name, card->n_fit, card->n_check,
                  request->form == CALIBRATION_DIRECT ? "direct" : "iterative", request->terms,
                  request->keep_all ? "kept" : "tried");
}

static void add_share(struct buffer *out, int is_known, double share)
{
    char text[64] = "-";
    if (is_known && isfinite(share))
        (void)number_print_fixed(100 * share, 4, text, sizeof text);
    else if (is_known)
        (void)snprintf(text, sizeof text, "n/a");
    terminal_cell(out, text, NUMBER, 1);
}

static void add_component(const struct calibration_card *card, size_t load, struct buffer *out)
{
    const struct card_component *component = &card->component[load];
    char text[96];
    terminal_cell(out, calibration_load_name(load), NARROW, 0);
    (void)snprintf(text, sizeof text, "%.6g %s", component->rated, calibration_load_unit(load));
    terminal_cell(out, text, NUMBER, 1);
    (void)snprintf(text, sizeof text, "%.6g .. %.6g", component->lowest, component->highest);
    terminal_cell(out, text, WIDE, 1);
    (void)snprintf(text, sizeof text, "%zu", card_kept(component));
    terminal_cell(out, text, NARROW, 1);
    add_share(out, 1, component->fit_share);
    add_share(out, 1, component->press_share);
    add_share(out, 1, component->residual_sd);
    add_share(out, 1, component->residual_largest);
    add_share(out, component->checks > 0, component->check_rms);
    add_share(out, component->checks > 0, component->check_largest);
    add_share(out, component->has_hysteresis, component->hysteresis_largest);
    buffer_text(out, "\n");
}

static void add_heads(struct buffer *out)
{
    static const char *const heads[] = {"fit sd", "PRESS",   "loads sd",  "largest",
                                        "checks", "largest", "hysteresis"};
    terminal_cell(out, "", NARROW, 0);
    terminal_cell(out, "rated", NUMBER, 1);
    terminal_cell(out, "loaded from .. to", WIDE, 1);
    terminal_cell(out, "terms", NARROW, 1);
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++)
        terminal_cell(out, heads[i], NUMBER, 1);
    buffer_text(out, "\n");
}

static void add_tares(const struct calibration_card *card, struct buffer *out)
{
    if (card->tare == NULL)
        return;
    buffer_format(out, "\ntares, found in %d steps\n", card->tare_steps);
    for (size_t s = 0; s < card->loadings->n_series; s++) {
        buffer_text(out, "  series ");
        terminal_text(out, card->loadings->series[s]);
        buffer_text(out, ":");
        for (size_t i = 0; i < LOAD_COUNT; i++)
            if (card->component[i].is_present)
                buffer_format(out, " %s %.8g %s%s", calibration_load_name(i), card->tare[s][i],
                              calibration_load_unit(i), i + 1 < LOAD_COUNT ? "," : "");
        buffer_text(out, "\n");
    }
}

/* A strong term that only its likeness to others drove out is worth a second thought. */
static void add_strong(const struct calibration_card *card, struct buffer *out)
{
    const double strong = 4;
    int is_first = 1;
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        for (size_t term = 0; term < CARD_TERMS; term++) {
            const struct card_term *of = &card->component[i].terms[term];
            if (of->state != CARD_ALIKE || !(of->t > strong))
                continue;
            buffer_format(out, "%s  %s of %s: |t| %.1f, inflation %.1f\n",
                          is_first ? "\nstrong terms dropped for variance inflation; add loadings "
                                     "that tell them apart, or --keep-all\n"
                                   : "",
                          card_term_name(card->request->form, term).text, calibration_load_name(i),
                          of->t, of->inflation);
            is_first = 0;
        }
    }
}

/* One reading in the other sense or a slipped digit drives terms out and is told by nothing else. */
static void add_far(const struct calibration_card *card, struct buffer *out)
{
    const double far = 4; /* standard deviations; common practice, no source */
    int is_first = 1;
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        const struct card_component *of = &card->component[i];
        if (!of->is_present || !(fabs(of->residual_largest) > far * of->residual_sd))
            continue;
        buffer_format(
            out, "%s  line %zu: %s is off by %+.4f %%, %.1f standard deviations of the fit\n",
            is_first ? "\nloadings far off the fit; look for a sign, a digit or a load there\n"
                     : "",
            of->residual_line, calibration_load_name(i), 100 * of->residual_largest,
            fabs(of->residual_largest) / of->residual_sd);
        is_first = 0;
    }
}

static void add_missing(const struct calibration_card *card, struct buffer *out)
{
    if (card->n_missing > 0)
        buffer_text(out, "\nterms left out for want of loadings\n");
    for (size_t i = 0; i < card->n_missing; i++)
        buffer_format(out, "  %s\n", card->missing[i]);
}

void card_text(const struct calibration_card *card, struct buffer *out)
{
    struct buffer heading = {0};
    card_heading(card, &heading);
    terminal_text(out, buffer_string(&heading));
    out->failed |= heading.failed;
    buffer_free(&heading);
    buffer_text(out, "\n\n");
    add_heads(out);
    for (size_t i = 0; i < LOAD_COUNT; i++)
        if (card->component[i].is_present)
            add_component(card, i, out);
    buffer_text(out,
                "\nper cent of the rated load; an error is what the calibration reads less what "
                "was applied.\n");
    buffer_text(out,
                card->n_check > 0
                    ? "Accuracy is the error of the checks, which took no part in the fit.\n"
                    : "No loading was held out: nothing here says how accurate it is; mark some "
                      "as check.\n");
    add_far(card, out);
    add_tares(card, out);
    add_strong(card, out);
    add_missing(card, out);
    if (isfinite(card->contraction))
        buffer_format(out,
                      "\nThe iteration contracts over the load box: spectral radius %.3g at "
                      "most.\n",
                      card->contraction);
    if (!card->is_whole)
        buffer_text(
            out, "\nFewer than six components: there is a card, and no file for campaign.yaml.\n");
}
