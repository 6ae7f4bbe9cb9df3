/* budget_scatter.h - scatter of the channels within a point as elemental sources. */
#ifndef LAPWING_BUDGET_SCATTER_H
#define LAPWING_BUDGET_SCATTER_H

#include "reduce/uncertain_point.h"

enum { SCATTER_CHANNELS_MAX = 25 };

struct scatter_list {
    struct error_source source[SCATTER_CHANNELS_MAX];
    int channel[SCATTER_CHANNELS_MAX]; /* of the run's data */
    size_t n;
};

/* The channels that the point's function rests on and that scatter. Their standard uncertainty is the
 * standard error of the mean; where the samples scatter less than the logger resolves, half a step of it
 * over the root of 3 besides. */
void scatter_list_make(const struct run_work *work, const struct point_row *row,
                       const struct uncertain_point *point, struct scatter_list *list);

/* Correlation of two of its sources. */
double scatter_correlation(const struct run_work *work, const struct point_row *row,
                           const struct scatter_list *list, size_t a, size_t b);

#endif
