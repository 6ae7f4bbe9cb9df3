/* channel_history.h - one channel in one run against the same channel in other runs.
 *
 * Each run of a channel is folded into a signature; the rules hold one signature against those of
 * other runs of the same kind in the same entry. Medians and median absolute deviations are used
 * throughout, so that a bad run among the others does not hide the next one. Every finding is a
 * question but one: a channel that is constant here and moves in others is no measurement. Factors and
 * multiples are common practice, no source.                                                        */
#ifndef LAPWING_CHANNEL_HISTORY_H
#define LAPWING_CHANNEL_HISTORY_H

#include <stddef.h>

#include "reduce/statistics/unit_slips.h"
#include "schema/point_statistics.h"

enum { HISTORY_RUNS_MIN = 4 }; /* others, before anything is said */

/* One channel over the points of one run; NAN where nothing can be said. */
struct channel_signature {
    double points;          /* points with samples */
    double samples;         /* median of a point */
    double level;           /* median of the points' means */
    double range;           /* largest of the points' means less the smallest; NAN of one point */
    double deviation;       /* median sd, of points that are not constant */
    double local_deviation; /* median robust sd about the local median, of such points */
    double sluggishness;    /* median n / n_effective */
    double step;            /* median of the smallest steps between samples */
    double independent;     /* effective samples behind `deviation`, all points together */
    double constant;        /* share of points whose samples are all equal */
    double repeat_share;    /* record_repeat_share() of all points */
};

/* points: n of them, in any order. Of more than 256 points 256 are taken, evenly spaced. */
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

/* What a unit was told by: where the level is about zero, by range and noise; of one point, by its
 * smallest step and noise. */
enum unit_evidence { UNIT_BY_LEVEL, UNIT_BY_RANGE, UNIT_BY_NOISE };

struct history_judgement {
    enum history_finding finding;
    double value; /* seen: sd, n / n_effective (NAN: not estimable), level, or told_by */
    double usual; /* median of the others, same unit */
    double limit; /* the bound on value that was passed, same unit */
    enum unit_evidence told_by; /* unit */
    struct unit_slip slip;      /* unit: what would explain it */
};

/* Noise of a run against n others, which do not hold it; at least HISTORY_RUNS_MIN of them must have
 * what is judged.
 *   CONSTANT  every point is constant, while 3 of 4 others have no such point, and chance does not
 *             give a run so long from the others' share of equal neighbours (record_stuck())
 *   SLOW      n / n_effective up by 1.5 or more, or not estimable any more though it is in 3 of 4
 *             others, with sd down by 1.15 or more; each beyond 5 standard deviations
 *   NOISY, QUIET  |ln(sd / median)| beyond ln 2 and beyond 6 standard deviations
 * A standard deviation is the robust one of the others, or the sampling scatter of a ln sd, about
 * sqrt(1 / (2 independent samples)), whichever is larger. */
struct history_judgement channel_noise_judge(const struct channel_signature *run,
                                             const struct channel_signature *others, size_t n);

/* A channel that never stands still while it works, a load or a pressure of the wind, against n others.
 * CONSTANT when every point of the run is constant and
 *   one other run at least has no constant point, and chance does not give a run so long from the
 *   others' share of equal neighbours: `usual` is their median sd; or
 *   no other run tells, having no point that moves, or there is none: `usual` is NAN.
 * Else USUAL. One living run is enough here, because a channel that died in mid-season is constant in
 * most of the others as well. */
struct history_judgement channel_silence_judge(const struct channel_signature *run,
                                               const struct channel_signature *others, size_t n);

/* Level of a run against n others. Far is: beyond 10 robust standard deviations of the others, beyond
 * their lowest and highest by their whole width, and by 5 % of their median.
 *   UNIT   far, and a slip of `unit` (unit_slips.h: "m", "Pa", "K" ...) brings it back to the others,
 *          within 4 standard deviations or 15 % (2 % of a scale with an offset), with a noise that
 *          fits the factor within 1.5 or 4 standard deviations. Where the others' level is about
 *          zero, the range tells in its place, and where there is one point only, the smallest step
 *   LEVEL  far and by more than 30 % of the others' median, and no slip explains it
 * The caller looks at both only where most other channels of the run are USUAL: else it is the run
 * that differs, its speed for one. */
struct history_judgement channel_level_judge(const struct channel_signature *run,
                                             const struct channel_signature *others, size_t n,
                                             const char *unit);

#endif
