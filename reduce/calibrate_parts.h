/* calibrate_parts.h - the parts of a calibration in the making; see calibrate.h. */
#ifndef LAPWING_CALIBRATE_PARTS_H
#define LAPWING_CALIBRATE_PARTS_H

#include "reduce/calibrate.h"
#include "reduce/physics/balance.h"
#include "reduce/statistics/term_selection.h"

struct fit {
    const struct loadings *loadings;
    const struct calibrate_request *request;
    struct calibration_card *card;
    size_t *row; /* n: loadings that are fitted */
    size_t n;
    size_t term[CARD_TERMS]; /* p: what each column of x is */
    size_t p;
    double *x, *packed, *y;                      /* n x p, the columns that stay, n */
    enum term_fate fate[LOAD_COUNT][CARD_TERMS]; /* of each column, for each component */
    struct balance_calibration balance;          /* of the last solution */
};

/* calibrate_columns.c: which columns are asked for, and their values at the loads as they stand. */
void calibrate_list_columns(struct fit *fit);
void calibrate_fill(const struct fit *fit);
int calibrate_varies_in_temperature(const struct loadings *loadings);

/* Applied load and the tare of its series, N and N m. */
void calibrate_total(const struct calibration_card *card, const struct loading *loading,
                     double total[LOAD_COUNT]);

/* calibrate_columns.c: y of a component, its loads in the direct form, else its outputs. */
void calibrate_take_target(const struct fit *fit, size_t component);

/* calibrate_solve.c: regressions of all components with the columns that stay; fills the card's terms
 * and makes the balance ready. */
enum status calibrate_solve(struct fit *fit, struct fault *fault);

/* Loads, tare included, that the last solution reads from the outputs of a loading. */
enum outcome calibrate_predict(const struct fit *fit, const struct loading *loading,
                               double total[LOAD_COUNT]);

/* calibrate_terms.c: blind columns, their words, and the choice of terms. */
enum status calibrate_find_blind(struct fit *fit, struct fault *fault);
enum status calibrate_choose(struct fit *fit, struct fault *fault);

/* calibrate_tare.c: solves, and finds the tares where there are series. */
enum status calibrate_settle(struct fit *fit, struct fault *fault);

/* calibrate_judge.c: residuals, checks, hysteresis. */
enum status calibrate_judge(struct fit *fit, struct fault *fault);

#endif
