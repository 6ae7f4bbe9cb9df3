/* fault_drift.h - a zero that drifts by a given load. */
#ifndef LAPWING_TESTS_FAULT_DRIFT_H
#define LAPWING_TESTS_FAULT_DRIFT_H

#include "tests/faults/fault_log.h"
#include "tests/faults/fault_season.h"

enum { DRIFT_OUTPUTS = 6 };

/* Outputs that one load (0: Fx .. 5: Mz) of `size` N or N m makes, by the linear part of the demo's
 * calibration turned round. 0 on failure. */
int drift_outputs(const struct fault_season *season, int load, double size,
                  double outputs[DRIFT_OUTPUTS]);

/* Makes the zero after a run differ from the zero before it by `wanted`, and gives in `added` what that
 * took. 0 on failure. */
int drift_zero(const struct fault_log *before, struct fault_log *after,
               const double wanted[DRIFT_OUTPUTS], double added[DRIFT_OUTPUTS]);

/* Adds to the rows of the run their share of it, linear in time between both zeros. 0 on failure. */
int drift_run(struct fault_log *forces, const double added[DRIFT_OUTPUTS]);

#endif
