/* tunnel_uncertainty.c - see tunnel_uncertainty.h. */
#include "reduce/physics/tunnel_uncertainty.h"

#include <math.h>

#include "reduce/physics/finite.h"

enum { BALANCE_ROW = COEFFICIENTS, LIFT_TO_DRAG_ROW, MEASURANDS };

#define OFFSET(member) offsetof(struct tunnel_inputs, member)

static const size_t offsets[VARIED_COUNT] = {
    [VARIED_OUTPUT_1] = OFFSET(output[0]),
    [VARIED_OUTPUT_2] = OFFSET(output[1]),
    [VARIED_OUTPUT_3] = OFFSET(output[2]),
    [VARIED_OUTPUT_4] = OFFSET(output[3]),
    [VARIED_OUTPUT_5] = OFFSET(output[4]),
    [VARIED_OUTPUT_6] = OFFSET(output[5]),
    [VARIED_COEFFICIENT_1] = OFFSET(facility_coefficient[0]),
    [VARIED_COEFFICIENT_2] = OFFSET(facility_coefficient[1]),
    [VARIED_COEFFICIENT_3] = OFFSET(facility_coefficient[2]),
    [VARIED_COEFFICIENT_4] = OFFSET(facility_coefficient[3]),
    [VARIED_COEFFICIENT_5] = OFFSET(facility_coefficient[4]),
    [VARIED_COEFFICIENT_6] = OFFSET(facility_coefficient[5]),
    [VARIED_COEFFICIENT_7] = OFFSET(facility_coefficient[6]),
    [VARIED_COEFFICIENT_8] = OFFSET(facility_coefficient[7]),
    [VARIED_TOTAL_PRESSURE] = OFFSET(total_pressure),
    [VARIED_STATIC_PRESSURE] = OFFSET(static_pressure),
    [VARIED_TOTAL_MINUS_STATIC] = OFFSET(total_minus_static),
    [VARIED_DROP] = OFFSET(drop),
    [VARIED_DYNAMIC_PRESSURE] = OFFSET(dynamic_pressure),
    [VARIED_SPEED] = OFFSET(speed),
    [VARIED_TOTAL_TEMPERATURE] = OFFSET(total_temperature),
    [VARIED_STATIC_TEMPERATURE] = OFFSET(static_temperature),
    [VARIED_HUMIDITY] = OFFSET(relative_humidity),
    [VARIED_CELL_1] = OFFSET(cell[0]),
    [VARIED_CELL_2] = OFFSET(cell[1]),
    [VARIED_CELL_3] = OFFSET(cell[2]),
    [VARIED_CELL_4] = OFFSET(cell[3]),
    [VARIED_CELL_5] = OFFSET(cell[4]),
    [VARIED_CELL_6] = OFFSET(cell[5]),
    [VARIED_CELL_7] = OFFSET(cell[6]),
    [VARIED_CELL_8] = OFFSET(cell[7]),
    [VARIED_CELL_9] = OFFSET(cell[8]),
    [VARIED_CELL_10] = OFFSET(cell[9]),
};

static double *input_of(struct tunnel_inputs *inputs, enum tunnel_varied varied)
{
    return (double *)(void *)((char *)inputs + offsets[varied]);
}

static enum outcome measure(const struct tunnel_recipe *recipe, const struct tunnel_inputs *inputs,
                            double measurand[MEASURANDS])
{
    struct tunnel_result result = {0};
    enum outcome outcome = tunnel_point_reduce(recipe, inputs, &result);
    for (int i = 0; i < COEFFICIENTS; i++)
        measurand[i] = result.corrected[i];
    measurand[BALANCE_ROW] = result.derived.balance;
    measurand[LIFT_TO_DRAG_ROW] = result.derived.lift_to_drag;
    return outcome;
}

static enum outcome measure_moved(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs, enum tunnel_varied varied,
                                  double by, double measurand[MEASURANDS])
{
    struct tunnel_inputs moved = *inputs;
    *input_of(&moved, varied) += by;
    return measure(recipe, &moved, measurand);
}

