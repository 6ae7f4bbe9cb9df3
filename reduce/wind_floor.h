/* wind_floor.h - the dynamic pressure below which a point of a wind-on run was taken with the wind off.
 *
 * Loads of still air divided by next to nothing are numbers of any size. Below 1 % of the median q of the
 * run's points, a tenth of its speed, nothing of the run is measured. Common practice, no source.    */
#ifndef LAPWING_WIND_FLOOR_H
#define LAPWING_WIND_FLOOR_H

#include "reduce/flagging.h"
#include "reduce/reduced_point.h"

struct wind_floor {
    double median; /* Pa, of the points that have a positive q; NAN where none has */
    double lowest; /* Pa, the limit; NAN where coefficients need no q */
};

/* q of a point of the run itself, or of a zero or tare read as the run is, Pa; NAN where none can be made
 * or it is not positive. */
double wind_floor_q(const struct run_work *work, const struct run_data *data,
                    const struct point_row *point);

/* From all points of the run, whose recipe must be there. */
enum status wind_floor_make(const struct run_work *work, struct wind_floor *floor,
                            struct fault *fault);

/* 1 when the point's q is below the limit, with the note that refuses it. */
int wind_floor_refuses(const struct wind_floor *floor, const struct run_work *work,
                       const struct reduced_point *made, struct flag_note *note);

#endif
