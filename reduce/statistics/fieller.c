/* fieller.c - see fieller.h. */
#include "reduce/statistics/fieller.h"

#include <math.h>

static int is_usable(double a, double b, double variance_a, double variance_b, double covariance,
                     double multiplier)
{
    return isfinite(a) && isfinite(b) && isfinite(variance_a) && isfinite(variance_b) &&
           isfinite(covariance) && isfinite(multiplier) && multiplier > 0 && variance_a >= 0 &&
           variance_b >= 0 && fabs(covariance) <= sqrt(variance_a * variance_b) * (1 + 1e-9);
}

/* The set is square r^2 - 2 middle r + level <= 0. */
struct fieller fieller_interval(double a, double b, double variance_a, double variance_b,
                                double covariance, double multiplier)
{
    struct fieller result = {FIELLER_NONE, NAN, NAN, NAN};

    if (!is_usable(a, b, variance_a, variance_b, covariance, multiplier))
        return result;
    double k2 = multiplier * multiplier;
    double square = b * b - k2 * variance_b;
    double middle = a * b - k2 * covariance;
    double level = a * a - k2 * variance_a;
    double inside = middle * middle - square * level;
    if (b != 0)
        result.ratio = a / b;
    result.kind = FIELLER_EVERYTHING;
    if (square == 0 || (square < 0 && inside <= 0))
        return result;
    double root = sqrt(fmax(inside, 0));
    /* The root without cancellation first, the other from their product. */
    double far = middle + (middle < 0 ? -root : root);
    double one = far / square;
    double other = far != 0 ? level / far : 0;
    result.kind = square > 0 ? FIELLER_INTERVAL : FIELLER_OUTSIDE;
    result.lower = fmin(one, other);
    result.upper = fmax(one, other);
    return result;
}
