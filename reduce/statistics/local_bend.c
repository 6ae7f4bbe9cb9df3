/* local_bend.c - see local_bend.h. */
#include "reduce/statistics/local_bend.h"

#include <math.h>

#include "reduce/statistics/student.h"

static const double OF_SLOPE = 1.0 / 3;
static const double OF_WORTHWHILE = 0.5;
static const double CONFIDENCE = 0.99;

int local_gradient_bends(const struct local_gradient *gradient, size_t axes, size_t axis,
                         double step, double matters, struct local_bend *bend)
{
    double half_square = 0.5 * step * step;
    double slope = gradient->slope[axis];
    double curvature = gradient->curvature[axis];
    double variance = gradient->covariance[(axes + axis) * 2 * axes + axes + axis];

    *bend = (struct local_bend){slope * step, curvature * half_square,
                                fmax(OF_SLOPE * fabs(slope * step), OF_WORTHWHILE * matters),
                                slope * (slope + curvature * step) < 0};
    if (curvature == 0)
        return 0;
    double noise = student_multiplier(CONFIDENCE, gradient->degrees_of_freedom) *
                   sqrt(fmax(variance, 0)) * half_square;
    double size = fabs(bend->square);
    return size > OF_SLOPE * fabs(bend->linear) && size > OF_WORTHWHILE * matters && size > noise;
}
