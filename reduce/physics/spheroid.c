/* spheroid.c - see spheroid.h. */
#include "reduce/physics/spheroid.h"

#include <math.h>

#include "reduce/physics/constants.h"

/* (artanh e - e)/e^3 = 1/3 + e^2/5 + e^4/7 + ...: by the series where the difference would cancel. */
static double reduced_artanh(double square)
{
    double e = sqrt(square), sum = 0.0, power = 1.0;
    if (square > 0.1)
        return (atanh(e) - e) / (square * e);
    for (int k = 0; k < 16; k++) { /* 0.1^16: below rounding */
        sum += power / (2 * k + 3);
        power *= square;
    }
    return sum;
}

double spheroid_added_mass(double length_over_diameter)
{
    double f = length_over_diameter;
    if (!isfinite(f) || f < 1.0)
        return NAN;
    double inverse = 1.0 / (f * f); /* 1 - e^2 */
    double a0 = 2.0 * inverse * reduced_artanh(1.0 - inverse);
    return a0 / (2.0 - a0);
}

double spheroid_body_factor(double length_over_diameter)
{
    return 0.5 * sqrt(PI) * (1.0 + spheroid_added_mass(length_over_diameter));
}
