/* polarisation.c - see polarisation.h. */
#include "reduce/statistics/polarisation.h"

#include <math.h>

double polarised_covariance(double variance_a, double variance_b, double variance_sum,
                            double variance_difference)
{
    double whole = variance_sum + variance_difference;

    if (!(variance_a >= 0) || !(variance_b >= 0) || !(variance_sum >= 0) ||
        !(variance_difference >= 0) || !isfinite(variance_a + variance_b) || !isfinite(whole) ||
        !(whole > 0))
        return (double)NAN;
    double share = (variance_sum - variance_difference) / whole;
    double most = sqrt(variance_a) * sqrt(variance_b);
    return fmin(fmax(share * (variance_a + variance_b) / 2, -most), most);
}
