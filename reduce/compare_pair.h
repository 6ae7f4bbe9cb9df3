/* compare_pair.h - two configurations against each other, neither of them their baseline.
 *
 * A - B is the difference of their deltas, with what both share of the baseline taken into account:
 * u^2 = u_A^2 + u_B^2 - 2 cov. Nobody declared it before the night, so its interval stands alone, is not
 * widened for the number of comparisons, and gets no verdict. */
#ifndef LAPWING_COMPARE_PAIR_H
#define LAPWING_COMPARE_PAIR_H

#include "reduce/compare_table.h"

/* Adds the request's pair at an entry to the table asked_delta; nothing when the request names no pair, or
 * its campaign is NULL, or one of both was not run there. */
enum status compare_pair(struct store *store, const struct compare_request *request,
                         const struct season_entry *entry, struct fault *fault);

#endif
