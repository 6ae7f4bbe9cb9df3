/* plan_finds.h - the least delta of each metric and configuration that a planned night finds. */
#ifndef LAPWING_PLAN_FINDS_H
#define LAPWING_PLAN_FINDS_H

#include "reduce/plan_night.h"

struct plan_find {
    double least;       /* NAN where nothing is known of the noise */
    double half_width;  /* of the interval it is to expect */
    double noise;       /* standard deviation of one mounting */
    double freedom;     /* that the interval will rest on */
    double tonight;     /* that the night leaves for its own noise */
    const char *source; /* "tonight's own", "the season's", "not known" */
};

/* configuration: 0 .. night->n - 1, without the baseline. */
struct plan_find plan_find(const struct planned_night *night, const struct plan_metric *metric,
                           size_t configuration);

enum { PLAN_PAIR_ROWS = 8 };

/* As multiples of the noise's standard deviation; own is NAN for one pair. */
struct plan_pairs {
    size_t n;
    double before, own;
};
struct plan_pairs plan_pairs(const struct planned_night *night, size_t row);

#endif
