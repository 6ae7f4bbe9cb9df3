/* baseline_track.c - see baseline_track.h. */
#include "report/baseline_track.h"

#include <math.h>

struct baseline_track baseline_track(const double *values, size_t n)
{
    struct baseline_track track = {n, (double)NAN, (double)NAN, (double)NAN};

    if (n < 2)
        return track;
    double low = values[0];
    double high = values[0];
    track.moved = values[n - 1] - values[0];
    track.step = 0;
    for (size_t i = 1; i < n; i++) {
        double step = values[i] - values[i - 1];
        if (fabs(step) > fabs(track.step))
            track.step = step;
        low = fmin(low, values[i]);
        high = fmax(high, values[i]);
    }
    track.range = high - low;
    return track;
}

double baseline_track_size(const struct baseline_track *track)
{
    return fmax(fabs(track->moved), fabs(track->step));
}
