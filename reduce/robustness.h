/* robustness.h - would a verdict be another without this baseline, or those points?
 *
 * The main measure is judged again, by the whole of the one rule at the significance that its intervals have for
 * one delta, without each return to the baseline in turn
 * and without the points that a rule flagged. What is left out and taken in by decisions and failures has been
 * looked at already (exclusion_effects.h) and is taken from there; corrections off is `lapwing compare
 * --without`. What all of that makes of a verdict is one word (statistics/night_variants.h). */
#ifndef LAPWING_ROBUSTNESS_H
#define LAPWING_ROBUSTNESS_H

#include "reduce/exclusion_effects.h"

/* Writes robustness and stability_result, after exclusion_effects_write() of the same request. Nothing
 * without a main measure. A variant that leaves a configuration without a verdict can't tell. */
enum status robustness_write(const struct exclusion_request *request, struct fault *fault);

#endif
