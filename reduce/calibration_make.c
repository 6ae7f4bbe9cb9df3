/* calibration_make.c - see calibration_make.h. */
#include "reduce/calibration_make.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { PLACE = 160 };

/* "Fx 1500 N, Fy 0 N, ..." */
static void say_place(const double load[LOAD_COUNT], char text[PLACE])
{
    size_t used = 0;
    text[0] = '\0';
    for (size_t i = 0; i < LOAD_COUNT && used < PLACE; i++) {
        int n = snprintf(text + used, PLACE - used, "%s%s %.6g %s", i > 0 ? ", " : "",
                         calibration_load_name(i), load[i], calibration_load_unit(i));
        used += n > 0 ? (size_t)n : 0;
    }
}

static enum status check_contraction(const struct balance_iterative *iterative, const char *balance,
                                     struct fault *fault)
{
    struct balance_contraction found;
    char place[PLACE];
    enum outcome outcome = balance_iterative_contraction(iterative, &found);
    if (outcome == OUTCOME_OK)
        return OK;
    if (outcome == OUTCOME_NO_MEMORY)
        return FAIL(fault, NO_MEMORY, "no memory for the calibration of balance '%s'", balance);
    if (outcome != OUTCOME_NO_CONVERGENCE)
        return FAIL(fault, NO_RESULT, "the calibration of balance '%s' can't be used: %s", balance,
                    outcome_sentence(outcome));
    say_place(found.load, place);
    return FAIL(fault, NO_RESULT,
                "the calibration of balance '%s' does not contract over its load box: spectral "
                "radius %.4g at %s; limit: below 1; its terms of higher order are too large, look "
                "for a wrong unit, a wrong rated load or a wrong box",
                balance, found.radius, place);
}

static enum status make_iterative(const struct calibration *calibration, const char *balance,
                                  struct balance_calibration *made, struct fault *fault)
{
    struct balance_iterative *iterative = &made->iterative;
    made->is_iterative = 1;
    memcpy(iterative->coefficient, calibration->output, sizeof iterative->coefficient);
    memcpy(iterative->rated, calibration->rated, sizeof iterative->rated);
    memcpy(iterative->lowest, calibration->lowest, sizeof iterative->lowest);
    memcpy(iterative->highest, calibration->highest, sizeof iterative->highest);
    enum outcome outcome = balance_iterative_prepare(iterative);
    if (outcome != OUTCOME_OK)
        return FAIL(fault, NO_RESULT,
                    "the calibration of balance '%s' can't be turned into loads: %s; limit: linear "
                    "terms that tell six loads apart, rated loads and a load box; correct its file",
                    balance, outcome_sentence(outcome));
    return check_contraction(iterative, balance, fault);
}

enum status calibration_make(const struct calibration *calibration, const char *balance,
                             struct balance_calibration *made, struct fault *fault)
{
    memset(made, 0, sizeof *made);
    made->has_box = 1;
    for (int i = 0; i < LOAD_COUNT; i++) {
        made->lowest[i] = calibration->lowest[i];
        made->highest[i] = calibration->highest[i];
        made->has_box = made->has_box && isfinite(made->lowest[i]) && isfinite(made->highest[i]);
    }
    made->from_natural_zero = calibration->from_natural_zero;
    made->temperature.is_given = calibration->has_temperature;
    made->temperature.reference = calibration->temperature_reference;
    made->temperature.lowest = calibration->temperature_lowest;
    made->temperature.highest = calibration->temperature_highest;
    memcpy(made->temperature.term, calibration->temperature, sizeof made->temperature.term);
    if (calibration->form == CALIBRATION_ITERATIVE)
        return make_iterative(calibration, balance, made, fault);
    memcpy(made->linear, calibration->linear, sizeof made->linear);
    memcpy(made->product, calibration->product, sizeof made->product);
    made->second_order = calibration->second_order;
    return OK;
}
