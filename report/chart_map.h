/* chart_map.h - pressures over a surface in plan view: filled bands, taps on top, a legend.
 *
 * Bands are linear between each three taps and end at the measured hull; nothing is drawn where
 * nothing was measured. Taps are circles in the same bands, so that a circle that differs from its
 * surroundings shows what the interpolation hides. A tap that is shown to have changed is a square with
 * a heavy edge instead, told apart without colour. A dead tap is a cross and takes no part. Flow
 * runs from left to right; the car's right side is up, as seen from above.                         */
#ifndef LAPWING_REPORT_CHART_MAP_H
#define LAPWING_REPORT_CHART_MAP_H

#include <stddef.h>

#include "report/bands.h"
#include "report/contour.h"
#include "report/html.h"

struct map_tap {
    const char *name;
    double x, y;        /* m, x aft, y to the car's right */
    double value;       /* Cp or its change; NAN: dead */
    double uncertainty; /* standard; NAN: not known */
    int is_changed;     /* 1: shown to have changed; drawn as a square */
};

struct map_chart {
    const char *label;  /* for a screen reader */
    const char *symbol; /* "Cp", "ΔCp" */
    const struct map_tap *taps;
    size_t n_taps;
    const struct contour_triangle *triangles; /* corners index taps */
    size_t n_triangles;
    struct bands bands;
};

enum status chart_map(struct html *page, const struct map_chart *chart, struct fault *fault);

#endif
