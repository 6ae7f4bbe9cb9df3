/* tap_change.h - what a configuration changes at every tap, drift taken out, and which of it is real.
 *
 * The same bracketing as for coefficients (statistics/bracket.h): an observation is a mounting, its
 * value the mean Cp of its runs in which the tap lives, and each is compared with the baseline
 * interpolated between the returns before and after it. So a drift of the scanner that is linear in
 * time drops out, and runs of one mounting are no independent repeats. Taps are taken at the attained
 * attitude: no slope is carried, so none is added to the uncertainty.
 *
 * Each live tap with two mountings or more on both sides is tested, |delta| / uncertainty against
 * Student's t with the degrees of freedom of its own scatter. Among hundreds of tests one in twenty is
 * below 5 % by chance, so p-values are adjusted over the tested taps of one configuration
 * (statistics/false_discovery.h).                                                                  */
#ifndef LAPWING_TAP_CHANGE_H
#define LAPWING_TAP_CHANGE_H

#include "reduce/family.h"
#include "reduce/tap_map.h"

/* Why a tap's change has no p-value, or that it has one. */
enum tap_test {
    TAP_TESTED,
    TAP_OF_BASELINE, /* nothing to compare with itself */
    TAP_NOT_COMPARED,
    TAP_DEAD,
    TAP_BASELINE_ONCE,
    TAP_UNBRACKETED,
    TAP_MOUNTED_ONCE,
    TAP_NO_SCATTER
};

struct tap_change {
    double delta;       /* NAN without one */
    double uncertainty; /* standard; NAN where nothing repeats, or all is identical */
    double freedom;     /* degrees of freedom of the uncertainty; NAN with it */
    double p;           /* two-sided; NAN where not tested */
    double q;           /* p adjusted over the taps of the configuration */
    enum tap_test test;
};

struct tap_changes {
    struct tap_change *changes; /* configurations of the family x taps, row-major */
    size_t n_taps;
};

/* Compares every tap at one measure of the family, a target. The runs of family and map are those of
 * one group, in the same order. Nothing is compared in a family larger than the statistics take.
 * NO_MEMORY. On OK the caller ends *changes with tap_changes_end(). */
enum status tap_changes_make(const struct family *family, size_t measure, const struct tap_map *map,
                             struct tap_changes *changes, struct fault *fault);
void tap_changes_end(struct tap_changes *changes); /* an empty one is fine */

/* "mounted once: ..."; "" for TAP_TESTED and TAP_OF_BASELINE. */
const char *tap_test_reason(enum tap_test test);

#endif
