/* stated_pairs.h - which points repeat which: same configuration, same place, another run.
 *
 * Each point is in one pair at most, so that no pair's difference holds another's: of three series of a
 * curve the first two are paired, and the third waits for a fourth. Of several partners the nearest is
 * taken, of equally near ones the earliest.                                                        */
#ifndef LAPWING_STATED_PAIRS_H
#define LAPWING_STATED_PAIRS_H

#include "reduce/stated_points.h"
#include "reduce/statistics/repeat_agreement.h"

struct stated_pair {
    const struct stated_value *earlier, *later;
};

/* Pairs of one quantity, those of two runs together: by earlier run, later run, earlier point. */
struct stated_pairs {
    struct stated_pair *pairs;
    struct repeat_difference *differences; /* of each pair */
    size_t n;
    size_t *end; /* where each pair of runs ends */
    size_t n_groups;
};

/* Pure of memory: NO_MEMORY. On OK the caller ends *pairs with stated_pairs_end(). */
enum status stated_pairs_make(const struct stated_points *points,
                              const struct stated_quantity *quantity, struct stated_pairs *pairs,
                              struct fault *fault);
void stated_pairs_end(struct stated_pairs *pairs);

#endif
