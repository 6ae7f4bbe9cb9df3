/* duct.c - see duct.h.
 *
 * The images form four lattices with cells of 2B by 2H, area 4C. With eta^2 = pi/(4C), d the offset of a
 * lattice from the place and x the distance along the duct, 1/r^3 = (4/sqrt(pi)) int t^2 exp(-r^2 t^2) dt
 * is cut at eta; above it the images are added one by one, below it Poisson's sum formula gives
 *
 *   sum x/r^3 = sum x [erfc(eta r) + 2 eta r/sqrt(pi) exp(-eta^2 r^2)]/r^3
 *             + sign(x) pi/(4C) sum_k cos(k d) [exp(-k|x|) erfc(k/(2 eta) - eta|x|)
 *                                               - exp(k|x|) erfc(k/(2 eta) + eta|x|)]
 *
 * with k = pi (m/B, n/H): both sums die like a Gaussian.                                           */
#include "reduce/physics/duct.h"

#include <math.h>

#include "reduce/physics/constants.h"

static const double negligible = 6.2; /* exp(-6.2^2) = 2e-17 */

/* The two cells of the period and the cut of a duct. */
struct lattice {
    double width, height; /* 2B, 2H */
    double area, cut;     /* 4C, eta */
};

/* [erf(t) - 2t/sqrt(pi) exp(-t^2)]/t^3: what is left of an image that is taken out. By its series where
 * the difference would cancel. */
static double inner_part(double t)
{
    double sum = 0.0, power = 1.0, factorial = 1.0;
    if (t > 0.5)
        return (erf(t) - 2.0 * t / sqrt(PI) * exp(-t * t)) / (t * t * t);
    for (int k = 0; k < 12; k++) { /* 0.25^12/12!: below rounding */
        sum += power / (factorial * (2 * k + 3));
        power *= -t * t;
        factorial *= k + 1;
    }
    return 4.0 / sqrt(PI) * sum;
}

static double near_image(const struct lattice *lattice, double x, double y, double z, int is_out)
{
    double r = sqrt(x * x + y * y + z * z), t = lattice->cut * r;
    if (is_out)
        return -x * lattice->cut * lattice->cut * lattice->cut * inner_part(t);
    if (t > negligible)
        return 0.0;
    return x * (erfc(t) + 2.0 * t / sqrt(PI) * exp(-t * t)) / (r * r * r);
}

/* One lattice, offset (y, z) from the place; its member (0, 0) is left out if asked. */
static double near_sum(const struct lattice *lattice, double x, double y, double z, int without)
{
    double sum = 0.0, reach = negligible / lattice->cut;
    int first_m = (int)ceil((-reach - y) / lattice->width),
        last_m = (int)floor((reach - y) / lattice->width);
    int first_n = (int)ceil((-reach - z) / lattice->height),
        last_n = (int)floor((reach - z) / lattice->height);
    if (without) /* it is taken out even where it would be too far to be added */
        sum += near_image(lattice, x, y, z, 1);
    for (int m = first_m; m <= last_m; m++)
        for (int n = first_n; n <= last_n; n++)
            if (!(without && m == 0 && n == 0))
                sum += near_image(lattice, x, y + m * lattice->width, z + n * lattice->height, 0);
    return sum;
}

/* exp(sign k x) erfc(k/(2 eta) + sign eta x), x >= 0; 0 where both factors leave the range of a double. */
static double far_term(double k, double x, double cut, double sign)
{
    double argument = k / (2.0 * cut) + sign * cut * x;
    return argument > 26.0 ? 0.0 : exp(sign * k * x) * erfc(argument);
}

/* The waves of all four lattices at once: their cosines add up to those of the duct's own modes. */
static double far_sum(const struct lattice *lattice, double x, const double y[2], const double z[2])
{
    double sum = 0.0, along = fabs(x);
    double k_y = 2.0 * PI / lattice->width, k_z = 2.0 * PI / lattice->height;
    double reach = 2.0 * lattice->cut * (negligible + lattice->cut * along);
    int last_m = (int)(reach / k_y), last_n = (int)(reach / k_z);
    for (int m = 0; m <= last_m; m++) {
        for (int n = 0; n <= last_n; n++) {
            double k = hypot(m * k_y, n * k_z);
            double copies = (m > 0 ? 2.0 : 1.0) * (n > 0 ? 2.0 : 1.0);
            double waves = (cos(m * k_y * y[0]) + cos(m * k_y * y[1])) *
                           (cos(n * k_z * z[0]) + cos(n * k_z * z[1]));
            sum += copies * waves *
                   (far_term(k, along, lattice->cut, -1.0) - far_term(k, along, lattice->cut, 1.0));
        }
    }
    double sign = x > 0.0 ? 1.0 : -1.0;
    return x == 0.0 ? 0.0 : sign * PI / lattice->area * sum;
}

static int is_usable(const struct duct *duct, const struct duct_place *source,
                     const struct duct_place *at)
{
    double aspect = duct->width / duct->height;
    return duct->width > 0.0 && duct->height > 0.0 && aspect >= 0.05 && aspect <= 20.0 &&
           isfinite(source->x + source->y + source->z) && isfinite(at->x + at->y + at->z);
}

double duct_source_speed(const struct duct *duct, const struct duct_place *source,
                         const struct duct_place *at, enum duct_part part)
{
    if (!is_usable(duct, source, at))
        return NAN;
    double section = duct->width * duct->height;
    struct lattice lattice = {2.0 * duct->width, 2.0 * duct->height, 4.0 * section,
                              sqrt(PI / (4.0 * section))};
    double x = at->x - source->x;
    double y[] = {at->y - source->y, at->y + source->y - duct->width};
    double z[] = {at->z - source->z, at->z + source->z};
    double sum = far_sum(&lattice, x, y, z);
    for (int i = 0; i < 2; i++)
        for (int k = 0; k < 2; k++) {
            int is_self = i == 0 && k == 0, is_mirror = i == 0 && k == 1;
            int without = (is_self && part != DUCT_ALL) || (is_mirror && part == DUCT_WITHOUT_PAIR);
            sum += near_sum(&lattice, x, y[i], z[k], without);
        }
    return sum / (4.0 * PI) + 1.0 / (2.0 * section);
}
