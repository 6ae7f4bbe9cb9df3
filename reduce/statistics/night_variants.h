/* night_variants.h - would the verdict be another without this baseline, or those points?
 *
 * A night's deltas are found again with some of it left out (reduce/robustness.h); what the verdicts of
 * the variants make of the headline's is one word.
 * Common practice, no source. */
#ifndef LAPWING_NIGHT_VARIANTS_H
#define LAPWING_NIGHT_VARIANTS_H

#include <stddef.h>

#include "reduce/statistics/verdict.h"

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
