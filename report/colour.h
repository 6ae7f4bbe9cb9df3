/* colour.h - the two colour ramps of the maps, by formula in OKLCH, as sRGB.
 *
 * Lightness is monotone by construction, so the order of the bands survives any colour vision and a
 * grey print; chroma is reduced until the colour lies inside sRGB. Nothing is copied from a table.
 * The conversion is OKLab: B. Ottosson, A perceptual color space for image processing, 2020.       */
#ifndef LAPWING_REPORT_COLOUR_H
#define LAPWING_REPORT_COLOUR_H

struct colour {
    unsigned char red, green, blue;
};

/* OKLCH to sRGB: lightness 0 .. 1, chroma >= 0, hue in degrees. Chroma is lowered to what sRGB can
 * show. */
struct colour colour_from_oklch(double lightness, double chroma, double hue);

/* Dark to light, t from 0 to 1 (clamped): L = 0.26 + 0.69 t, h = 285 - 180 t, C <= 0.14. */
struct colour colour_sequential(double t);

/* Blue below zero, orange above, near white at 0; t from -1 to 1 (clamped):
 * L = 0.965 - 0.56 |t|, C <= 0.17 |t|^0.85, h = 252 below and 48 above. */
struct colour colour_diverging(double t);

/* "#rrggbb" */
struct colour_text {
    char text[8];
};
struct colour_text colour_text(struct colour colour);

#endif
