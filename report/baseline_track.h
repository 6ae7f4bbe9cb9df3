/* baseline_track.h - how a baseline moved over its returns.
 *
 * First to last hides what lies between: a baseline may step up and creep back. Drift that is linear
 * between two returns drops out of a delta that is measured from the line joining them; a step
 * between two returns does not, since nobody knows on which side of the configuration it fell.     */
#ifndef LAPWING_REPORT_BASELINE_TRACK_H
#define LAPWING_REPORT_BASELINE_TRACK_H

#include <stddef.h>

struct baseline_track {
    size_t returns;
    double moved; /* last minus first; NAN below two returns, as the others are */
    double step;  /* the largest difference between neighbours in time, with its sign */
    double range; /* largest minus smallest, >= 0 */
};

/* values are those of the returns in time, n of them, in any one unit; all finite. */
struct baseline_track baseline_track(const double *values, size_t n);

/* What the baseline is judged by: the larger of |first to last| and |largest step|. */
double baseline_track_size(const struct baseline_track *track);

#endif
