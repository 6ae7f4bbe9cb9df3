/* equal_balance.h - what a part is worth once the car is trimmed back to the balance it had.
 *
 * A measured device (a flap, a wing) moves the balance by slope_b and the measure by slope_c for each unit
 * of its setting. The setting that takes the balance change of the part back is x = -delta_b / slope_b, and
 *
 *   trimmed delta = delta_c + slope_c x = delta_c - (slope_c / slope_b) delta_b
 *
 * with the uncertainties of both deltas, their covariance, and the slopes' own. Source: common practice, no
 * source; propagation by GUM (JCGM 100:2008), equation 13. */
#ifndef LAPWING_EQUAL_BALANCE_H
#define LAPWING_EQUAL_BALANCE_H

#include "reduce/physics/outcome.h"

struct trim_pair {
    double measure, balance; /* deltas, or slopes by one unit of the device's setting */
    double variance_measure, variance_balance, covariance;
};

struct trimmed {
    double delta;
    double standard;
    double setting; /* change of the device that it takes */
};

/* setting_least, setting_most: how far the device can be moved from where it stood, within what its slopes
 * were measured over. OUTCOME_SINGULAR: the device does not move the balance for certain: slope_b is
 * within two standard uncertainties of 0; OUTCOME_UNMEASURED: the setting it takes is outside its range:
 * only setting is filled; OUTCOME_NOT_FINITE: an input, or a negative variance. */
enum outcome equal_balance(const struct trim_pair *part, const struct trim_pair *device,
                           double setting_least, double setting_most, struct trimmed *trimmed);

#endif
