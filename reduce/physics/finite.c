/* finite.c - see finite.h. */
#include "reduce/physics/finite.h"

#include <math.h>

int all_finite(const double *value, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (!isfinite(value[i]))
            return 0;
    return 1;
}
