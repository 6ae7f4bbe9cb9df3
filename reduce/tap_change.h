/* tap_change.h - what a configuration changes at every tap, drift taken out.
 *
 * The same bracketing as for coefficients (statistics/bracket.h): an observation is a mounting, its
 * value the mean Cp of its runs in which the tap lives, and each is compared with the baseline
 * interpolated between the returns before and after it. So a drift of the scanner that is linear in
 * time drops out, and runs of one mounting are no independent repeats. Taps are taken at the attained
 * attitude: no slope is carried, so none is added to the uncertainty.                              */
#ifndef LAPWING_TAP_CHANGE_H
#define LAPWING_TAP_CHANGE_H

#include "reduce/family.h"
#include "reduce/tap_map.h"

struct tap_changes {
    double *delta;       /* configurations of the family x taps, row-major; NAN without one */
    double *uncertainty; /* the same: standard; NAN where nothing repeats, or all is identical */
    size_t n_taps;
};

/* Compares every tap at one measure of the family, a target. The runs of family and map are those of
 * one group, in the same order. Nothing is compared in a family larger than the statistics take.
 * NO_MEMORY. On OK the caller ends *changes with tap_changes_end(). */
enum status tap_changes_make(const struct family *family, size_t measure, const struct tap_map *map,
                             struct tap_changes *changes, struct fault *fault);
void tap_changes_end(struct tap_changes *changes); /* an empty one is fine */

#endif
