/* what_if.h - the comparison once more without one step or several, and nothing of it kept.
 *
 * Points, targets and deltas of the entries asked for are made again from a campaign in which the steps
 * were never declared, inside one transaction that is rolled back. The season must be up to date: both
 * sides then differ by the steps alone.                                                            */
#ifndef LAPWING_WHAT_IF_H
#define LAPWING_WHAT_IF_H

#include "reduce/what_if_deltas.h"
#include "schema/campaign.h"

struct what_if {
    unsigned steps;     /* left out, bits of what_if_steps.h */
    unsigned contained; /* in the facility's own numbers, so on both sides */
    struct what_if_deltas deltas;
};

/* Fills *made for the request, whose `format` is not looked at, without a set of steps as
 * what_if_step_read() makes it. BAD_INPUT: a step that no facility of the entries applies, or that is
 * inside its numbers; a season that is not up to date. NOT_FOUND as compare_table(). The store must
 * not be within a transaction. The caller ends *made with what_if_end(), whatever the status. */
enum status what_if_make(struct store *store, const struct campaign *campaign,
                         const struct compare_request *request, unsigned without,
                         struct what_if *made, struct fault *fault);
void what_if_end(struct what_if *made);

#endif
