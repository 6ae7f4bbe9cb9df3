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
    char reason[120]; /* why there is no verdict or no interval, or a caveat to the verdict */
};

/* Degrees of freedom below which an interval is flagged and its verdict has a caveat: 3, common practice,
 * no source. */
extern const double delta_few_degrees;

/* 1 when there is an interval, and it rests on fewer. */
int delta_has_few_degrees(const struct delta_reading *reading);

/* Multiplier of the main measure's intervals and the degrees of freedom it was made for. */
struct delta_multiplier {
    double multiplier, degrees_of_freedom;
};

/* Simultaneous over all configurations with a delta; with parts that mountings share, for the least of
 * their degrees of freedom. NAN when there is no noise or no delta. */
struct delta_multiplier delta_simultaneous(const struct evidence *evidence, size_t n_configurations,
                                           double confidence);

/* Reads the delta of one configuration. Its standard uncertainty holds the scatter of mountings and
 * the error of the slopes that carried its points and the baseline's to the target, which mountings
 * share (statistics/bracket_shared.h); degrees of freedom are those of the whole.
 * Given: metric and the main measure's multiplier, or NULL and NULL for an exploratory quantity, which
 * takes Student's multiplier.
 * Verdict words need two mountings of both the configuration and the baseline and an estimate of the
 * noise that is not 0; without them the reason says which was missing. A verdict from fewer than three
 * degrees of freedom keeps its word, and the reason is a caveat that says how many there were. */
void delta_read(const struct evidence *evidence, size_t configuration, double confidence,
                const struct delta_multiplier *simultaneous, const struct metric *metric,
                struct delta_reading *reading);

/* Reads the deltas of all configurations of a family: readings[1] to readings[n - 1]; [0], the
 * baseline's, is left alone. metric: of the main measure, whose intervals are simultaneous; NULL for any
 * other. */
void delta_read_all(const struct evidence *evidence, size_t n_configurations, double confidence,
                    const struct metric *metric, struct delta_reading *readings);

#endif
