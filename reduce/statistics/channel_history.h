/* channel_history.h - one channel in one run against the same channel in other runs.
 *
 * Each run of a channel is folded into a signature; the rules hold one signature against those of
 * other runs of the same kind in the same entry. Medians and median absolute deviations are used
 * throughout, so that a bad run among the others does not hide the next one. Every finding is a
 * question, never a failure. Factors and quantiles are common practice, no source, unless said.    */
#ifndef LAPWING_CHANNEL_HISTORY_H
#define LAPWING_CHANNEL_HISTORY_H

#include <stddef.h>

#include "schema/point_statistics.h"

enum { HISTORY_RUNS_MIN = 4 }; /* others, before anything is said */

/* One channel over the points of one run; NAN where nothing can be said. */
struct channel_signature {
    double points;           /* points with samples */
    double level;            /* median of the points' means, SI */
    double range;            /* largest of the points' means less the smallest */
    double deviation;        /* median sd, of points that are not constant */
    double local_deviation;  /* median robust sd about the local median, of such points */
    double sluggishness;     /* median n / n_effective */
    double step;             /* median of the smallest steps between samples */
    double samples;          /* effective samples behind `deviation`, all points together */
    double constant;         /* share of points whose samples are all equal */
    double minimum, maximum; /* of the points' means */
};

/* points: n of them, in any order. */
struct channel_signature channel_signature_make(const struct channel_statistics *points, size_t n);

enum history_finding {
    HISTORY_USUAL,
    HISTORY_NOISY,    /* sd far above the others' */
    HISTORY_QUIET,    /* sd far below */
    HISTORY_CONSTANT, /* constant here, alive in the others */
    HISTORY_SLOW,     /* less and slower noise than in the others: a lag before the logger */
    HISTORY_UNIT,     /* a trade factor away from the others */
    HISTORY_LEVEL,    /* far from the others' level, with no other explanation */
    HISTORY_FINDINGS
};

struct history_judgement {
    enum history_finding finding;
    double value; /* seen: sd, n / n_effective, or level; range where `by_range` */
    double usual; /* median of the others, same unit */
    double limit; /* the bound on value that was passed, same unit */
    int by_range; /* unit: told by range and noise, because the level is about zero */
    const struct unit_slip *slip; /* unit: what would explain it; NULL otherwise */
};

/* Noise: |ln(sd / median)| beyond ln 2 and beyond 6 robust standard deviations of the others' ln sd,
 * their scatter taken as no smaller than the sampling scatter of a standard deviation,
 * sqrt(1 / (2 samples)) of both sides. Gives NOISY, QUIET, CONSTANT, SLOW or USUAL. The other runs,
 * n of them, at least HISTORY_RUNS_MIN with the thing judged, must not hold this one.
 *   CONSTANT  every point constant here, while in at least 3 of 4 others no point is
 *   SLOW      n / n_effective up by 1.5 (or not estimable any more while it is in the others) with
 *             sd down by 1.15, each beyond 5 robust standard deviations; looked at before QUIET */
struct history_judgement channel_noise_judge(const struct channel_signature *run,
                                             const struct channel_signature *others, size_t n);

/* Level: UNIT when one of the slips of `unit` explains it (unit_slips.h), LEVEL when the level is
 * farther than 10 robust standard deviations from the others' median and by more than their whole
 * width, USUAL else. unit: what the values are kept in ("m", "Pa", "K" ...). The caller looks at
 * LEVEL and UNIT only where most other channels of the run are USUAL: else the run differs. */
struct history_judgement channel_level_judge(const struct channel_signature *run,
                                             const struct channel_signature *others, size_t n,
                                             const char *unit);

/* Two channels of one run, each against its own others and against the other's. Three kinds of
 * evidence: level, range, noise; Student's t with the others' robust scale for each.
 * *gain: log-likelihood of "swapped" less that of "as declared", natural logarithm; NAN where
 * either channel has too few others. Gives 1 when the gain is at least 20, each channel alone gains
 * at least 5, and each looks like the other's history by itself. Only channels kept in the same unit
 * can be swapped; the caller sees to that. */
int channels_swapped(const struct channel_signature *a, const struct channel_signature *others_of_a,
                     size_t n_a, const struct channel_signature *b,
                     const struct channel_signature *others_of_b, size_t n_b, double *gain);

#endif
