/* chart_interval.h - one interval in a table cell, on the scale its column shares.
 *
 * Grey strip: what does not matter. Filled dot: zero is outside the interval; hollow: it is not.
 * The tone is the reading's, given by the caller; numbers come from the same row that is printed
 * beside the picture.                                                                              */
#ifndef LAPWING_REPORT_CHART_INTERVAL_H
#define LAPWING_REPORT_CHART_INTERVAL_H

#include "report/html.h"

struct interval_scale {
    double width; /* of the cell, page units */
    int is_thin;  /* 1: an exploratory column */
    double reach; /* the column shows -reach .. reach, page unit (counts, pp) */
    double strip; /* half-width of what does not matter; 0: none drawn */
};

enum interval_tone { TONE_GOOD, TONE_BAD, TONE_PLAIN, TONE_MUTED };

struct interval {
    double value, lower, upper; /* page unit; NAN: only the frame is drawn */
    enum interval_tone tone;
    int thin; /* 1: exploratory */
};

/* Widens the reach so that the interval fits; begin with zero. */
void interval_scale_add(struct interval_scale *scale, const struct interval *interval);

/* Rounds the reach up to a tick once all rows were added. */
void interval_scale_finish(struct interval_scale *scale);

/* 1 when zero lies outside lower .. upper. */
int interval_excludes_zero(const struct interval *interval);

/* The cell; label describes it to a screen reader and on hover. */
void chart_interval(struct html *page, const struct interval_scale *scale,
                    const struct interval *interval, const char *label);

/* The axis above the column: -reach, 0, reach. */
void chart_interval_axis(struct html *page, const struct interval_scale *scale);

#endif
