/* chart_spectrum.h - a power spectral density over frequency, both on logarithmic axes.
 *
 * The confidence factor is the same at every frequency, and on this axis the same length: it is drawn once,
 * as a bar at the right. */
#ifndef LAPWING_REPORT_CHART_SPECTRUM_H
#define LAPWING_REPORT_CHART_SPECTRUM_H

#include "report/html.h"
#include "schema/kept_trace.h"

/* Nothing is drawn of a trace without a spectrum. The density at 0 Hz has no place on the axis, that at half
 * the rate is one-sided only half; both are left out. */
void chart_spectrum(struct html *page, const struct kept_trace *trace, const char *label);

/* Frequency of a density, Hz. */
double spectrum_frequency(const struct kept_trace *trace, size_t k);

#endif
