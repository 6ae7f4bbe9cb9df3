/* delta_reading.h - one delta with its interval and, for the main measure, its verdict. */
#ifndef LAPWING_DELTA_READING_H
#define LAPWING_DELTA_READING_H

#include "reduce/measure_evidence.h"
#include "schema/campaign.h"

/* A row of delta_result; NAN where there is no number, NULL where there is no verdict. */
struct delta_reading {
    double delta, standard_uncertainty, degrees_of_freedom;
    double half_width, lower, upper, multiplier;
    size_t mountings, baseline_mountings;
    const char *verdict;
    int real_but_small;
    char reason[120]; /* why there is no verdict or no interval; "" otherwise */
};

/* Multiplier of the main measure's intervals: simultaneous over all configurations with a delta.
 * NAN when there is no noise or no delta. */
double delta_simultaneous_multiplier(const struct evidence *evidence, size_t n_configurations,
                                     double confidence);

/* Reads the delta of one configuration. Given: the multiplier of the main measure, or NAN for an
 * exploratory one, which then takes Student's; metric NULL for an exploratory one.
 * Verdict words need two mountings of both the configuration and the baseline and an estimate of the
 * noise; without them the reason says which was missing. */
void delta_read(const struct evidence *evidence, size_t configuration, double confidence,
                double simultaneous, const struct metric *metric, struct delta_reading *reading);

#endif
