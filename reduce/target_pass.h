/* target_pass.h - a configuration's points brought to their targets on one basis, in memory.
 *
 * The target stage makes one pass as it stands, and others where points were left out or taken in
 * (reduce/point_state.h): slopes rest on the points that the basis takes, so every value may differ.
 * A pass brings all points that have a number to their target; is_used says which may be compared. */
#ifndef LAPWING_TARGET_PASS_H
#define LAPWING_TARGET_PASS_H

#include "reduce/attained_points.h"
#include "reduce/target_carry.h"
#include "reduce/target_stall.h"

/* What kept a point from its target's value, beside a decision or a rule of the point stage. */
enum target_trouble {
    TROUBLE_NONE,
    TROUBLE_NO_SLOPE, /* no local fit about the target: outcome says why */
    TROUBLE_BEYOND    /* the target lies outside the points of the fit: beyond says where */
};

struct target_row {
    const struct attained_point *point; /* of the list the pass was made from */
    struct attitude_match match; /* match.target NULL: at no target; then nothing below holds */
    const char *method;          /* "at target", "local fit", "left at attained" */
    int is_used;                 /* 1: compared */
    int is_off; /* 1: beyond the cap, or beyond the tolerance where nothing is carried */
    enum target_trouble trouble;
    enum outcome outcome;
    struct carry_beyond beyond;
    struct carry_stall
        stall;          /* in the way of a carry within reach; STALL_NONE: none, or not looked at */
    const char *reason; /* why it is not compared: "excluded", "failed", "off-target",
                           "near-stall", "target-refused"; "restored" where a decision took it in; or "" */
    struct carried_value value;
};

struct target_pass {
    struct target_row *rows; /* one a point of the list, in its order */
    size_t n;
};

struct target_rules {
    const struct attitudes *attitudes;
    int may_carry;  /* 0 where the facility declares to_target none */
    double matters; /* the smallest worthwhile delta of the downforce coefficient, > 0 */
};

/* On OK the caller ends *pass with
 * target_pass_end(); the list must outlive it. NO_MEMORY only. */
enum status target_pass_make(const struct attained_list *list, const struct target_rules *rules,
                             enum basis basis, struct target_pass *pass, struct fault *fault);
void target_pass_end(struct target_pass *pass); /* an empty one is fine */

/* 1 when a rule of this stage keeps the point from its target unless somebody decides otherwise. */
int target_row_is_held(const struct target_row *row);

/* 1 when a comparison would see a difference: another use or another value of any point. Both are of
 * one list. */
int target_passes_differ(const struct target_pass *a, const struct target_pass *b);

#endif
