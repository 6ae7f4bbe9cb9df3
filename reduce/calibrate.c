/* calibrate.c - the order of a calibration; see calibrate.h. */
#include "reduce/calibrate.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/calibrate_parts.h"
#include "reduce/calibration_make.h"

static void find_temperature(struct calibration_card *card)
{
    const struct loadings *loadings = card->loadings;
    double sum = 0;
    card->temperature = card->temperature_lowest = card->temperature_highest = (double)NAN;
    for (size_t i = 0; i < loadings->n && loadings->has_temperature; i++) {
        double value = loadings->rows[i].temperature;
        sum += value;
        card->temperature_lowest = fmin(card->temperature_lowest, value);
        card->temperature_highest = fmax(card->temperature_highest, value);
    }
    if (loadings->has_temperature)
        card->temperature = sum / (double)loadings->n;
}

/* A sheet in another unit than it says shows in loads that no balance of that rating has seen, or that
 * hardly move it. Both limits: common practice, no source. */
static enum status check_size(const struct fit *fit, size_t load, struct fault *fault)
{
    const double most = 2, least = 0.02; /* of the rated load */
    const struct loadings *loadings = fit->loadings;
    const char *name = calibration_load_name(load), *unit = calibration_load_unit(load);
    double rated = fit->request->rated[load], largest = 0;
    for (size_t i = 0; i < loadings->n; i++) {
        double value = loadings->rows[i].load[load];
        largest = fmax(largest, fabs(value));
        if (fabs(value) > most * rated)
            return FAIL(fault, BAD_INPUT,
                        "%s is %.6g %s on line %zu, %.3g times its rated %.6g %s; limit: %g times; "
                        "correct the unit in the row of units, the cell, or the rated load",
                        name, value, unit, loadings->rows[i].line, fabs(value) / rated, rated, unit,
                        most);
    }
    if (largest == 0 || largest >= least * rated) /* never loaded: told with its term */
        return OK;
    return FAIL(
        fault, BAD_INPUT,
        "%s reaches %.6g %s, %.2g %% of its rated %.6g %s; limit: %g %%; correct the unit in "
        "the row of units, or the rated load",
        name, largest, unit, 100 * largest / rated, rated, unit, 100 * least);
}

static enum status check_sizes(const struct fit *fit, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; i < LOAD_COUNT && status == OK; i++)
        if (fit->loadings->is_present[i])
            status = check_size(fit, i, fault);
    return status;
}

static enum status begin(struct fit *fit, struct fault *fault)
{
    const struct loadings *loadings = fit->loadings;
    struct calibration_card *card = fit->card;
    card->is_whole = 1;
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        card->component[i].is_present = loadings->is_present[i];
        card->component[i].rated = fit->request->rated[i];
        card->is_whole = card->is_whole && loadings->is_present[i];
    }
    find_temperature(card);
    calibrate_list_columns(fit);
    fit->row = calloc(loadings->n + 1, sizeof *fit->row);
    fit->x = calloc(loadings->n * fit->p + 1, sizeof *fit->x);
    fit->packed = calloc(loadings->n * fit->p + 1, sizeof *fit->packed);
    fit->y = calloc(loadings->n + 1, sizeof *fit->y);
    if (loadings->n_series > 0)
        card->tare = calloc(loadings->n_series, sizeof *card->tare);
    if (fit->row == NULL || fit->x == NULL || fit->packed == NULL || fit->y == NULL ||
        (loadings->n_series > 0 && card->tare == NULL))
        return FAIL(fault, NO_MEMORY, "no memory for %zu loadings", loadings->n);
    for (size_t i = 0; i < loadings->n; i++)
        if (!loadings->rows[i].is_check)
            fit->row[fit->n++] = i;
    card->n_fit = fit->n;
    if (fit->n == 0)
        return FAIL(fault, BAD_INPUT,
                    "there is no loading to fit; limit: more rows than terms; add "
                    "loadings that are no checks");
    return check_sizes(fit, fault);
}

static void fill_calibration(const struct fit *fit)
{
    struct calibration *calibration = &fit->card->calibration;
    const struct balance_calibration *balance = &fit->balance;
    *calibration = calibration_empty();
    calibration->form = fit->request->form;
    calibration->second_order = fit->request->terms > LOAD_COUNT;
    memcpy(calibration->linear, balance->linear, sizeof calibration->linear);
    memcpy(calibration->product, balance->product, sizeof calibration->product);
    memcpy(calibration->output, balance->iterative.coefficient, sizeof calibration->output);
    memcpy(calibration->temperature, balance->temperature.term, sizeof calibration->temperature);
    calibration->has_temperature = calibration_has_temperature(calibration);
    calibration->temperature_reference = fit->card->temperature;
    calibration->temperature_lowest = fit->card->temperature_lowest;
    calibration->temperature_highest = fit->card->temperature_highest;
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        calibration->rated[i] = fit->card->component[i].rated;
        calibration->lowest[i] = fit->card->component[i].lowest;
        calibration->highest[i] = fit->card->component[i].highest;
        calibration->residual_sd[i] = fit->card->component[i].residual_sd;
    }
}

/* Made ready as a night would: what can't be used there isn't given out here. */
static enum status try_out(struct calibration_card *card, struct fault *fault)
{
    struct balance_calibration made;
    struct balance_contraction found;
    card->contraction = (double)NAN;
    if (!card->is_whole)
        return OK;
    enum status status = calibration_make(&card->calibration, card->request->balance, &made, fault);
    if (status != OK || !made.is_iterative)
        return status;
    if (balance_iterative_contraction(&made.iterative, &found) == OUTCOME_OK)
        card->contraction = found.radius;
    return OK;
}

static enum status run(struct fit *fit, struct fault *fault)
{
    enum status status = begin(fit, fault);
    if (status == OK)
        status = calibrate_find_blind(fit, fault);
    if (status == OK && fit->card->tare != NULL && !fit->request->keep_all)
        status = calibrate_settle(fit, fault); /* so that terms are chosen on whole loads */
    if (status == OK) {
        calibrate_fill(fit);
        status = calibrate_choose(fit, fault);
    }
    if (status == OK)
        status = calibrate_settle(fit, fault);
    if (status == OK)
        status = calibrate_judge(fit, fault);
    if (status != OK)
        return status;
    fill_calibration(fit);
    return try_out(fit->card, fault);
}

enum status calibrate(const struct loadings *loadings, const struct calibrate_request *request,
                      struct calibration_card *card, struct fault *fault)
{
    struct fit *fit = calloc(1, sizeof *fit);
    memset(card, 0, sizeof *card);
    if (fit == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the calibration");
    card->loadings = loadings;
    card->request = request;
    fit->loadings = loadings;
    fit->request = request;
    fit->card = card;
    enum status status = run(fit, fault);
    if (status != OK)
        fault_where(fault, "%s", loadings->name);
    free(fit->row);
    free(fit->x);
    free(fit->packed);
    free(fit->y);
    free(fit);
    return status;
}
