/* coefficients.c - see coefficients.h. */
#include "reduce/physics/coefficients.h"

#include <math.h>

#include "reduce/physics/axes.h"
#include "reduce/physics/finite.h"

enum outcome coefficients_from_loads(const double load[6], double dynamic_pressure, double area,
                                     double wheelbase, double coefficient[COEFFICIENTS])
{
    if (!all_finite(load, 6) || !isfinite(dynamic_pressure) || !isfinite(area) ||
        !isfinite(wheelbase))
        return OUTCOME_NOT_FINITE;
    if (dynamic_pressure <= 0.0)
        return OUTCOME_NO_WIND;
    if (area <= 0.0 || wheelbase <= 0.0)
        return OUTCOME_GEOMETRY;

    double force = dynamic_pressure * area;
    double moment = force * wheelbase;
    coefficient[COEFFICIENT_CD] = load[0] / force;
    coefficient[COEFFICIENT_CY] = load[1] / force;
    coefficient[COEFFICIENT_CL] = -load[2] / force;
    coefficient[COEFFICIENT_CRM] = load[3] / moment;
    coefficient[COEFFICIENT_CPM] = load[4] / moment;
    coefficient[COEFFICIENT_CYM] = load[5] / moment;
    return axes_axle_split(coefficient[COEFFICIENT_CL], coefficient[COEFFICIENT_CPM], 1.0,
                           &coefficient[COEFFICIENT_CLF], &coefficient[COEFFICIENT_CLR]);
}

static void fill_total(double c[COEFFICIENTS])
{
    double front = c[COEFFICIENT_CLF], rear = c[COEFFICIENT_CLR], pitch = c[COEFFICIENT_CPM];
    double *total = &c[COEFFICIENT_CL];
    if (isnan(*total))
        *total = front + rear;
    if (isnan(*total))
        *total = 2.0 * (front + pitch);
    if (isnan(*total))
        *total = 2.0 * (rear - pitch);
}

void coefficients_fill(double c[COEFFICIENTS])
{
    double *front = &c[COEFFICIENT_CLF], *rear = &c[COEFFICIENT_CLR], *pitch = &c[COEFFICIENT_CPM];
    fill_total(c);
    double total = c[COEFFICIENT_CL];
    if (isnan(*front))
        *front = isnan(*rear) ? total / 2.0 - *pitch : total - *rear;
    if (isnan(*rear))
        *rear = total - *front;
    if (isnan(*pitch))
        *pitch = (*rear - *front) / 2.0;
}

void coefficients_change(const double c[COEFFICIENTS], double drag, double downforce, double front,
                         double changed[COEFFICIENTS])
{
    for (int i = 0; i < COEFFICIENTS; i++)
        changed[i] = c[i];
    double rear = downforce - front;
    changed[COEFFICIENT_CD] += drag;
    changed[COEFFICIENT_CL] += downforce;
    changed[COEFFICIENT_CLF] += front;
    changed[COEFFICIENT_CLR] += rear;
    changed[COEFFICIENT_CPM] += (rear - front) / 2.0;
}

static double ratio(double numerator, double denominator)
{
    return denominator != 0.0 ? numerator / denominator : (double)NAN;
}

struct derived_quantities coefficients_derived(const double coefficient[COEFFICIENTS], double area)
{
    double drag = coefficient[COEFFICIENT_CD], downforce = coefficient[COEFFICIENT_CL];
    struct derived_quantities derived = {
        .balance = 100.0 * ratio(coefficient[COEFFICIENT_CLF], downforce),
        .lift_to_drag = ratio(downforce, drag),
        .drag_area = drag * area,
        .downforce_area = downforce * area,
    };
    return derived;
}
