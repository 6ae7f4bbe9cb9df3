/* outlying_values.c - see outlying_values.h. */
#include "reduce/statistics/outlying_values.h"

#include <math.h>
#include <stdlib.h>

#include "reduce/physics/finite.h"
#include "reduce/statistics/student.h"

/* The farthest of the values that are left; its index, or n when they do not scatter. */
static size_t find_farthest(const double *values, const char *is_out, size_t n, double *deviate)
{
    double mean = 0, squares = 0, left = 0;
    size_t farthest = n;

    for (size_t i = 0; i < n; i++)
        if (!is_out[i]) {
            mean += values[i];
            left++;
        }
    mean /= left;
    for (size_t i = 0; i < n; i++) {
        if (is_out[i])
            continue;
        squares += (values[i] - mean) * (values[i] - mean);
        if (farthest == n || fabs(values[i] - mean) > fabs(values[farthest] - mean))
            farthest = i;
    }
    if (!(squares > 0))
        return n;
    *deviate = fabs(values[farthest] - mean) / sqrt(squares / (left - 1));
    return farthest;
}

static double limit_of(double left, double significance)
{
    double t = student_multiplier(1 - significance / left, left - 2);
    return (left - 1) * t / sqrt((left - 2 + t * t) * left);
}

enum outcome outlying_values_find(const double *values, size_t n, size_t most, double significance,
                                  struct outlying_value *steps, size_t *outliers)
{
    *outliers = 0;
    if (most == 0 || n < most + 2)
        return OUTCOME_TOO_FEW;
    if (!all_finite(values, n))
        return OUTCOME_NOT_FINITE;
    if (!(significance > 0 && significance < 1))
        return OUTCOME_SINGULAR;
    char *is_out = calloc(n, 1);
    if (is_out == NULL)
        return OUTCOME_NO_MEMORY;
    enum outcome outcome = OUTCOME_OK;
    for (size_t i = 0; i < most && outcome == OUTCOME_OK; i++) {
        steps[i].index = find_farthest(values, is_out, n, &steps[i].deviate);
        if (steps[i].index == n) {
            outcome = OUTCOME_SINGULAR;
            break;
        }
        is_out[steps[i].index] = 1;
        steps[i].limit = limit_of((double)(n - i), significance);
        if (steps[i].deviate > steps[i].limit)
            *outliers = i + 1;
    }
    if (outcome != OUTCOME_OK)
        *outliers = 0;
    free(is_out);
    return outcome;
}
