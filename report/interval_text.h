/* interval_text.h - an interval in words, for screen readers and on hover. */
#ifndef LAPWING_REPORT_INTERVAL_TEXT_H
#define LAPWING_REPORT_INTERVAL_TEXT_H

#include <stddef.h>

#include "report/chart_interval.h"
#include "report/display.h"

/* "ΔCL of W2: +23.8 ± 6.1 counts, from +17.7 to +29.9"; without an interval "ΔCL of W2: +23.8 counts, no
 * interval", without a delta "ΔCL of W2: not known". name NULL: no "of". The interval is in the display's
 * unit; decimals are those of the numbers beside the picture. */
void interval_words(const struct interval *interval, const char *quantity, const char *name,
                    const struct display *display, char *out, size_t size);

#endif
