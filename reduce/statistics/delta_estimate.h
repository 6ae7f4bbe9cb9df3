/* delta_estimate.h - a delta as one method finds it. */
#ifndef LAPWING_DELTA_ESTIMATE_H
#define LAPWING_DELTA_ESTIMATE_H

struct delta_estimate {
    double delta, standard_error, degrees_of_freedom; /* NAN, NAN, 0 without one */
};

#endif
