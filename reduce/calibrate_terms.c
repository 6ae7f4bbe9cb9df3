/* calibrate_terms.c - which terms the loadings bear, and which earn their place; see calibrate_parts.h. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/calibrate_parts.h"
#include "reduce/statistics/blind_columns.h"

enum { WORDS = 200 };

static const double blind_share = 1e-6;
static const struct term_rules rules = {4, 10};

static int is_linear(size_t term)
{
    return term < LOAD_COUNT;
}

/* What to add so that a term can be told; twin: CARD_TERMS when the term is 0 throughout. */
static void say_missing(const struct fit *fit, size_t term, size_t twin, char words[WORDS])
{
    enum calibration_form form = fit->request->form;
    struct card_name name = card_term_name(form, term);
    struct card_name other = card_term_name(form, twin < CARD_TERMS ? twin : 0);
    struct balance_term made = balance_term(term < BALANCE_TERMS ? (int)term : 0);
    struct card_name first = card_term_name(form, (size_t)made.first);
    struct card_name second = card_term_name(form, (size_t)made.second);
    if (term >= CARD_SENSITIVITY)
        (void)snprintf(words, WORDS,
                       "%s: %s is loaded at one temperature only; add loadings with it at others",
                       name.text, card_term_name(form, term - CARD_SENSITIVITY).text);
    else if (term >= BALANCE_TERMS && fit->loadings->n_series > 0)
        (void)snprintf(words, WORDS,
                       "%s: too few temperatures within one series, and from series to series the "
                       "tares hide it; change the temperature within a series",
                       name.text);
    else if (term >= BALANCE_TERMS)
        (void)snprintf(words, WORDS, "%s: there are too few temperatures; add loadings at others",
                       name.text);
    else if (twin == CARD_TERMS && made.first != made.second)
        (void)snprintf(words, WORDS,
                       "%s: no loading has %s and %s together; add loadings with both", name.text,
                       first.text, second.text);
    else if (twin == CARD_TERMS)
        (void)snprintf(words, WORDS, "%s: %s is never loaded; add loadings with it", name.text,
                       first.text);
    else if (twin == CARD_INTERCEPT)
        (void)snprintf(words, WORDS, "%s: %s never changes; add loadings of other sizes", name.text,
                       first.text);
    else if (made.kind == TERM_ABSOLUTE || (made.kind == TERM_SIGNED_SQUARE && twin >= LOAD_COUNT))
        (void)snprintf(words, WORDS,
                       "%s: %s is loaded in one sense only; add loadings in the other one",
                       name.text, first.text);
    else
        (void)snprintf(words, WORDS,
                       "%s: it never changes but with %s; add loadings that have one without the "
                       "other",
                       name.text, other.text);
}

