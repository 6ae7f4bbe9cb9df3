/* floor.c - fifteen stations of eight taps, two suction peaks: floor entry and diffuser kink. */
#include "sample_runs/floor.h"

#include <math.h>

enum { PER_STATION = 8, STATIONS = TAPS / PER_STATION };

static const double diffuser_kink = 0.50; /* m */
static const double diffuser_slope = 0.12;

static double station(int k)
{
    return -0.62 + 1.54 * (double)k / (double)(STATIONS - 1);
}

/* Half width of the floor: a narrow entry that widens behind the front wheels, then the diffuser. */
static double half_width(double x)
{
    if (x < -0.30)
        return 0.24 + 0.15 * (x + 0.62) / 0.32;
    if (x > diffuser_kink)
        return 0.39 - 0.12 * (x - diffuser_kink) / 0.42;
    return 0.39;
}

static double bell(double x, double centre, double width)
{
    double t = (x - centre) / width;
    return exp(-t * t);
}

struct floor_tap floor_tap(int tap)
{
    double share = (double)(tap % PER_STATION) / (double)(PER_STATION - 1);
    struct floor_tap t = {0};

    t.x = station(tap / PER_STATION);
    double half = half_width(t.x);
    t.y = 0.94 * half * (2.0 * share - 1.0);
    t.z = 0.020;
    t.normal_z = -1.0;
    if (t.x > diffuser_kink) {
        double angle = atan(diffuser_slope);
        t.z += diffuser_slope * (t.x - diffuser_kink);
        t.normal_x = sin(angle);
        t.normal_z = -cos(angle);
    }
    t.area = 2.0 * half / PER_STATION * 1.54 / (STATIONS - 1);
    t.tube = 0.80 + 0.40 * fabs(t.x);
    return t;
}

double floor_pressure(int tap, int configuration, const struct attitude *attitude)
{
    struct floor_tap t = floor_tap(tap);
    double across = t.y / half_width(t.x);
    double low = (0.014 - attitude->front) / 0.010; /* cm below 14 mm */
    double rake = (attitude->rear - 0.030) / 0.010;
    double cp = -0.35 - (1.25 + 0.20 * low - 0.15 * low * low) * bell(t.x, -0.46, 0.17) -
                (1.55 + 0.18 * rake) * bell(t.x, diffuser_kink, 0.22);

    cp *= 1.0 - 0.35 * across * across;
    cp += 0.8 * attitude->yaw * across;
    if (configuration == 1) /* floor edge: the outer floor is better sealed */
        cp -= 0.11 * bell(t.x, 0.10, 0.35) * across * across;
    if (configuration == 3) /* front flap: a weaker entry, from its wake */
        cp += 0.05 * bell(t.x, -0.46, 0.17);
    return cp;
}

double floor_refit_shape(int tap)
{
    struct floor_tap t = floor_tap(tap);
    return sin(3.0 * t.x + 5.0 * t.y);
}
