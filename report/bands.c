/* bands.c - see bands.h. */
#include "report/bands.h"

#include <math.h>

#include "report/scale.h"

/* Half a band is a limit of the symmetric maps, so one digit more than the width may be due. */
static int decimals_of(double width)
{
    for (int decimals = 0; decimals < 6; decimals++) {
        double scaled = width * pow(10, decimals);
        if (fabs(scaled - round(scaled)) < 1e-6)
            return decimals;
    }
    return 6;
}

struct bands bands_sequential(double low, double high)
{
    struct bands bands = {0, 0.1, 1, 0, 1};

    if (!scale_takes(low) || !scale_takes(high))
        return bands;
    double span = fmax(high - low, 1e-6);
    /* A start between two limits can cost one more band than the span alone. */
    bands.width = scale_nice_step(span / (BANDS_MAX - 1));
    bands.low = bands.width * floor(low / bands.width + 1e-9);
    bands.n = (int)ceil((high - bands.low) / bands.width - 1e-9);
    bands.n = bands.n < 1 ? 1 : bands.n;
    bands.decimals = decimals_of(bands.width);
    return bands;
}

struct bands bands_diverging(double reach, double narrowest)
{
    struct bands bands = {.n = BANDS_MAX, .diverging = 1};
    double width = fmax(2 * reach / BANDS_MAX, narrowest);

    bands.width = scale_takes(width) && width > 0 ? scale_nice_step(width) : 0.1;
    bands.low = -bands.width * BANDS_MAX / 2;
    bands.decimals = decimals_of(bands.width / 2);
    return bands;
}

int bands_index(const struct bands *bands, double value)
{
    if (!scale_takes(value))
        return -1;
    double place = floor((value - bands->low) / bands->width);
    return (int)fmin(fmax(place, 0), bands->n - 1);
}

struct colour bands_colour(const struct bands *bands, int index)
{
    if (bands->diverging)
        return colour_diverging(2.0 * index / (bands->n - 1) - 1);
    return colour_sequential((index + 0.5) / bands->n);
}

double bands_limit(const struct bands *bands, int index)
{
    return bands->low + bands->width * index;
}
