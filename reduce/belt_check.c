/* belt_check.c - does the belt run as fast as the air? See point_checks.h. */
#include <math.h>
#include <stdio.h>

#include "reduce/point_checks.h"

/* The air's speed as made from q and density; of ready-made coefficients as the log has it. */
static double air_speed(const struct run_work *work, const struct reduced_point *made)
{
    double speed = made->result.freestream.speed;
    return isnan(speed) ? run_data_mean(&work->data, made->point, ROLE_AIR_SPEED) : speed;
}

int check_belt_speed(const struct run_work *work, const struct reduced_point *made,
                     struct flag_note *note)
{
    double limit = work->night->campaign->limits.belt_speed;
    double belt = run_data_mean(&work->data, made->point, ROLE_BELT_SPEED);
    double air = air_speed(work, made);
    double share = belt / air - 1;
    if (!(limit > 0) || !isfinite(share) || !(fabs(share) > limit))
        return 0;
    *note = flag_note_make(FLAG_BELT_SPEED, work->run->run, made->point->point, "belt_speed");
    note->value = share;
    note->limit = limit;
    note->unit = "1";
    (void)snprintf(note->detail, sizeof note->detail,
                   "the belt runs at %.3f m/s, the air at %.3f m/s: %+.2f %%, limit %g %%", belt,
                   air, 100 * share, 100 * limit);
    return 1;
}
