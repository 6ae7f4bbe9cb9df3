/* delta_reading.h - one delta with its interval and, for the main measure, its verdict. */
#ifndef LAPWING_DELTA_READING_H
#define LAPWING_DELTA_READING_H

#include "reduce/measure_evidence.h"
#include "reduce/statistics/verdict.h"
#include "schema/campaign.h"

/* A row of delta_result; NAN where there is no number, NULL where there is no verdict. */
struct delta_reading {
    double delta, standard_uncertainty, degrees_of_freedom;
    double half_width, lower, upper, multiplier;
    size_t mountings, baseline_mountings;
    const char *verdict;
    enum verdict word; /* of verdict; VERDICT_CANNOT_TELL without one */
    int real_but_small;
    const char *method,
        *noise_source;            /* "whole night", "local bracket"; "tonight", "season"; or "" */
    struct delta_estimate beside; /* the other method's */
    int disagrees;
    size_t
        pairs_needed; /* of configuration and baseline, where it can't be told yet; 0: not meant */
    double shrunk, shrunk_uncertainty; /* delta_shrink.h */
    char reason[240]; /* why there is no verdict or no interval, or caveats to the verdict */
};

/* Degrees of freedom below which an interval is flagged and its verdict has a caveat: 3, common practice,
 * no source. */
extern const double delta_few_degrees;

/* 1 when there is an interval, and it rests on fewer. */
int delta_has_few_degrees(const struct delta_reading *reading);

/* "1.8 degrees of freedom", rounded to a tenth; "just under 3 ..." where that would hide that they are few. */
struct delta_freedom_text {
    char text[64];
};
struct delta_freedom_text delta_freedom_text(const struct delta_reading *reading);

/* Multiplier of the main measure's intervals and the degrees of freedom it was made for. */
struct delta_multiplier {
    double multiplier, degrees_of_freedom;
};

/* Simultaneous over all configurations with a headline estimate, from its correlations and for the least of
 * its degrees of freedom. NAN when there is none. With a significance, Student's at that for the same degrees
 * of freedom: quick, and the same but for what leaving something out changes in the correlations. */
struct delta_multiplier delta_simultaneous(const struct evidence *evidence, size_t n_configurations,
                                           double confidence, double significance);

/* Significance of one delta that a drawn interval has. NAN without one. */
double delta_significance(const struct delta_reading *reading);

/* How an evidence is read. */
struct delta_rule {
    double confidence;
    const struct metric
        *metric;    /* of the main measure, whose intervals are simultaneous; NULL for any other */
    size_t entries; /* earlier ones that the season's noise rests on */
    double significance; /* of one delta of the main measure; 0: found from all of them together */
};

/* Reads the headline delta of one configuration. Its standard uncertainty holds the scatter of mountings,
 * what the drift's bend adds to a bracket, and the error of the slopes that carried its points and the
 * baseline's to the target, which mountings share (statistics/shared_error.h); degrees of freedom are those
 * of the whole. simultaneous: the main measure's multiplier, NULL for any other, which takes Student's.
 *
 * Verdict words need an estimate of the noise that is not 0 and a baseline that was returned to. From
 * tonight's noise they also need two mountings of both the configuration and the baseline, because nothing
 * else has the configuration's refit in it. The season's noise has: it is the variance of one mounting's
 * value, refit and all, and stands in the interval in full for a configuration mounted once. So a single
 * mounting is judged by it, and the reason says that it was borrowed and from how much. Without what is
 * needed the reason says which was missing. A verdict from fewer than three degrees of freedom keeps its word,
 * with a caveat that says how many there were; one that can't tell says how many more pairs of mountings
 * would find what is worthwhile, at the interval's own significance and a power of 80 %
 * (statistics/detectable.h). */
void delta_read(const struct evidence *evidence, size_t configuration,
                const struct delta_rule *rule, const struct delta_multiplier *simultaneous,
                struct delta_reading *reading);

/* Reads the deltas of all configurations of a family: readings[1] to readings[n - 1]; [0], the
 * baseline's, is left alone. */
void delta_read_all(const struct evidence *evidence, size_t n_configurations,
                    const struct delta_rule *rule, struct delta_reading *readings);

#endif
