/* calibrate.h - a calibration from raw loadings: tares, terms, residuals, checks, hysteresis.
 *
 * Outputs are regressed on terms of the loads over their rated value (iterative form), or loads on terms of the
 * outputs (direct). Where loadings come in series, each has an unknown tare: the fit gives it from the reading
 * without load, total = applied + tare, and the fit is repeated until no tare moves by 1e-6 of the rated
 * load. Terms are then chosen (statistics/term_selection.h), and the tares found again with them.
 * Source: tare iteration and term criteria as in AIAA R-091-2003, Calibration and Use of Internal
 * Strain-Gage Balances, from memory; limits are common practice, no source.                         */
#ifndef LAPWING_CALIBRATE_H
#define LAPWING_CALIBRATE_H

#include "schema/calibration_card.h"

/* Fills *card, which points to loadings and request; end it with calibration_card_free() either way.
 * BAD_INPUT: the loadings do not bear the linear terms, or with keep_all any term, and the missing
 * loading is named; fewer loadings than terms; a series without a reading at no load. NO_RESULT: the tares
 * do not settle, or the iteration does not contract over the loads. */
enum status calibrate(const struct loadings *loadings, const struct calibrate_request *request,
                      struct calibration_card *card, struct fault *fault);

#endif
