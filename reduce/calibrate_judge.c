/* calibrate_judge.c - how good a calibration is: residuals, held-out checks, hysteresis; see calibrate_parts.h. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/calibrate_parts.h"

/* Errors of the loads of some rows, as shares of the rated load. */
struct errors {
    size_t n;
    double squares[LOAD_COUNT], largest[LOAD_COUNT];
    size_t line[LOAD_COUNT]; /* of the largest */
};

static enum status add_error(const struct fit *fit, size_t row, struct errors *errors,
                             struct fault *fault)
{
    const struct loading *loading = &fit->loadings->rows[row];
    double total[LOAD_COUNT], read[LOAD_COUNT];
    enum outcome outcome = calibrate_predict(fit, loading, read);
    if (outcome != OUTCOME_OK)
        return FAIL(fault, NO_RESULT, "the loading on line %zu gives no loads: %s; check the row",
                    loading->line, outcome_sentence(outcome));
    calibrate_total(fit->card, loading, total);
    errors->n++;
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        if (!fit->loadings->is_present[i])
            continue;
        double error = (read[i] - total[i]) / fit->request->rated[i];
        errors->squares[i] += error * error;
        if (fabs(error) <= fabs(errors->largest[i]))
            continue;
        errors->largest[i] = error;
        errors->line[i] = loading->line;
    }
    return OK;
}

static void find_box(struct fit *fit)
{
    for (size_t i = 0; i < fit->n; i++) {
        double total[LOAD_COUNT];
        calibrate_total(fit->card, &fit->loadings->rows[fit->row[i]], total);
        for (size_t k = 0; k < LOAD_COUNT; k++) {
            struct card_component *component = &fit->card->component[k];
            component->lowest = i == 0 ? total[k] : fmin(component->lowest, total[k]);
            component->highest = i == 0 ? total[k] : fmax(component->highest, total[k]);
        }
    }
}

static enum status judge_fit(struct fit *fit, struct fault *fault)
{
    struct errors errors = {0};
    enum status status = OK;
    for (size_t i = 0; i < fit->n && status == OK; i++)
        status = add_error(fit, fit->row[i], &errors, fault);
    for (size_t k = 0; k < LOAD_COUNT; k++) {
        struct card_component *component = &fit->card->component[k];
        component->residual_sd =
            component->freedom > 0 ? sqrt(errors.squares[k] / component->freedom) : 0;
        component->residual_largest = errors.largest[k];
        component->residual_line = errors.line[k];
    }
    return status;
}

static enum status judge_checks(struct fit *fit, struct fault *fault)
{
    struct errors errors = {0};
    enum status status = OK;
    for (size_t i = 0; i < fit->loadings->n && status == OK; i++)
        if (fit->loadings->rows[i].is_check)
            status = add_error(fit, i, &errors, fault);
    fit->card->n_check = errors.n;
    for (size_t k = 0; k < LOAD_COUNT && errors.n > 0; k++) {
        struct card_component *component = &fit->card->component[k];
        component->checks = errors.n;
        component->check_rms = sqrt(errors.squares[k] / (double)errors.n);
        component->check_largest = errors.largest[k];
    }
    return status;
}

/* The rows that were not reached by unloading, with the same terms and tares, on a card of their own. */
static enum status fit_without_down(const struct fit *fit, struct fit *up,
                                    struct calibration_card *card, struct fault *fault)
{
    size_t n = 0;
    *up = *fit;
    *card = *fit->card;
    up->card = card;
    up->row = calloc(fit->n + 1, sizeof *up->row);
    if (up->row == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the hysteresis");
    for (size_t i = 0; i < fit->n; i++)
        if (!fit->loadings->rows[fit->row[i]].is_down)
            up->row[n++] = fit->row[i];
    up->n = n;
    return calibrate_solve(up, fault);
}

/* Where the other rows bear no fit there is none, which the card says. */
static enum status judge_hysteresis(struct fit *fit, struct fault *fault)
{
    struct errors errors = {0};
    struct calibration_card card;
    struct fault why = {.status = OK};
    struct fit up;
    size_t downs = 0;
    for (size_t i = 0; i < fit->n; i++)
        downs += fit->loadings->rows[fit->row[i]].is_down != 0;
    if (downs == 0)
        return OK;
    enum status status = fit_without_down(fit, &up, &card, &why);
    for (size_t i = 0; i < fit->n && status == OK; i++)
        if (fit->loadings->rows[fit->row[i]].is_down)
            status = add_error(&up, fit->row[i], &errors, &why);
    free(up.row);
    if (status == NO_MEMORY) {
        if (fault != NULL)
            *fault = why;
        return status;
    }
    for (size_t k = 0; k < LOAD_COUNT && status == OK; k++) {
        fit->card->component[k].has_hysteresis = fit->loadings->is_present[k];
        fit->card->component[k].hysteresis_largest = errors.largest[k];
    }
    return OK;
}

enum status calibrate_judge(struct fit *fit, struct fault *fault)
{
    find_box(fit);
    enum status status = judge_fit(fit, fault);
    if (status == OK)
        status = judge_checks(fit, fault);
    return status == OK ? judge_hysteresis(fit, fault) : status;
}
