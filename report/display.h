/* display.h - in which unit a quantity is printed: counts, points of percent, or as it is.
 *
 * The store keeps coefficients; a reader of deltas thinks in counts. The size of a count is the
 * campaign's and is printed under every table that uses it. Changes of a percentage are percentage
 * points, "pp", never "%".                                                                         */
#ifndef LAPWING_REPORT_DISPLAY_H
#define LAPWING_REPORT_DISPLAY_H

struct display {
    double factor;    /* printed = factor * stored */
    const char *unit; /* "counts", "pp", "%", "m²", "" */
    int decimals;     /* when no half-width tells better */
};

/* Of a change; count is the size of one count, > 0 (else coefficients print as they are). */
struct display display_delta(const char *quantity, double count);

/* Of a value. */
struct display display_value(const char *quantity);

/* "+ is more downforce"; "" for a quantity that the program does not know. */
const char *display_sign(const char *quantity);

/* "counts of downforce", or "of" left out where there is no unit: "downforce". out is ended. */
struct display_text {
    char text[120];
};
struct display_text display_named(const struct display *display, const char *name);

#endif
