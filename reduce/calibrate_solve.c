/* calibrate_solve.c - the regressions of all components, and the balance they make; see calibrate_parts.h. */
#include <math.h>
#include <string.h>

#include "reduce/calibrate_parts.h"
#include "reduce/statistics/least_squares.h"

static size_t pack(const struct fit *fit, size_t component)
{
    size_t kept = 0;
    for (size_t j = 0; j < fit->p; j++)
        kept += fit->fate[component][j] == TERM_STAYS;
    for (size_t i = 0; i < fit->n; i++) {
        size_t column = 0;
        for (size_t j = 0; j < fit->p; j++)
            if (fit->fate[component][j] == TERM_STAYS)
                fit->packed[i * kept + column++] = fit->x[i * fit->p + j];
    }
    return kept;
}

static void put_coefficient(struct balance_calibration *balance, enum calibration_form form,
                            size_t component, size_t term, double value)
{
    if (term >= CARD_TEMPERATURE)
        balance->temperature.term[component][term - CARD_TEMPERATURE] = value;
    if (term >= CALIBRATION_LOAD_TERMS)
        return;
    size_t direct = form == CALIBRATION_DIRECT ? card_direct_term(term) : 0;
    if (form == CALIBRATION_ITERATIVE)
        balance->iterative.coefficient[component][term] = value;
    else if (direct < LOAD_COUNT)
        balance->linear[component][direct] = value;
    else
        balance->product[component][direct - LOAD_COUNT] = value;
}

static void take_solution(struct fit *fit, size_t component, const struct least_squares *solved)
{
    struct card_component *card = &fit->card->component[component];
    size_t column = 0;
    for (size_t j = 0; j < fit->p; j++) {
        struct card_term *term = &card->terms[fit->term[j]];
        if (fit->fate[component][j] != TERM_STAYS)
            continue;
        term->state = CARD_KEPT;
        term->coefficient = solved->coefficient[column];
        term->error = solved->error[column];
        term->inflation = solved->inflation[column];
        put_coefficient(&fit->balance, fit->request->form, component, fit->term[j],
                        term->coefficient);
        column++;
    }
    card->freedom = solved->freedom;
    card->fit_sd = solved->sd;
    double scale = fit->request->form == CALIBRATION_DIRECT
                       ? fit->request->rated[component]
                       : fabs(card->terms[component].coefficient);
    card->fit_share = solved->sd / scale;
    card->press_share = sqrt(solved->press / (double)solved->n) / scale;
}

static enum status solve_one(struct fit *fit, size_t component, struct fault *fault)
{
    struct least_squares solved;
    size_t kept = pack(fit, component);
    calibrate_take_target(fit, component);
    enum outcome outcome = least_squares_fit(fit->packed, fit->y, fit->n, kept, &solved);
    if (outcome == OUTCOME_NO_MEMORY)
        return FAIL(fault, NO_MEMORY, "no memory for the fit of %s",
                    calibration_load_name(component));
    if (outcome == OUTCOME_TOO_FEW)
        return FAIL(fault, BAD_INPUT,
                    "%zu loadings are fitted with %zu terms; limit: more loadings than terms; add "
                    "loadings, or try fewer terms",
                    fit->n, kept);
    if (outcome != OUTCOME_OK)
        return FAIL(fault, NO_RESULT, "the fit of %s has no answer: %s",
                    calibration_load_name(component), outcome_sentence(outcome));
    take_solution(fit, component, &solved);
    least_squares_free(&solved);
    return OK;
}

/* An absent component reads nothing, and 0 is its load. */
static void begin_balance(struct fit *fit)
{
    struct balance_calibration *balance = &fit->balance;
    memset(balance, 0, sizeof *balance);
    balance->is_iterative = fit->request->form == CALIBRATION_ITERATIVE;
    balance->second_order = 1;
    balance->temperature.is_given = calibrate_varies_in_temperature(fit->loadings);
    balance->temperature.reference = fit->card->temperature;
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        int is_present = fit->loadings->is_present[i];
        balance->iterative.rated[i] = is_present ? fit->request->rated[i] : 1;
        balance->iterative.coefficient[i][i] = is_present ? 0 : 1;
    }
}

enum status calibrate_solve(struct fit *fit, struct fault *fault)
{
    enum status status = OK;
    begin_balance(fit);
    calibrate_fill(fit);
    for (size_t i = 0; i < LOAD_COUNT && status == OK; i++)
        if (fit->loadings->is_present[i])
            status = solve_one(fit, i, fault);
    if (status != OK || !fit->balance.is_iterative)
        return status;
    enum outcome outcome = balance_iterative_prepare(&fit->balance.iterative);
    return outcome == OUTCOME_OK
               ? OK
               : FAIL(fault, NO_RESULT,
                      "the outputs do not tell the loads apart: %s; limit: as many outputs that "
                      "answer differently as loads; look for one that is copied or dead",
                      outcome_sentence(outcome));
}

enum outcome calibrate_predict(const struct fit *fit, const struct loading *loading,
                               double total[LOAD_COUNT])
{
    int is_direct = fit->request->form == CALIBRATION_DIRECT;
    double output[LOAD_COUNT], intercept[LOAD_COUNT];
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        intercept[i] = fit->card->component[i].terms[CARD_INTERCEPT].coefficient;
        output[i] = loading->output[i] - (is_direct ? 0 : intercept[i]);
    }
    enum outcome outcome = balance_loads_at(&fit->balance, output, loading->temperature,
                                            fit->card->temperature, total);
    for (size_t i = 0; i < LOAD_COUNT && is_direct && outcome == OUTCOME_OK; i++)
        total[i] += intercept[i];
    return outcome;
}
