/* tap_zero.h - the wind-off reading of a tap at a point's time, above the static pressure there.
 *
 * An absolute scanner reads the barometer too: static pressure is taken off its zero, as measured, or
 * as p0 - (p0 - p) where it was not. A zero that logs the tap but holds no value of it, or no static
 * pressure, decides nothing: the other zero is held; where neither decides, the tap's offset is not
 * known. A tap that no zero logs is taken as zeroed by the scanner itself.                          */
#ifndef LAPWING_TAP_ZERO_H
#define LAPWING_TAP_ZERO_H

#include "reduce/reduced_point.h"

enum tap_zero_kind {
    TAP_ZERO_NONE,   /* none is taken: no zeros, or the tap is in none of them; value 0 */
    TAP_ZERO_TAKEN,  /* the one zero, or linear in time between both */
    TAP_ZERO_HELD,   /* there are two zeros and only one has a value: it is held */
    TAP_ZERO_SILENT, /* logged and without a value, or its named zero is refused; value NAN */
};

struct tap_zero {
    enum tap_zero_kind kind;
    double value; /* Pa above static */
};

/* The channels of the tap in the zero before and after; -1 where it isn't logged. */
struct tap_zero tap_zero_at(const struct run_work *work, int before, int after,
                            const struct point_row *point);

#endif
