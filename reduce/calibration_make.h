/* calibration_make.h - a calibration as its file declares it, made ready for the point function. */
#ifndef LAPWING_CALIBRATION_MAKE_H
#define LAPWING_CALIBRATION_MAKE_H

#include "reduce/physics/balance.h"
#include "schema/calibration.h"
#include "schema/fault.h"

/* An iterative one is turned round, and its contraction looked at over its load box. NO_RESULT, with the
 * balance named: its linear terms have no inverse, or the iteration need not settle everywhere in the box. */
enum status calibration_make(const struct calibration *calibration, const char *balance,
                             struct balance_calibration *made, struct fault *fault);

#endif
