/* calibrate_columns.c - the columns of a calibration's regressions; see calibrate_parts.h. */
#include <math.h>
#include <string.h>

#include "reduce/calibrate_parts.h"

static int is_asked(const struct fit *fit, size_t term)
{
    struct balance_term made = balance_term((int)term);
    if (!fit->loadings->is_present[made.first] || !fit->loadings->is_present[made.second])
        return 0;
    switch (made.kind) {
    case TERM_LINEAR:
        return 1;
    case TERM_SQUARE:
    case TERM_PRODUCT:
        return fit->request->terms >= CALIBRATION_TERMS;
    case TERM_CUBE:
    case TERM_ABSOLUTE_CUBE:
        return fit->request->terms == CALIBRATION_LOAD_TERMS;
    default:
        return fit->request->terms > CALIBRATION_TERMS;
    }
}

int calibrate_varies_in_temperature(const struct loadings *loadings)
{
    for (size_t i = 1; loadings->has_temperature && i < loadings->n; i++)
        if (loadings->rows[i].temperature != loadings->rows[0].temperature)
            return 1;
    return 0;
}

void calibrate_list_columns(struct fit *fit)
{
    fit->p = 0;
    if (fit->loadings->n_series == 0)
        fit->term[fit->p++] = CARD_INTERCEPT;
    for (size_t term = 0; term < CALIBRATION_LOAD_TERMS; term++)
        if (is_asked(fit, term))
            fit->term[fit->p++] = term;
    if (!calibrate_varies_in_temperature(fit->loadings))
        return;
    fit->term[fit->p++] = CARD_TEMPERATURE;
    fit->term[fit->p++] = CARD_TEMPERATURE_SQUARE;
    for (size_t i = 0; i < LOAD_COUNT; i++)
        if (fit->loadings->is_present[i])
            fit->term[fit->p++] = CARD_SENSITIVITY + i;
}

void calibrate_total(const struct calibration_card *card, const struct loading *loading,
                     double total[LOAD_COUNT])
{
    for (size_t i = 0; i < LOAD_COUNT; i++)
        total[i] = loading->load[i] + (card->tare != NULL ? card->tare[loading->series][i] : 0);
}

static double column_value(const struct fit *fit, const struct loading *loading,
                           const double value[BALANCE_TERMS], size_t term)
{
    double from_mean = loading->temperature - fit->card->temperature;
    if (term == CARD_INTERCEPT)
        return 1;
    if (term == CARD_TEMPERATURE)
        return from_mean;
    if (term >= CARD_SENSITIVITY)
        return from_mean * value[term - CARD_SENSITIVITY];
    return term == CARD_TEMPERATURE_SQUARE ? from_mean * from_mean : value[term];
}

void calibrate_fill(const struct fit *fit)
{
    for (size_t i = 0; i < fit->n; i++) {
        const struct loading *loading = &fit->loadings->rows[fit->row[i]];
        double of[LOAD_COUNT], value[BALANCE_TERMS];
        calibrate_total(fit->card, loading, of);
        for (size_t k = 0; k < LOAD_COUNT; k++)
            of[k] = fit->loadings->is_present[k] ? of[k] / fit->request->rated[k] : 0;
        balance_term_values(fit->request->form == CALIBRATION_DIRECT ? loading->output : of, value);
        for (size_t j = 0; j < fit->p; j++)
            fit->x[i * fit->p + j] = column_value(fit, loading, value, fit->term[j]);
    }
}

void calibrate_take_target(const struct fit *fit, size_t component)
{
    for (size_t i = 0; i < fit->n; i++) {
        const struct loading *loading = &fit->loadings->rows[fit->row[i]];
        double total[LOAD_COUNT];
        calibrate_total(fit->card, loading, total);
        fit->y[i] = fit->request->form == CALIBRATION_DIRECT ? total[component]
                                                             : loading->output[component];
    }
}
