/* tunnel_factor.c - see tunnel_factor.h.
 *
 * The sums converge far too slowly to be added term by term. With C = 1 the form is
 * Q = r m^2 + n^2/r, r = B/H, and splitting the integral of the theta function at 1 gives two sums
 * that die like exp(-pi Q):
 *
 *   pi^-s Gamma(s) sum' Q^-s = 1/(s-1) - 1/s + sum' [ g(s, pi Q) + g(1-s, pi Q) ]
 *
 * with g(a, x) = Gamma(a, x) x^-a and s = 3/2. With alternating signs the pole term 1/(s-1) is gone
 * and the second sum runs over the lattice shifted by half a cell, all of whose signs are plus.
 * Source: Epstein, "Zur Theorie allgemeiner Zetafunktionen", Math. Ann. 56, 1903 (from memory; the
 * tests compare with the plain sum and with 4 zeta(3/2) beta(3/2) of the square).                  */
#include "reduce/physics/tunnel_factor.h"

#include <math.h>

#include "reduce/physics/constants.h"

static const double negligible = 13.0; /* exp(-13 pi) = 2e-18: terms with a larger Q are dropped */

/* g(3/2, x) = Gamma(3/2, x) x^(-3/2) */
static double near_term(double x)
{
    double root = sqrt(x);
    return (0.5 * sqrt(PI) * erfc(root) + root * exp(-x)) / (x * root);
}

/* g(-1/2, x) = Gamma(-1/2, x) x^(1/2) */
static double far_term(double x)
{
    double root = sqrt(x);
    return 2.0 * (exp(-x) - root * sqrt(PI) * erfc(root));
}

/* The form at (x, y), each counted in cells. */
static double form(double x, double y, double aspect)
{
    return aspect * x * x + y * y / aspect;
}

/* Both sums over the lattice itself; by symmetry one quarter of it serves for all. */
static double sum_on_lattice(double aspect, int is_open)
{
    double sum = 0.0;
    int last_m = (int)sqrt(negligible / aspect), last_n = (int)sqrt(negligible * aspect);
    for (int m = 0; m <= last_m; m++) {
        for (int n = m == 0 ? 1 : 0; n <= last_n; n++) {
            double copies = (m > 0 ? 2.0 : 1.0) * (n > 0 ? 2.0 : 1.0);
            double x = PI * form(m, n, aspect);
            double sign = is_open && (m + n) % 2 != 0 ? -1.0 : 1.0;
            sum += copies * (sign * near_term(x) + (is_open ? 0.0 : far_term(x)));
        }
    }
    return sum;
}

/* The second sum of the open jet, over the lattice shifted by half a cell. */
static double sum_between(double aspect)
{
    double sum = 0.0;
    int last_m = (int)sqrt(negligible / aspect), last_n = (int)sqrt(negligible * aspect);
    for (int m = 0; m <= last_m; m++)
        for (int n = 0; n <= last_n; n++)
            sum += 4.0 * far_term(PI * form(m + 0.5, n + 0.5, aspect));
    return sum;
}

static double tunnel_factor(double aspect, int is_open)
{
    const double s = 1.5;
    if (!(aspect >= 0.1 && aspect <= 10.0))
        return NAN;
    double split = is_open ? sum_between(aspect) : 1.0 / (s - 1.0);
    double scaled = split - 1.0 / s + sum_on_lattice(aspect, is_open);
    return scaled / sqrt(PI); /* pi^s / Gamma(s), over the 2 pi^1.5 of tau */
}

double tunnel_factor_closed(double aspect)
{
    return tunnel_factor(aspect, 0);
}

double tunnel_factor_open(double aspect)
{
    return tunnel_factor(aspect, 1);
}
