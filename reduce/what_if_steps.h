/* what_if_steps.h - the steps that a comparison can be made again without, and why others can't be left
 * out: a row a step, in the order of the ledger.
 *
 * A step is left out by switching it off in a facility, as if campaign.yaml had never declared it. */
#ifndef LAPWING_WHAT_IF_STEPS_H
#define LAPWING_WHAT_IF_STEPS_H

#include "reduce/key_text.h"
#include "schema/campaign.h"
#include "schema/fault.h"

enum what_if_step {
    WHAT_IF_WEIGHT_TARE,
    WHAT_IF_BELT_TARE,
    WHAT_IF_SUPPORT_TARE,
    WHAT_IF_INTERFERENCE,
    WHAT_IF_BUOYANCY,
    WHAT_IF_BLOCKAGE,
    WHAT_IF_FLOW_ANGULARITY,
    WHAT_IF_REYNOLDS,
    WHAT_IF_TO_TARGET,
    WHAT_IF_STEPS
};

/* A set of steps has bit 1 << step for each; this one more bit asks for all that are applied. */
enum { WHAT_IF_ALL = 1 << WHAT_IF_STEPS };

/* "weight tare", as in the ledger. */
const char *what_if_step_name(enum what_if_step step);

/* Adds the step that text names to *steps; '_' and '-' stand for a blank, "all" for every step.
 * BAD_INPUT: a step that can't be left out, with the reason, or none at all, with their names. */
enum status what_if_step_read(const char *text, unsigned *steps, struct fault *fault);

/* 1 when the facility declares the step for our own numbers. */
int what_if_step_applies(enum what_if_step step, const struct facility *facility);

/* 1 when the step is, or may be, inside the facility's own numbers (already_corrected), out of which
 * nothing can take it. */
int what_if_step_is_contained(enum what_if_step step, const struct facility *facility);

/* Switches the steps off. The facility owns nothing that it did not own before, and what it no longer
 * names is its former owner's: for shallow copies only. */
void what_if_switch_off(unsigned steps, struct facility *facility);

/* The rest of `to target`: points as near as the cap stand for the target with what they have attained,
 * as if the distance did not matter; those beyond it are not compared. */
void what_if_take_attained(struct attitudes *attitudes);

/* "buoyancy, blockage", with what stands between. */
void what_if_steps_say(unsigned steps, const char *between, struct key_text *text);

#endif
