/* plan_attitudes.h - in which order a run visits its attitudes.
 *
 * The reference attitude stands first and last, so that a run tells its own drift. Ride heights are gone
 * through in one direction, because backlash and the floor's own hysteresis answer to the direction they
 * are approached from; or in an order drawn by the seed, another in every run, each approached from that
 * side. Common practice, no source. */
#ifndef LAPWING_PLAN_ATTITUDES_H
#define LAPWING_PLAN_ATTITUDES_H

#include <stddef.h>

#include "schema/campaign.h"

struct plan_attitudes {
    size_t *visit; /* owned; targets of the campaign, the reference first and last */
    size_t n;
    int is_random; /* the order between first and last is another in every run */
    enum plan_approach approach;
};

/* By the section plan. NO_MEMORY. The caller ends it with plan_attitudes_end(). */
enum status plan_attitudes_make(const struct campaign *campaign, struct plan_attitudes *attitudes,
                                struct fault *fault);
void plan_attitudes_end(struct plan_attitudes *attitudes);

/* Visits of one run into visit (attitudes->n). The same seed and run, the same order. NO_MEMORY. */
enum status plan_attitudes_of_run(const struct plan_attitudes *attitudes, unsigned long seed,
                                  size_t run, size_t *visit, struct fault *fault);

#endif