/* Derivatives with respect to one input; both sides where both have a number, else one. */
static enum outcome differentiate(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs, enum tunnel_varied varied,
                                  double step, double slope[MEASURANDS])
{
    double above[MEASURANDS], below[MEASURANDS], width = 2.0 * step;
    enum outcome up = measure_moved(recipe, inputs, varied, step, above);
    enum outcome down = measure_moved(recipe, inputs, varied, -step, below);
    if (up != OUTCOME_OK && down != OUTCOME_OK)
        return up;
    if (up != OUTCOME_OK || down != OUTCOME_OK) {
        enum outcome outcome = measure(recipe, inputs, up != OUTCOME_OK ? above : below);
        if (outcome != OUTCOME_OK)
            return outcome;
        width = step;
    }
    for (int i = 0; i < MEASURANDS; i++)
        slope[i] = (above[i] - below[i]) / width;
    return OUTCOME_OK;
}

static enum outcome check_covariance(const double *covariance, size_t n)
{
    if (n > VARIED_COUNT)
        return OUTCOME_TOO_FEW;
    if (!all_finite(covariance, n * n))
        return OUTCOME_NOT_FINITE;
    for (size_t i = 0; i < n; i++)
        if (covariance[i * n + i] < 0.0)
            return OUTCOME_SINGULAR;
    return OUTCOME_OK;
}

/* sqrt(J C J^T) of one measurand; a sum that is negative by more than rounding gives -1. */
static double propagate(double slope[VARIED_COUNT][MEASURANDS], const double *covariance, size_t n,
                        int measurand)
{
    double sum = 0.0, size = 0.0;
    for (size_t i = 0; i < n; i++) {
        for (size_t j = 0; j < n; j++) {
            double term = slope[i][measurand] * covariance[i * n + j] * slope[j][measurand];
            sum += term;
            size += fabs(term);
        }
    }
    if (sum < -1e-12 * size)
        return -1.0;
    return sum > 0.0 ? sqrt(sum) : sum * 0.0; /* 0, or NAN where there is no derivative */
}

static enum outcome differentiate_all(const struct tunnel_recipe *recipe,
                                      const struct tunnel_inputs *inputs,
                                      const enum tunnel_varied *varied, size_t n,
                                      const double *covariance,
                                      double slope[VARIED_COUNT][MEASURANDS])
{
    for (size_t i = 0; i < n; i++) {
        double step = sqrt(covariance[i * n + i]);
        if (step == 0.0)
            continue; /* exact: its slope stays 0 */
        enum outcome outcome = differentiate(recipe, inputs, varied[i], step, slope[i]);
        if (outcome != OUTCOME_OK)
            return outcome;
    }
    return OUTCOME_OK;
}

enum outcome tunnel_uncertainty(const struct tunnel_recipe *recipe,
                                const struct tunnel_inputs *inputs,
                                const enum tunnel_varied *varied, size_t n,
                                const double *covariance, struct tunnel_uncertainty *uncertainty)
{
    double slope[VARIED_COUNT][MEASURANDS] = {{0.0}};
    double mean[MEASURANDS], spread[MEASURANDS];
    enum outcome outcome = check_covariance(covariance, n);
    if (outcome == OUTCOME_OK)
        outcome = measure(recipe, inputs, mean);
    if (outcome == OUTCOME_OK)
        outcome = differentiate_all(recipe, inputs, varied, n, covariance, slope);
    if (outcome != OUTCOME_OK)
        return outcome;

    for (int i = 0; i < MEASURANDS; i++) {
        spread[i] = isnan(mean[i]) ? (double)NAN : propagate(slope, covariance, n, i);
        if (spread[i] < 0.0)
            return OUTCOME_SINGULAR;
    }
    for (int i = 0; i < COEFFICIENTS; i++)
        uncertainty->coefficient[i] = spread[i];
    uncertainty->balance = spread[BALANCE_ROW];
    uncertainty->lift_to_drag = spread[LIFT_TO_DRAG_ROW];
    return OUTCOME_OK;
}
