/* calibrate_tare.c - solves again until the tares of the series stand still; see calibrate.h. */
#include <math.h>
#include <string.h>

#include "reduce/calibrate_parts.h"

enum { STEPS = 100 };

static const double stop = 1e-6; /* of the rated load */

static int is_without_load(const struct fit *fit, const struct loading *loading)
{
    for (size_t i = 0; i < LOAD_COUNT; i++)
        if (fit->loadings->is_present[i] && fabs(loading->load[i]) > stop * fit->request->rated[i])
            return 0;
    return 1;
}

/* Mean of what the fit reads where the series is without load; its largest change, share of rated. */
static enum status find_tare(struct fit *fit, size_t series, double *change, struct fault *fault)
{
    double sum[LOAD_COUNT] = {0}, found[LOAD_COUNT];
    size_t n = 0;
    for (size_t i = 0; i < fit->loadings->n; i++) {
        const struct loading *loading = &fit->loadings->rows[i];
        if (loading->series != series || !is_without_load(fit, loading))
            continue;
        enum outcome outcome = calibrate_predict(fit, loading, found);
        if (outcome != OUTCOME_OK)
            return FAIL(fault, NO_RESULT, "the tare of series '%.60s' can't be found: %s",
                        fit->loadings->series[series], outcome_sentence(outcome));
        for (size_t k = 0; k < LOAD_COUNT; k++)
            sum[k] += found[k];
        n++;
    }
    if (n == 0)
        return FAIL(fault, BAD_INPUT,
                    "series '%.60s' has no reading without load, so its tare can't be told; limit: "
                    "one row with all loads 0; add it",
                    fit->loadings->series[series]);
    for (size_t k = 0; k < LOAD_COUNT; k++) {
        double *tare = &fit->card->tare[series][k], moved = fabs(sum[k] / (double)n - *tare);
        if (!fit->loadings->is_present[k])
            continue;
        *change = fmax(*change, moved / fit->request->rated[k]);
        *tare = sum[k] / (double)n;
    }
    return OK;
}

enum status calibrate_settle(struct fit *fit, struct fault *fault)
{
    double change = 0;
    fit->card->tare_steps = 0;
    for (int step = 0; step < STEPS; step++) {
        enum status status = calibrate_solve(fit, fault);
        if (status != OK || fit->card->tare == NULL)
            return status;
        change = 0;
        for (size_t i = 0; i < fit->loadings->n_series && status == OK; i++)
            status = find_tare(fit, i, &change, fault);
        if (status != OK)
            return status;
        fit->card->tare_steps++;
        if (change < stop)
            return OK;
    }
    return FAIL(fault, NO_RESULT,
                "the tares do not settle: after %d steps one still moves by %.3g of its rated "
                "load; limit: 1e-6; check the readings without load, and that outputs are from the "
                "natural zero",
                (int)STEPS, change);
}
