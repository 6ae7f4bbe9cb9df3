/* nights.c - do the deltas of simulated nights hold what their intervals promise?
 *
 * Usage: nights [NIGHTS [SEED [full]]]   10000 nights of each kind, seed 1. Prints a table and ends with 1
 * when the model's figures for the sixty-run night are outside their limits: coverage of single 95 %
 * intervals 94 to 96 %, nights with a false gain, and with a false gain or loss, 5 % at most (two standard
 * errors of that many nights allowed to the latter), wrong "no change" 2.5 % at most on each side, median
 * half-width within 1.15 of the best linear unbiased estimate's. A straight and a bent drift drop out of the
 * model: that is tried on some nights and said, and the figures are those without drift, beside the best
 * estimate's width for theirs; with "full" they are simulated as well. */
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "tests/night_simulation.h"

static const struct night_design designs[] = {
    {"eight configurations, 60 runs", 8, 6, 18, 0.1, 1.4, NULL, 0, NULL, 1},
    {"nine configurations, 60 runs", 9, 5, 20, 0.1, 1.4, NULL, 0, NULL, 1},
    {"four configurations, 16 runs", 4, 3, 7, 0.1, 1.4, NULL, 0, NULL, 1},
};

/* Of a share of 5 % in that many nights. */
static double standard_error(size_t nights)
{
    return sqrt(0.05 * 0.95 / (double)nights);
}

static int is_within(const struct night_score *score)
{
    return score->failed == 0 && score->coverage >= 0.94 && score->coverage <= 0.96 &&
           score->false_gain <= 0.05 &&
           score->false_family <= 0.05 + 2 * standard_error(score->nights) &&
           score->no_change_low <= 0.025 && score->no_change_high <= 0.025 &&
           score->half_width <= 1.15 * score->best;
}

static void print_score(const char *method, enum simulated_drift drift,
                        const struct night_score *score)
{
    (void)printf("%-8s %-9s %8.2f %8.2f %8.2f %8.2f %8.2f %9.3f %7.1f %8.1f %6zu\n", method,
                 simulated_drift_name(drift), 100 * score->coverage, 100 * score->false_family,
                 100 * score->false_gain, 100 * score->no_change_low, 100 * score->no_change_high,
                 score->half_width / score->best, score->freedom, 100 * score->walkless,
                 score->failed);
    (void)fflush(stdout);
}

enum { TRIED = 100 };

/* Below it a drift that a polynomial takes has left nothing but rounding. */
static const double ROUNDING = 1e-5;

static struct night_score score_model(const struct night_design *design, enum simulated_drift drift,
                                      const struct night_score *steady, uint64_t seed, int is_full)
{
    struct night_score score = *steady;

    if (is_full || drift == DRIFT_STEADY || drift == DRIFT_WALK)
        return night_simulate(design, drift, METHOD_MODEL, steady->nights, seed);
    double difference = night_drift_difference(design, drift, TRIED, seed);
    (void)printf("         %s drops out: %d nights differ by %.1e at most\n",
                 simulated_drift_name(drift), TRIED, difference);
    score.failed += difference > ROUNDING;
    score.best = night_best_half_width(design, drift, seed);
    return score;
}

int main(int argc, char **argv)
{
    size_t nights = argc > 1 ? strtoul(argv[1], NULL, 10) : 10000;
    unsigned long seed = argc > 2 ? strtoul(argv[2], NULL, 10) : 1;
    int within = 1;

    (void)gsl_set_error_handler_off();
    for (size_t d = 0; d < sizeof designs / sizeof designs[0]; d++) {
        struct night_score steady = {.nights = nights};
        (void)printf(
            "\n%s, %zu nights a line; per cent but for width and df; 5 %% is known to %.2f\n",
            designs[d].name, nights, 100 * standard_error(nights));
        (void)printf("method   drift     coverage   family     gain  low edge high edge width/best "
                     "df  walkless failed\n");
        for (int drift = 0; drift < SIMULATED_DRIFTS; drift++) {
            struct night_score model =
                score_model(&designs[d], (enum simulated_drift)drift, &steady, seed, argc > 3);
            struct night_score local = night_simulate(&designs[d], (enum simulated_drift)drift,
                                                      METHOD_BRACKET, nights, seed);
            steady = drift == DRIFT_STEADY ? model : steady;
            print_score("model", (enum simulated_drift)drift, &model);
            print_score("bracket", (enum simulated_drift)drift, &local);
            within = within && (d > 1 || is_within(&model));
        }
    }
    (void)printf("\n%s\n", within ? "within the limits" : "OUTSIDE the limits");
    return within ? 0 : 1;
}
