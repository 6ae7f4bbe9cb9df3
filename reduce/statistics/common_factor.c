/* common_factor.c - see common_factor.h. */
#include "reduce/statistics/common_factor.h"

#include <math.h>

static const double MEETS = 1e-12;
static const double LEAST_OWN = 1e-3;

/* The pair that is correlated most: what is divided by is as large as it can be. */
static double strongest(const double *correlation, size_t n, size_t *row, size_t *column)
{
    double most = 0;

    for (size_t i = 0; i < n; i++)
        for (size_t j = i + 1; j < n; j++)
            if (fabs(correlation[i * n + j]) > most) {
                most = fabs(correlation[i * n + j]);
                *row = i;
                *column = j;
            }
    return most;
}

/* l_a^2 = r_ab r_ac / r_bc with the c that is correlated most with both; without one the pair stands alone
 * and may share alike. */
static double first_loading(const double *correlation, size_t n, size_t a, size_t b)
{
    double most = 0, square = fabs(correlation[a * n + b]);

    for (size_t c = 0; c < n; c++) {
        double ac = correlation[a * n + c], bc = correlation[b * n + c];
        if (c == a || c == b || !(fabs(ac * bc) > most))
            continue;
        most = fabs(ac * bc);
        square = correlation[a * n + b] * ac / bc;
    }
    return square > 0 ? sqrt(square) : 0;
}

int common_factor_find(const double *correlation, size_t n, double *loading)
{
    size_t a = 0, b = 0;
    double first = 0;

    if (n > 1 && strongest(correlation, n, &a, &b) > 0)
        first = first_loading(correlation, n, a, b);
    for (size_t i = 0; i < n; i++)
        loading[i] = first > 0 ? i == a ? first : correlation[a * n + i] / first : 0;
    for (size_t i = 0; i < n; i++) {
        if (!(loading[i] * loading[i] <= 1 - LEAST_OWN))
            return 0;
        for (size_t j = 0; j < i; j++)
            if (!(fabs(loading[i] * loading[j] - correlation[i * n + j]) <= MEETS))
                return 0;
    }
    return 1;
}
