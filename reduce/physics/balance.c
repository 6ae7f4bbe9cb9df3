/* balance.c - see balance.h. */
#include "reduce/physics/balance.h"

#include <math.h>

#include "reduce/physics/finite.h"

int balance_product(int j, int k)
{
    if (j < 0 || k < j || k > 5)
        return -1;
    return 6 * j - j * (j - 1) / 2 + (k - j);
}

static double one_load(const struct balance_calibration *calibration, int i, const double output[6])
{
    double load = 0.0;
    for (int j = 0; j < 6; j++)
        load += calibration->linear[i][j] * output[j];
    if (!calibration->second_order)
        return load;
    const double *product = calibration->product[i];
    for (int j = 0; j < 6; j++)
        for (int k = j; k < 6; k++)
            load += *product++ * output[j] * output[k];
    return load;
}

enum outcome balance_loads(const struct balance_calibration *calibration, const double output[6],
                           double load[6])
{
    double found[6];
    if (calibration->is_iterative)
        return balance_iterative_loads(&calibration->iterative, output, load);
    for (int i = 0; i < 6; i++)
        found[i] = one_load(calibration, i, output);
    if (!all_finite(output, 6) || !all_finite(found, 6))
        return OUTCOME_NOT_FINITE;
    for (int i = 0; i < 6; i++)
        load[i] = found[i];
    return OUTCOME_OK;
}

/* Linear terms as they are at dT from the reference. */
static enum outcome move_sensitivity(struct balance_calibration *calibration, double from_reference)
{
    for (int i = 0; i < BALANCE_LOADS; i++)
        for (int j = 0; j < BALANCE_LOADS; j++) {
            double moved = calibration->temperature.term[i][2 + j] * from_reference;
            calibration->linear[i][j] += calibration->is_iterative ? 0 : moved;
            calibration->iterative.coefficient[i][j] += calibration->is_iterative ? moved : 0;
        }
    return calibration->is_iterative ? balance_iterative_prepare(&calibration->iterative)
                                     : OUTCOME_OK;
}

enum outcome balance_loads_at(const struct balance_calibration *calibration, const double output[6],
                              double temperature, double zero_temperature, double load[6])
{
    const struct balance_temperature *terms = &calibration->temperature;
    double point = temperature - terms->reference, zero = zero_temperature - terms->reference;
    double shift[BALANCE_LOADS], shifted[BALANCE_LOADS];
    if (!terms->is_given)
        return balance_loads(calibration, output, load);
    if (!isfinite(point) || !isfinite(zero))
        return OUTCOME_NOT_FINITE;
    struct balance_calibration here = *calibration;
    enum outcome outcome = move_sensitivity(&here, point);
    for (int i = 0; i < BALANCE_LOADS; i++) {
        shift[i] =
            terms->term[i][0] * (point - zero) + terms->term[i][1] * (point * point - zero * zero);
        shifted[i] = output[i] - (here.is_iterative ? shift[i] : 0);
    }
    if (outcome == OUTCOME_OK)
        outcome = balance_loads(&here, shifted, load);
    for (int i = 0; i < BALANCE_LOADS && outcome == OUTCOME_OK && !here.is_iterative; i++)
        load[i] += shift[i];
    return outcome;
}

enum outcome balance_loads_between(const struct balance_calibration *calibration,
                                   const struct balance_reading *point,
                                   const struct balance_reading *zero, double load[6])
{
    double reference = calibration->temperature.reference;
    double output[6], at_point[6], at_zero[6];
    for (int i = 0; i < 6; i++)
        output[i] = point->output[i] - zero->output[i];
    if (!calibration->from_natural_zero)
        return balance_loads_at(calibration, output, point->temperature, zero->temperature, load);
    enum outcome outcome =
        balance_loads_at(calibration, point->output, point->temperature, reference, at_point);
    if (outcome == OUTCOME_OK)
        outcome =
            balance_loads_at(calibration, zero->output, zero->temperature, reference, at_zero);
    for (int i = 0; i < 6 && outcome == OUTCOME_OK; i++)
        load[i] = at_point[i] - at_zero[i];
    return outcome;
}

int balance_outside(const struct balance_calibration *calibration, const double load[6],
                    double *share)
{
    int worst = -1;
    *share = 1e-6;
    for (int i = 0; calibration->has_box && i < 6; i++) {
        double end = fmax(fabs(calibration->lowest[i]), fabs(calibration->highest[i]));
        double beyond = fmax(load[i] - calibration->highest[i], calibration->lowest[i] - load[i]);
        if (!(beyond > 0) || !(beyond > *share * end))
            continue;
        *share = end > 0 ? beyond / end : (double)INFINITY;
        worst = i;
    }
    return worst;
}
