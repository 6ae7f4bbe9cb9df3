/* svg_axis.h - what a place of a drawing means, told by nothing but the ticks that are printed beside it.
 *
 * Places are written to a hundredth of a page unit, ticks too; svg_near() is what that leaves open. */
#ifndef LAPWING_TEST_SVG_AXIS_H
#define LAPWING_TEST_SVG_AXIS_H

#include "tests/svg_read.h"

enum { SVG_TICKS = 32 };

enum svg_way {
    SVG_ACROSS, /* ticks below, x counts */
    SVG_UP,     /* ticks at the left, y counts; each must have a line at its place */
    SVG_LEGEND  /* ticks at the right of bands, y counts */
};

enum svg_labels {
    SVG_LINEAR,
    SVG_LOG,  /* values are common logarithms of what is printed */
    SVG_CLOCK /* 23:30; values are seconds since the midnight before the first tick */
};

struct svg_axis {
    double place[SVG_TICKS], value[SVG_TICKS];
    int n;
};

/* Asserts through CUnit that there are two ticks or more, all on one line, none at another's place. */
struct svg_axis svg_axis_read(struct svg drawing, enum svg_way way, enum svg_labels labels);

/* From a place to the value, and back. */
double svg_value(const struct svg_axis *axis, double place);
double svg_place_of(const struct svg_axis *axis, double value);

/* By how much a value that was read may be off. */
double svg_near(const struct svg_axis *axis);

#endif
