/* colour.c - see colour.h. */
#include "report/colour.h"

#include <math.h>
#include <stdio.h>

static const double degree = 3.14159265358979323846 / 180;

/* Linear-light sRGB, possibly outside 0 .. 1 (Ottosson 2020). */
static void linear_from_oklch(double lightness, double chroma, double hue, double rgb[3])
{
    double a = chroma * cos(hue * degree);
    double b = chroma * sin(hue * degree);
    double l = lightness + 0.3963377774 * a + 0.2158037573 * b;
    double m = lightness - 0.1055613458 * a - 0.0638541728 * b;
    double s = lightness - 0.0894841775 * a - 1.2914855480 * b;

    l = l * l * l;
    m = m * m * m;
    s = s * s * s;
    rgb[0] = 4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s;
    rgb[1] = -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s;
    rgb[2] = -0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s;
}

static int is_inside(const double rgb[3])
{
    const double slack = 1e-6;

    for (int i = 0; i < 3; i++)
        if (rgb[i] < -slack || rgb[i] > 1 + slack)
            return 0;
    return 1;
}

/* The sRGB transfer curve (IEC 61966-2-1), to a byte. */
static unsigned char byte_from_linear(double linear)
{
    double value = fmin(fmax(linear, 0), 1);

    value = value <= 0.0031308 ? 12.92 * value : 1.055 * pow(value, 1 / 2.4) - 0.055;
    return (unsigned char)lround(255 * value);
}

/* The largest chroma up to the wanted one that sRGB can show, by halving. */
static double chroma_inside(double lightness, double wanted, double hue)
{
    double rgb[3];
    double inside = 0;
    double outside = wanted;

    linear_from_oklch(lightness, wanted, hue, rgb);
    if (is_inside(rgb))
        return wanted;
    for (int halving = 0; halving < 24; halving++) {
        double middle = (inside + outside) / 2;
        linear_from_oklch(lightness, middle, hue, rgb);
        if (is_inside(rgb))
            inside = middle;
        else
            outside = middle;
    }
    return inside;
}

struct colour colour_from_oklch(double lightness, double chroma, double hue)
{
    double rgb[3];

    linear_from_oklch(lightness, chroma_inside(lightness, chroma, hue), hue, rgb);
    return (struct colour){byte_from_linear(rgb[0]), byte_from_linear(rgb[1]),
                           byte_from_linear(rgb[2])};
}

struct colour colour_sequential(double t)
{
    double at = fmin(fmax(t, 0), 1);

    return colour_from_oklch(0.26 + 0.69 * at, 0.14, 285 - 180 * at);
}

struct colour colour_diverging(double t)
{
    double at = fmin(fmax(t, -1), 1);
    double size = fabs(at);

    return colour_from_oklch(0.965 - 0.56 * size, 0.17 * pow(size, 0.85), at < 0 ? 252 : 48);
}

struct colour_text colour_text(struct colour colour)
{
    struct colour_text out;

    (void)snprintf(out.text, sizeof out.text, "#%02x%02x%02x", colour.red, colour.green,
                   colour.blue);
    return out;
}
