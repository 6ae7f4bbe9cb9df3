/* asked.h - what a comparison was asked for, as temporary tables on the store's connection.
 *
 * `lapwing compare` writes text, CSV, JSON and a page of the same rows. What is asked is picked once, by
 * reduce, into these tables; every format reads them and nothing else, so that none shows more than was
 * asked for: a season may hold names that another reader must not see.
 *
 *   asked              name, value: season, campaign (digest), confidence, count, attitude, metric, entry,
 *                      first, second, family; "" where it was not given
 *   asked_delta        is_pair, and the columns of the view delta; a pair is the difference of two
 *                      configurations, the second standing in the column baseline
 *   asked_ratio, asked_equal_balance, asked_package, asked_stability, asked_variant, asked_exclusion
 *                      the columns of the views ratio, equal_balance ..., of the deltas that are asked
 *   asked_reduction    stage, subject, key of what they were made by
 *
 * Rows stand in the order in which they are shown. Nothing is written to the season itself. */
#ifndef LAPWING_ASKED_H
#define LAPWING_ASKED_H

#include "schema/store.h"

/* Makes the tables, empty; again, when they were there. */
enum status asked_make(struct store *store, struct fault *fault);

/* Fills all that hangs on the deltas, once those are in asked_delta. */
enum status asked_follow(struct store *store, struct fault *fault);

#endif
