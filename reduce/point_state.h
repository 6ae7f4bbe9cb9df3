/* point_state.h - what rules and people make of a point, and which comparison takes it.
 *
 * Pure: no store, no night. Rules speak through flags; the worst of a point's flags is what the rules
 * alone say of it. A decision of decisions.csv then stands before a rule's failure, in both directions,
 * but never makes a number: a point that is refused has none and stays refused.                    */
#ifndef LAPWING_POINT_STATE_H
#define LAPWING_POINT_STATE_H

#include "schema/flag.h"

/* What somebody decided on a point, or on its run. */
enum decision { DECISION_NONE, DECISION_EXCLUDE, DECISION_RESTORE };

/* "exclude", "restore", "" for none; DECISION_NONE for any other text and for NULL. */
const char *decision_name(enum decision decision);
enum decision decision_from_name(const char *name);

enum point_state {
    POINT_OK,
    POINT_FLAGGED,  /* the number stands, look at it */
    POINT_FAILED,   /* by a rule: kept, not compared */
    POINT_REFUSED,  /* no number */
    POINT_EXCLUDED, /* by a decision: kept, not compared */
    POINT_RESTORED  /* failed by a rule, compared by a decision */
};

/* "ok", "flagged", "failed", "refused", "excluded", "restored". */
const char *point_state_name(enum point_state state);

/* POINT_REFUSED for a text that is none of them, and for NULL: what is not known is not compared. */
enum point_state point_state_from_name(const char *name);

/* What the rules alone say: the state of the worst flag; information changes nothing. */
enum point_state point_state_of_rules(enum flag_state worst);

/* The state once somebody decided. Restoring what no rule failed changes nothing. */
enum point_state point_state_decided(enum point_state rules, enum decision decision);

/* On what a comparison is made. */
enum basis {
    BASIS_STANDS,      /* decisions and failures in force: the one that is reported */
    BASIS_ALL_IN,      /* no decision, no failure: every point with a number at its target */
    BASIS_RULES_ALONE, /* no decision; failures in force */
    BASIS_COUNT
};

/* "stands", "all in", "rules alone". */
const char *basis_name(enum basis basis);

/* 1 when a comparison on this basis takes the point, and its slopes rest on it. rules: what the rules
 * alone say, before any target is looked for. */
int point_takes_part(enum point_state rules, enum decision decision, enum basis basis);

/* 1 when this basis carries the point to its target from beyond the cap. That is what restoring a point
 * off its target means: the cap is a limit of trust, and lifting it costs the uncertainty of the longer
 * carry. Where no slope holds there is no value at the target, and nothing lifts that. */
int point_lifts_cap(enum decision decision, enum basis basis);

#endif
