/* duct_modes.c - see duct_modes.h. */
#include "tests/duct_modes.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

static double shape(int m, double a, double b, double side)
{
    double waves = cos(m * pi * a / side) * cos(m * pi * b / side);
    return m == 0 ? 1.0 : 2.0 * waves;
}

double duct_modes_speed(double width, double height, const double source[3], const double at[3])
{
    double along = fabs(at[0] - source[0]), sum = 0.0;
    int last_m = (int)(42.0 / along * width / pi) + 1,
        last_n = (int)(42.0 / along * height / pi) + 1;
    for (int m = 0; m <= last_m; m++)
        for (int n = 0; n <= last_n; n++) {
            double k = pi * hypot(m / width, n / height);
            if (k * along < 42.0)
                sum += shape(m, source[1] + width / 2, at[1] + width / 2, width) *
                       shape(n, source[2], at[2], height) * exp(-k * along);
        }
    return (1.0 + (at[0] > source[0] ? sum : -sum)) / (2.0 * width * height);
}
