/* channel_profile.h - do the columns of two channels stand in each other's place?
 *
 * Where the runs of an entry visit the same points, a channel's means over those points are a profile
 * that the other runs know point by point. Two columns are exchanged when each column's numbers follow
 * the other's profile far better than their own. Profiles tell apart what levels cannot: two taps that
 * lie mirrored about the car's plane of symmetry read the same but for yaw.
 *
 * Model of a run j at point k, of the runs that hold nothing exchanged:
 *
 *   x_jk = u_k + o_j + e_jk
 *
 * u: median of the runs at the point; o: median of the run's distances from u, what differs from run to
 * run as a whole; e: the rest, whose scale is the upper quartile of the runs' own, because some drift
 * within a run and others do not. Beside them n_j, the logarithm of the run's noise. How surprising a run
 * is, is counted in the logarithm of Student's density with at most 8 degrees of freedom, so that one
 * bad point decides nothing:
 *
 *   S = sum of (f + 1)/2 ln(1 + d^2/f)   over d = o, each e, and n, by their robust scales
 *
 * The construction is our own, no source.                                                          */
#ifndef LAPWING_CHANNEL_PROFILE_H
#define LAPWING_CHANNEL_PROFILE_H

#include <stddef.h>

enum { PROFILE_POINTS_MAX = 128, PROFILE_RUNS_MIN = 4 };

/* A run of a channel. */
struct profile_run {
    const double *means; /* of its points; NAN where it lacks one */
    double deviation;    /* its usual sd within a point; not positive: not known */
};

/* What other runs say of a channel. */
struct channel_profile {
    size_t n; /* points */
    double usual
        [PROFILE_POINTS_MAX]; /* u; NAN where fewer than PROFILE_RUNS_MIN runs have the point */
    double noise;             /* median n; NAN where not known */
    double run_scale, point_scale, noise_scale; /* of o, e and n; 0: not known */
    double freedom;
};

/* runs: n_runs others of n_points each, at most PROFILE_POINTS_MAX. least: a distance below which
 * nothing is told apart, such as the smallest step of the channel. work: room for the larger of n_runs
 * and n_points doubles. */
struct channel_profile channel_profile_make(const struct profile_run *runs, size_t n_runs,
                                            size_t n_points, double least, double *work);

/* S of a run under a profile, over the points both have; NAN without a common point or with a profile
 * that is not known. Counting ends where S is beyond `most` (HUGE_VAL: nowhere). */
double channel_profile_surprise(const struct channel_profile *profile,
                                const struct profile_run *run, double most);

/* A column of a run that may hold another channel's numbers. */
struct profile_column {
    const struct channel_profile *own;
    double surprise;              /* S of the run as it was read, under its own profile */
    struct profile_run exchanged; /* its numbers, read with the other column's unit and sign */
};

/* 1 when exchanging explains both: S falls by 20 in all and by 5 for each column. NAN explains
 * nothing. *gain (may be NULL) receives the fall of both where it is 1. */
int columns_exchanged(const struct profile_column *a, const struct profile_column *b, double *gain);

#endif
