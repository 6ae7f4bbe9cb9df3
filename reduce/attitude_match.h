/* attitude_match.h - which declared target an attained attitude belongs to, and how near it is.
 *
 * A target's capture, cap and tolerance hold on every coordinate that the target names. A coordinate
 * that was not logged is taken as set, provided all targets that name it agree on it: then there is
 * nothing to choose. Where they differ, the point belongs to none.                                 */
#ifndef LAPWING_ATTITUDE_MATCH_H
#define LAPWING_ATTITUDE_MATCH_H

#include "schema/campaign.h"

struct attitude_match {
    const struct target *target; /* NULL: none within capture */
    int within_tolerance;        /* 1: at target */
    int within_cap;              /* 1: near enough to be carried there */
    double offset
        [ATTITUDE_COUNT]; /* attained minus target, m or rad; 0 where not named or not logged */
    int worst_axis;       /* of the largest offset in units of its cap; -1 for none */
    int unlogged_axis;    /* a coordinate taken as set, -1 when all were logged */
};

/* Given: attained attitude, NAN where not logged. A capture of 0 falls back to the cap, a cap of 0 to
 * the tolerance. */
struct attitude_match attitude_match(const struct attitudes *attitudes,
                                     const double attained[ATTITUDE_COUNT]);

#endif
