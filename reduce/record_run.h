/* record_run.h - one run whose record is judged, and how a finding about it is written.
 *
 * A finding is one flag of a run, a channel and a rule, however many points it concerns: their labels
 * are listed in its detail.                                                                        */
#ifndef LAPWING_RECORD_RUN_H
#define LAPWING_RECORD_RUN_H

#include "reduce/flagging.h"
#include "reduce/reduced_point.h"

struct record_run {
    struct run_work work;
    int has_recipe; /* 1: a wind-on run whose points can be reduced, zeros and tare included */
    struct flagger *flagger;
    struct channel_statistics *series; /* of one channel at all points */
    struct channel_statistics *varied; /* all channels of one point, with other means */
    unsigned char *hit;                /* of each point: 1 where the rule at hand speaks */
    unsigned char *blamed;             /* of each point: 1 where another rule tells already */
};

/* Reads the run and makes room. On OK the caller ends *run with record_run_end(). */
enum status record_run_open(const struct night *night, const struct run_row *row,
                            struct flagger *flagger, struct record_run *run, struct fault *fault);
void record_run_end(struct record_run *run);

/* "point 3 of 18", "points 3, 4 and 7 of 18", "points 1, 2, 3, 4, 5, 6 and 4 more of 18", "all 18
 * points": where hit. */
void record_say_points(const struct record_run *run, char *text, size_t size);

/* Label of the only point that is hit; "" when there are several. */
const char *record_only_point(const struct record_run *run);

/* A mean to be put in the place of the logged one. */
struct mean_change {
    size_t channel;
    double mean;
};

/* What the logged means do to the main metric at a point against the changed ones, in counts. NAN when
 * it is not known: no recipe, no number, a main metric that is not counted, or a position, whose part
 * in the result is the way to the target. */
double record_effect(const struct record_run *run, size_t point, const struct mean_change *changes,
                     size_t n);

/* What a flag about a channel is about: the tap, or the column of any other. */
const char *record_subject(const struct channel_row *channel);

/* Adds the effect to the sentence and writes the flag. */
enum status record_flag(const struct record_run *run, struct flag_note *note, struct fault *fault);

#endif
