/* glance.h - what is known of one run right after it: values handed from reduce to report.
 *
 * reduce/glance.c fills it, reduce/glance_verdict.c judges it, report/ prints and draws it; nothing of
 * it is stored. Values are SI and of the campaign's metrics; metrics[0] is the main one. All texts
 * and arrays belong to the struct and are freed with it.                                            */
#ifndef LAPWING_GLANCE_H
#define LAPWING_GLANCE_H

#include <stddef.h>

#include "schema/campaign.h"
#include "schema/fault.h"
#include "schema/flag.h"
#include "schema/quantity.h"

/* What the run asks for, the worse the later. */
enum glance_verdict { GLANCE_USABLE, GLANCE_LOOK, GLANCE_REPEAT };

enum { GLANCE_WHOLE_RUN = -1, GLANCE_NO_TARGET = -1 };

struct glance_metric {
    enum quantity quantity;
    const char *name;  /* "downforce" */
    double worthwhile; /* smallest delta worth having, in the quantity's unit; > 0 */
    double
        unit_size; /* one printed unit of a delta: a count where the quantity is counted, else 1 */
    const char *unit; /* of a printed delta: "counts", "%", "m2", "" */
};

/* How a point came to its target. */
enum glance_reach {
    REACH_NONE,     /* no declared target is within capture */
    REACH_AT,       /* within tolerance */
    REACH_CARRIED,  /* within cap, and carried along the configuration's slope */
    REACH_NO_SLOPE, /* within cap, but the configuration's points bear no slope yet */
    REACH_OFF       /* beyond the cap: takes no part at the target */
};

struct glance_value {
    double value;       /* at the target where it was carried, else as attained; NAN: none */
    double uncertainty; /* standard, within the point; NAN: not estimable */
};

/* The main metric of earlier runs of the configuration at the same target. */
struct glance_earlier {
    size_t n; /* values; 0: none */
    double low, high, mean;
};

struct glance_point {
    const char *label;
    double time; /* s since 1970-01-01T00:00:00Z */
    double attitude[ATTITUDE_COUNT];
    double dynamic_pressure; /* Pa; NAN: none */
    enum flag_state state;   /* worst of its flags; FLAG_INFO: fine */
    int target;              /* index, GLANCE_NO_TARGET */
    enum glance_reach reach;
    struct glance_value *values; /* one a metric */
    int is_guess;   /* 1: the uncertainties are a cautious bound, flagged not-estimable */
    double half[2]; /* main metric of its first and its second half; NAN: not known */
    struct glance_earlier earlier;
};

struct glance_target {
    const char *name;
    int is_needed; /* 1: the main measure rests on it */
    int is_covered; /* 1: a point stands there that may be compared, or will be once there is a slope */
    int is_tried; /* 1: a point was meant for it, good or not */
};

struct glance_flag {
    enum flag_rule rule;
    enum flag_state state;
    int point;           /* index, GLANCE_WHOLE_RUN */
    const char *subject; /* channel, tap, quantity; "" for none */
    double value, limit; /* NAN for none */
    const char *detail;
    const char *first; /* "1.60 s into point 9", its first sample there; "": not known */
    int is_known;      /* 1: an earlier run of the entry had it too */
    int is_of_taps;    /* 1: it says nothing of loads */
};

/* The record strip: a row a channel or rule, a mark where something is beyond its limit. */
struct glance_mark {
    size_t row;
    int point;    /* index, GLANCE_WHOLE_RUN */
    double ratio; /* value over limit, at least 1; NAN where a rule has no numbers */
    enum flag_state state;
    const char *rule; /* "q-unsteady" */
};

#define GLANCE_DRIFT_ROW "drift of the zero" /* the row that holds what is known of it */

/* The zeros, and what their difference does to the metric that it moves most. */
struct glance_zero {
    const char *before, *after; /* runs; "" for none */
    int is_one_sided;           /* 1: the zero on the other side does not exist yet */
    const char *quantity;       /* "CL"; "" where the drift is not known */
    double drift, limit;        /* of that quantity */
    double unit_size;
    const char *unit;
};

struct glance_reason {
    enum glance_verdict verdict; /* what it asks for, never usable */
    double effect;               /* in limits; INFINITY: there is no number at all */
    const char *what;            /* "off-target at F14 R36", for the first line */
    const char *text;            /* what, where and how much, one line */
    const char *action;          /* the one next thing to do */
};

struct glance {
    const char *season, *car, *run, *configuration, *facility, *entry, *start_text;
    const char *quarantined;      /* file:line:column and why; "" when the run was read */
    const char *refused;          /* why the whole run has no number; "" otherwise */
    const char *main_attitude;    /* a target's name or "weighted" */
    int is_named[ATTITUDE_COUNT]; /* 1: a target names this coordinate */

    struct glance_metric *metrics;
    size_t n_metrics;
    struct glance_target *targets;
    size_t n_targets;
    struct glance_point *points; /* in time */
    size_t n_points;
    struct glance_flag *flags;
    size_t n_flags, flags_capacity;
    struct glance_zero zero;
    size_t n_earlier;     /* earlier runs of the configuration in the entry */
    double earlier_shift; /* median of main value minus earlier mean; NAN: none */

    const char **rows; /* names of the strip's rows */
    size_t n_rows, rows_capacity;
    struct glance_mark *marks;
    size_t n_marks, marks_capacity;

    enum glance_verdict verdict;
    struct glance_reason *reasons; /* by verdict, then effect, the worst first */
    size_t n_reasons, reasons_capacity;
    const char **notes; /* worth a line, no reason for anything */
    size_t n_notes, notes_capacity;

    char **texts; /* the pool */
    size_t n_texts, texts_capacity;
};

/* A copy of text ("" for NULL) that lives as long as the glance. On NO_MEMORY *kept is "". */
enum status glance_keep(struct glance *glance, const char *text, const char **kept,
                        struct fault *fault);

/* One more zeroed element of size bytes at the end of *items, *n one more; NULL without memory, with
 * the fault filled. The array belongs to the glance and is ended with it. */
void *glance_add(void **items, size_t *n, size_t *capacity, size_t size, struct fault *fault);

/* Frees all; an all-zero one is fine. */
void glance_end(struct glance *glance);

#endif
