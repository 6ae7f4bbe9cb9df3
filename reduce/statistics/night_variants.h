/* night_variants.h - would the verdict be another without this baseline, or those points?
 *
 * A night's deltas are found again with some observations left out: each return to the baseline in turn,
 * all points that are flagged. Corrections off is the same night with other values, and the caller's. What
 * the verdicts of the variants make of the headline's is one word.
 * Common practice, no source. */
#ifndef LAPWING_NIGHT_VARIANTS_H
#define LAPWING_NIGHT_VARIANTS_H

#include "reduce/statistics/night_model.h"
#include "reduce/statistics/verdict.h"

/* night_deltas() of the observations whose is_out is 0. Outcomes as there. */
enum outcome night_deltas_without(const struct night_observation *observations,
                                  const unsigned char *is_out, size_t n, size_t n_configurations,
                                  struct night_result *result, double *correlation);

/* Marks one mounting of the baseline in is_out (n of them): the one that comes place-th in time, from 0;
 * all others are 0. 0 when there is none of that place, and nothing is marked. */
int night_mark_baseline(const struct night_observation *observations, size_t n, size_t place,
                        unsigned char *is_out);

enum stability {
    STABILITY_NONE,    /* no variant has a verdict */
    STABILITY_FIRM,    /* every variant says the same */
    STABILITY_SOFT,    /* some can't tell, none says otherwise */
    STABILITY_DEPENDS, /* some say otherwise: it rests on what they leave out */
    STABILITY_REVERSED /* some say loss for gain, or gain for loss */
};

/* Of the headline beside n variants. Where the headline can't tell, a variant that can makes it
 * STABILITY_DEPENDS. */
enum stability verdict_stability(enum verdict headline, const enum verdict *variants, size_t n);

/* "firm", "softer without some", "depends on what is left out", "reversed by what is left out", "" */
const char *stability_words(enum stability stability);

#endif
