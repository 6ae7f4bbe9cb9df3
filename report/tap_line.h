/* tap_line.h - pressures along the car: the taps of one surface that lie on one line with the flow.
 *
 * Found, not declared: the line is where most live taps lie side by side within 30 mm, of equal ones that
 * nearest to the middle of the car.                                                                  */
#ifndef LAPWING_REPORT_TAP_LINE_H
#define LAPWING_REPORT_TAP_LINE_H

#include "report/panel.h"

struct tap_line_asked {
    const char *baseline, *changed; /* configurations; changed "" for none */
    const char *target, *surface;
};

/* Picture and table of Cp over x, suction upwards, of the baseline and of what changed; nothing where fewer
 * than TAP_LINE_LEAST taps are on a line. */
enum { TAP_LINE_LEAST = 5 };
enum status tap_line_write(struct html *page, const struct night_page *night,
                           const struct tap_line_asked *asked, struct fault *fault);

#endif