static enum status take_blind(struct fit *fit, const int *is_blind, const size_t *twin,
                              struct fault *fault)
{
    struct calibration_card *card = fit->card;
    card->missing = calloc(fit->p, sizeof *card->missing);
    if (card->missing == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the terms");
    for (size_t j = 0; j < fit->p; j++) {
        if (!is_blind[j])
            continue;
        char *words = card->missing[card->n_missing++];
        say_missing(fit, fit->term[j], twin[j] < fit->p ? fit->term[twin[j]] : CARD_TERMS, words);
        for (size_t i = 0; i < LOAD_COUNT; i++)
            fit->fate[i][j] = TERM_BLIND;
        if (is_linear(fit->term[j]) ||
            (fit->request->keep_all && fit->term[j] < CALIBRATION_LOAD_TERMS))
            return FAIL(fault, BAD_INPUT, "the loadings do not bear the term %s", words);
    }
    return OK;
}

/* Every term that can be told is tried at first. */
static enum status check_number(const struct fit *fit, struct fault *fault)
{
    size_t terms = 0;
    for (size_t j = 0; j < fit->p; j++)
        terms += fit->fate[0][j] == TERM_STAYS;
    if (fit->n > terms)
        return OK;
    return FAIL(fault, BAD_INPUT,
                "%zu loadings are fitted with %zu terms; limit: more loadings than terms; add "
                "loadings, or try fewer terms",
                fit->n, terms);
}

static size_t first_of_temperature(const struct fit *fit)
{
    size_t first = 0;
    while (first < fit->p && fit->term[first] != CARD_TEMPERATURE)
        first++;
    return first;
}

/* Row i of x with a column for each series before those of temperature. */
static void fill_row(const struct fit *fit, size_t i, size_t first, size_t p, double *row)
{
    const double *from = fit->x + i * fit->p;
    size_t n_series = p - fit->p;
    for (size_t j = 0; j < first; j++)
        row[j] = from[j];
    for (size_t k = 0; k < n_series; k++)
        row[first + k] = fit->loadings->rows[fit->row[i]].series == k;
    for (size_t j = first; j < fit->p; j++)
        row[n_series + j] = from[j];
}

/* The tare of a series is found from its own readings, so what is one for all of a series, as a
 * temperature that changes from series to series only, can't be told from the tares. */
static enum outcome look_beside_series(const struct fit *fit, int *is_blind, size_t *twin)
{
    size_t first = first_of_temperature(fit);
    size_t n_series = first < fit->p ? fit->loadings->n_series : 0;
    size_t p = fit->p + n_series;
    double *x = calloc(fit->n * p, sizeof *x);
    int *blind = calloc(p, sizeof *blind);
    size_t *like = calloc(p, sizeof *like);
    enum outcome outcome = OUTCOME_NO_MEMORY;
    if (x != NULL && blind != NULL && like != NULL) {
        for (size_t i = 0; i < fit->n; i++)
            fill_row(fit, i, first, p, x + i * p);
        outcome = blind_columns(x, fit->n, p, blind_share, blind, like);
    }
    for (size_t j = 0; outcome == OUTCOME_OK && j < fit->p; j++) {
        size_t at = j < first ? j : j + n_series;
        is_blind[j] = blind[at];
        twin[j] = like[at] < first ? like[at] : fit->p;
    }
    free(x);
    free(blind);
    free(like);
    return outcome;
}

enum status calibrate_find_blind(struct fit *fit, struct fault *fault)
{
    int *is_blind = calloc(fit->p, sizeof *is_blind);
    size_t *twin = calloc(fit->p, sizeof *twin);
    enum outcome outcome = OUTCOME_NO_MEMORY;
    calibrate_fill(fit);
    if (is_blind != NULL && twin != NULL)
        outcome = look_beside_series(fit, is_blind, twin);
    enum status status = OK;
    if (outcome == OUTCOME_OK)
        status = take_blind(fit, is_blind, twin, fault);
    else
        status = FAIL(fault, outcome == OUTCOME_NO_MEMORY ? NO_MEMORY : BAD_INPUT,
                      "the loadings can't be looked at: %s", outcome_sentence(outcome));
    free(is_blind);
    free(twin);
    return status == OK ? check_number(fit, fault) : status;
}

/* A cube stands on its square, the square of temperature on temperature; the linear ones always stand. */
static void fill_needs(const struct fit *fit, int *is_held, unsigned char *needs)
{
    for (size_t j = 0; j < fit->p; j++) {
        size_t term = fit->term[j], below = CARD_TERMS;
        is_held[j] = is_linear(term) || term == CARD_INTERCEPT;
        if (term == CARD_TEMPERATURE_SQUARE)
            below = CARD_TEMPERATURE;
        else if (term < BALANCE_TERMS) {
            struct balance_term made = balance_term((int)term);
            if (made.kind == TERM_CUBE || made.kind == TERM_ABSOLUTE_CUBE)
                below = (size_t)balance_term_index(TERM_SQUARE, made.first, made.first);
        }
        for (size_t k = 0; k < fit->p; k++)
            needs[j * fit->p + k] = fit->term[k] == below;
    }
}

static void take_fates(struct fit *fit, size_t component, const struct term_leaving *leaving)
{
    static const enum card_state states[] = {CARD_KEPT, CARD_WEAK, CARD_ALIKE, CARD_BLIND};
    for (size_t j = 0; j < fit->p; j++) {
        struct card_term *term = &fit->card->component[component].terms[fit->term[j]];
        *term = (struct card_term){.state = states[fit->fate[component][j]],
                                   .t = leaving[j].t,
                                   .inflation = leaving[j].inflation};
    }
}

static enum status choose_one(struct fit *fit, size_t component, const int *is_held,
                              const unsigned char *needs, struct term_leaving *leaving,
                              struct fault *fault)
{
    enum outcome outcome = OUTCOME_OK;
    calibrate_take_target(fit, component);
    if (!fit->request->keep_all)
        outcome = term_selection(fit->x, fit->y, fit->n, fit->p, is_held, needs, &rules,
                                 fit->fate[component], leaving);
    if (outcome != OUTCOME_OK)
        return FAIL(fault, outcome == OUTCOME_NO_MEMORY ? NO_MEMORY : NO_RESULT,
                    "the terms of %s can't be chosen: %s", calibration_load_name(component),
                    outcome_sentence(outcome));
    take_fates(fit, component, leaving);
    return OK;
}

enum status calibrate_choose(struct fit *fit, struct fault *fault)
{
    int *is_held = calloc(fit->p, sizeof *is_held);
    unsigned char *needs = calloc(fit->p * fit->p, sizeof *needs);
    struct term_leaving *leaving = calloc(fit->p, sizeof *leaving);
    enum status status = OK;
    if (is_held == NULL || needs == NULL || leaving == NULL)
        status = FAIL(fault, NO_MEMORY, "no memory for the terms");
    else
        fill_needs(fit, is_held, needs);
    for (size_t i = 0; i < LOAD_COUNT && status == OK; i++)
        if (fit->loadings->is_present[i])
            status = choose_one(fit, i, is_held, needs, leaving, fault);
    free(is_held);
    free(needs);
    free(leaving);
    return status;
}
