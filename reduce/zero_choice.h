/* zero_choice.h - which wind-off zeros belong to a run, and what they read at a point's time.
 *
 * The run sheet's cell decides when it is written: RUN or RUN/POINT (one zero, held constant),
 * RUN+RUN (before and after), none. A named run must be of kind zero, of the same facility, entry and
 * balance. Empty, the facility's rule decides; linear in time takes the latest usable zero run whose
 * time is not after the run's first point and the earliest that is not before its last one, in the
 * same facility, entry and balance. Where one side has none, the other is held; where only zeros
 * between the run's points exist, the nearest of them.
 * Between two zeros every output and every tap is interpolated linearly to the point's own time:
 *
 *   z(t) = z0 + (z1 - z0) (t - t0) / (t1 - t0)
 *
 * A zero run's first point is its zero, unless the cell names another. Common practice.            */
#ifndef LAPWING_ZERO_CHOICE_H
#define LAPWING_ZERO_CHOICE_H

#include "reduce/night.h"
#include "reduce/run_data.h"

enum zero_kind {
    ZERO_KIND_NONE,     /* declared none: readings are taken as they are */
    ZERO_KIND_MISSING,  /* there should be one and there is none: loads are refused */
    ZERO_KIND_CONSTANT, /* one zero, held */
    ZERO_KIND_LINEAR    /* before and after */
};

/* What a zero is: a run and its point, NULL for the first one. */
struct zero_end {
    const struct run_row *run;
    char *point; /* owned */
};

struct zero_choice {
    enum zero_kind kind;
    int after_missing;      /* 1: chosen by rule, and only one side was there */
    struct zero_end before; /* with ZERO_KIND_CONSTANT the only one, whichever side it is on */
    struct zero_end after;  /* with ZERO_KIND_LINEAR only */
    char missing[160];      /* with ZERO_KIND_MISSING: what was looked for, in words */
};

/* Chooses for a run; never looks at a log. On OK the caller ends *choice with zero_choice_end(). */
enum status zero_choose(const struct night *night, const struct run_row *run,
                        struct zero_choice *choice, struct fault *fault);
void zero_choice_end(struct zero_choice *choice);

/* The chosen zeros with their readings. before.point is NULL with kinds NONE and MISSING. */
struct zero_reading {
    struct run_data data;
    const struct point_row *point;
};

struct zeros {
    struct zero_choice choice;
    struct zero_reading before, after;
};

/* Chooses and reads. A zero run whose point is not there turns the kind to MISSING, with the reason
 * in choice.missing. On OK the caller ends *zeros with zeros_end(). */
enum status zeros_read(const struct night *night, const struct run_row *run, struct zeros *zeros,
                       struct fault *fault);
void zeros_end(struct zeros *zeros);

/* Share of the way from the zero before to the zero after at a time, s; 0 with one zero or none.
 * Outside the two times it goes on along the same line. */
double zeros_fraction(const struct zeros *zeros, double time);

/* The fraction farthest outside 0 .. 1 among the points of a run; 0 when none is outside. */
double zeros_worst_fraction(const struct zeros *zeros, const struct run_data *data);

#endif
