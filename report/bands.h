/* bands.h - the discrete bands of a map: which value takes which colour.
 *
 * Bands, not a smooth ramp, so that a reader can match a place with the legend. A map of change is
 * symmetric about zero with an odd number of bands: zero is the middle of a neutral one.           */
#ifndef LAPWING_REPORT_BANDS_H
#define LAPWING_REPORT_BANDS_H

#include "report/colour.h"

enum { BANDS_MAX = 11 };

struct bands {
    double low, width; /* band k is low + k width .. low + (k + 1) width */
    int n;
    int diverging;
    int decimals; /* that print the limits exactly */
};

/* Whole steps of 1, 2 or 5 that cover low .. high in at most BANDS_MAX bands. */
struct bands bands_sequential(double low, double high);

/* BANDS_MAX bands about zero that cover -reach .. reach, none narrower than narrowest (>= 0). */
struct bands bands_diverging(double reach, double narrowest);

/* The band a value lies in, the outermost for values beyond; -1 for NAN. */
int bands_index(const struct bands *bands, double value);
struct colour bands_colour(const struct bands *bands, int index);

/* Lower limit of band index; index n is the upper end. */
double bands_limit(const struct bands *bands, int index);

#endif
