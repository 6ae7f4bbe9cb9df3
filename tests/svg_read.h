/* svg_read.h - reads a page's drawings back: from places to the values that were drawn. */
#ifndef LAPWING_TEST_SVG_READ_H
#define LAPWING_TEST_SVG_READ_H

/* A number of the page: true minus, optional plus. */
double page_number(const char *text);

/* Of the tag that begins at element; NAN when it has no such attribute. */
double svg_attribute(const char *element, const char *name);

/* The next tag or text that begins so, before stop; NULL when there is none. */
const char *svg_next(const char *from, const char *stop, const char *beginning);

/* Two ticks of an axis: where, and what is written there. */
struct svg_axis {
    double place[2], value[2];
    int ticks;
};

/* The axis across (is_up 0) or up of the drawing between from and stop, by its first and last tick. */
struct svg_axis svg_axis_read(const char *from, const char *stop, int is_up);

double svg_value(const struct svg_axis *axis, double place);

#endif
