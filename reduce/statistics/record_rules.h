/* record_rules.h - is what one channel recorded at one point a measurement at all?
 *
 * The rules see the statistics that ingest kept, never the samples. A rule says what it saw and what
 * it held that against; it changes nothing. Statistics that cannot be estimated (NAN) raise nothing.
 * Limits are common practice, no source, unless said otherwise.                                    */
#ifndef LAPWING_RECORD_RULES_H
#define LAPWING_RECORD_RULES_H

#include <stddef.h>

#include "schema/point_statistics.h"

/* Limits of the rules; printed in every flag. */
enum { RECORD_SHARING_MIN = 3 };             /* points that end at one value */
enum { RECORD_OUTSIDE_MIN = 100 };           /* samples outside a run before it can be judged */
extern const double record_chance_limit;     /* 1e-6: of a run of identical values by chance */
extern const double record_repeat_limit;     /* 0.5: a channel that repeats more is not judged */
extern const double record_clipped_limit;    /* 0.005 of the samples */
extern const double record_spiked_limit;     /* 0.001 of the samples */
extern const double record_missing_limit;    /* 0.01 of the samples */
extern const double record_stuck_fail_share; /* 0.02: a stuck run that spoils the point's mean */

/* What a rule says. */
struct record_judgement {
    int raised;   /* 1: worth a flag */
    int spoilt;   /* 1: the mean of this channel at this point is not to be compared */
    double value; /* what was seen; see each rule */
    double limit; /* what it was held against, in the same unit */
};

/* Counts over the points of a channel, made once and asked at every point. */
struct record_shares {
    double repeated;   /* equal neighbours outside each point's longest run */
    double neighbours; /* all of them */
    double constant;   /* points of two samples and more that are all equal */
    double judged;     /* points of two samples and more */
};
struct record_shares record_shares_of(const struct channel_statistics *points, size_t n);

/* Share of neighbours that are equal, outside each point's longest run, over the counted points but for
 * `except`, one of them (NULL: none is left out).
 *
 *   p = (sum repeated + 1) / (sum (n - stuck) + 2)
 *
 * the rule of succession (Laplace), so that p is never 0. NAN where no neighbours are left. */
double record_repeat_share(const struct record_shares *all,
                           const struct channel_statistics *except);

/* Share of the other points, of those with two samples and more, whose samples are all equal; NAN where
 * there are none. A position that is held by a brake is constant at some points by nature. */
double record_constant_share(const struct record_shares *all,
                             const struct channel_statistics *except);

/* Stuck: a run of L identical values that chance does not give.
 *
 *   n p^(L-1) < 1e-6
 *
 * with p the share of equal neighbours of the channel elsewhere, `share_elsewhere`, at its other points
 * of the run or, of a run of one point, in other runs (record_repeat_share(), NAN for unknown): that is
 * what finds a channel that is constant through the point but alive elsewhere. Where more neighbours are
 * equal here, outside the run, than elsewhere (beyond three standard deviations of their count and one),
 * or where elsewhere is not known, p is the share here by the rule of succession; that needs samples
 * outside the run, 100 or half the point's. Judged where p <= 0.5: coarse and slow channels repeat by
 * nature.
 * value: samples in the run; limit: the longest run chance allows. spoilt: the run is 2 % of the
 * point's samples or more. Facility averages (n of one row) are never raised: their stuck is 1. */
struct record_judgement record_stuck(const struct channel_statistics *point,
                                     double share_elsewhere);

/* Clipped: the mean of a signal that is cut at an end is pulled to the middle, so it is spoilt.
 * value: share of samples at an end; limit 0.5 %. */
struct record_judgement record_clipped(const struct channel_statistics *point);

/* Ends that the points of a channel share: few samples of each are cut, too few to pile up there, but
 * all at the same value. */
struct record_ends {
    double low, high;       /* the shared value; NAN where none is */
    double at_low, at_high; /* points there */
};

/* With the lowest and highest value of the channel at n points, and its smallest step q: an end is shared
 * when k1 >= 3 points reach exactly the outermost value of all, and, with S points that end within L q
 * inside of it, for some L of 1, 2, 4 ... up to half an sd chance does not give k1:
 *
 *   P(X >= k1) <= 1e-4,  X binomial of k1 + S with 1/(L + 1)
 *
 * Points count whose sd is 3 q or more, and whose end is 1.5 sd or more from their mean: a tone, whose
 * crest is at 1.41, ends at the same value by nature. The binomial is that of ingest/pile_up.h. */
struct record_ends record_shared_ends(const struct channel_statistics *points, size_t n);

/* Clipped by a shared end: value: points that reach it; limit: 3. Never spoilt: it is few samples. */
struct record_judgement record_clipped_alike(const struct channel_statistics *point,
                                             const struct record_ends *ends);

/* Spiked: value: share of samples that stand out from their neighbours; limit 0.1 %. The mean with and
 * without them is in the statistics; never spoilt. */
struct record_judgement record_spiked(const struct channel_statistics *point);

/* Missing: value: share of samples declared missing; limit 1 %. Never spoilt. */
struct record_judgement record_missing(const struct channel_statistics *point);

/* Noise of one point against the run's other points of the channel, at least four of them: the ratio
 * of the point's sd to their median is beyond a factor of 3 and beyond what their own scatter and the
 * effective samples of a point allow (7 robust standard deviations of log sd).
 * value: sd of the point over the others' median; limit: the ratio it was held
 * against, below 1 on the quiet side. */
struct record_judgement record_noise(const struct channel_statistics *points, size_t n,
                                     size_t point);

/* Trend within a point of a quantity made from the first half of each channel and from the second.
 *
 *   |delta| > limit  and  |delta| > 3.5 * 2 u
 *
 * delta: second half less first. u: standard uncertainty of the whole point's mean; a half has
 * sqrt(2) u, the difference of two 2 u. limit: what matters, same unit. NAN raises nothing. */
struct record_judgement record_trend(double delta, double u, double limit);

/* Drift of the zero: flagged when it may be beyond the limit, |effect| + 2.33 u > limit, so that a drift
 * of just the limit is found in 99 of 100 cases. u: standard uncertainty of the effect, from the
 * standard errors of both zeros; NAN counts as 0. value: |effect| + 2.33 u. False alarms stay below
 * 0.5 % for a drift of 0.2 of the limit as long as u is below 0.163 of the limit: 0.8 / (2.33 + 2.58),
 * quantiles of the normal distribution. */
struct record_judgement record_drift(double effect, double u, double limit);

#endif
