/* family.h - the configurations of one family in one entry, their mountings, and every run's values.
 *
 * A run's value at a target is the mean over its used points there; at "weighted" it is the sum of
 * w_i C_i over the weighted targets. Balance, L/D and areas follow from those coefficients, so that
 * the weighted balance is 100 sum(w CLF)/sum(w CL), a ratio of sums, not a mean of ratios. A ratio
 * that is undefined at one point is undefined in all that the point is part of.
 *
 * Beside every value stands the standard uncertainty that the step to the target added to it: the
 * mean over the points, or sum w_i u_i, because one slope carried them all (shared_error.h). That
 * of L/D is the sum of CL's and CD's parts, whose signs are not known.                             */
#ifndef LAPWING_FAMILY_H
#define LAPWING_FAMILY_H

#include <stddef.h>

#include "reduce/groups.h"
#include "reduce/key_text.h"
#include "reduce/point_state.h"
#include "schema/quantity.h"

struct family_run {
    const struct run_row *run;
    size_t configuration; /* index in the family: 0 the baseline */
    size_t mounting;      /* of that configuration, from 1 */
    double *value;        /* measures x QUANTITY_COUNT; NAN where there is none */
    double *added;        /* the same: added by the step to the target; 0 at target */
    double *freedom;      /* measures: degrees of freedom of what was added, the least of its fits';
                             infinite where nothing was */
    double *time;         /* measures: mean time of the used points, s */
    size_t *left_out; /* measures: points there that a decision or a rule of the point stage left
                             out of this basis */
};

struct family {
    const char *
        *configurations; /* names; [0] the baseline; those with usable runs, in file order */
    size_t n_configurations;
    struct family_run *runs; /* in time order */
    size_t n_runs;
    const char **measures; /* target names, then "weighted" when targets have weights */
    size_t n_measures;
    int has_weighted; /* 1: the last measure is the weighted one */
};

/* Reads a family from the target reductions of its configurations, with the points that the basis uses.
 * The baseline is in the list even without runs. On OK the caller ends *family with family_end(). */
enum status family_read(const struct night *night, const struct run_group *group, enum basis basis,
                        struct family *family, struct fault *fault);
void family_end(struct family *family);

/* The same as it stands, without the points that a rule flagged; slopes still rest on them. */
enum status family_read_unflagged(const struct night *night, const struct run_group *group,
                                  struct family *family, struct fault *fault);

/* 1 when both, read from one group, have the same values with the same uncertainties. */
int family_is_same(const struct family *a, const struct family *b);

double family_value(const struct family *family, size_t run, size_t measure,
                    enum quantity quantity);

double family_added(const struct family *family, size_t run, size_t measure,
                    enum quantity quantity);

/* Writes what decides on the mountings of an entry into a key: its wind-on runs in their order. */
void family_key_order(const struct night *night, const struct run_row *of, struct key_text *key);

/* Index of a measure by name; n_measures when there is none. */
size_t family_measure(const struct family *family, const char *name);

#endif
