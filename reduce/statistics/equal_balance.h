/* equal_balance.h - what a part is worth once the car is trimmed back to the balance it had.
 *
 * A measured device (a flap, a wing) moves the balance by slope_b and the measure by slope_c for each unit
 * of its setting. The setting that takes the balance change of the part back is x = -delta_b / slope_b, and
 *
 *   trimmed delta = delta_c + slope_c x = delta_c - (slope_c / slope_b) delta_b
 *
 * with the uncertainties of both deltas, their covariance, and the slopes' own: of z = c - (slope_c / slope_b) b,
 *
 *   u^2 = V(z_part) + x^2 V(z_device) + 2 x cov(z_part, z_device)
 *
 * where part and device share the baseline they were measured against, and so have a covariance.
 * Source: common practice, no source; propagation by GUM (JCGM 100:2008), equation 13. */
#ifndef LAPWING_EQUAL_BALANCE_H
#define LAPWING_EQUAL_BALANCE_H

#include "reduce/physics/outcome.h"

struct trim_pair {
    double measure, balance; /* deltas, or slopes by one unit of the device's setting */
    double variance_measure, variance_balance, covariance;
};

/* Covariances of the part's numbers with the device's, when both were measured against one baseline: its
 * slopes by one unit, as in struct trim_pair. */
struct trim_shared {
    double measures, balances;
    double
        crossed; /* cov(part's measure, device's balance) + cov(part's balance, device's measure) */
};

struct trimmed {
    double delta;
    double standard;
    double setting; /* change of the device that it takes */
};

/* setting_least, setting_most: how far the device can be moved from where it stood, within what its slopes
 * were measured over. OUTCOME_SINGULAR: the device does not move the balance for certain: slope_b is
 * within two standard uncertainties of 0; OUTCOME_UNMEASURED: the setting it takes is outside its range:
 * only setting is filled; OUTCOME_NOT_FINITE: an input, or a negative variance. shared: NULL when nothing
 * is. */
enum outcome equal_balance(const struct trim_pair *part, const struct trim_pair *device,
                           const struct trim_shared *shared, double setting_least,
                           double setting_most, struct trimmed *trimmed);

#endif
