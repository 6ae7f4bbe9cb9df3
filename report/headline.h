/* headline.h - the sentences at the top of the page, written from the rows of the delta table.
 *
 * One sentence says what won, by how much, and at what cost; or that nothing did; or why no verdict
 * may be given; or, where a check on the night fails (trust.h), that its deltas are not to be used.
 * Two more say what is real and what is not decided yet. All three are about the
 * leading family of the entry, since each family has a baseline and intervals of its own; one more
 * names the other families. No number in them comes from
 * anywhere but the rows that the table prints.                                                     */
#ifndef LAPWING_REPORT_HEADLINE_H
#define LAPWING_REPORT_HEADLINE_H

#include "report/buffer.h"
#include "report/findings.h"

struct headline {
    struct buffer sentence;  /* "W2 beats A0: +38.2 ± 6.1 counts of downforce, at ..." */
    struct buffer real;      /* what is shown to differ */
    struct buffer undecided; /* what is not */
    struct buffer also;      /* families besides the leading one; empty when there is none */
    const struct finding_configuration *winner; /* NULL: no gain, no verdict, or no trust in any */
};

/* Fills all four; ask buffer_status() of each, or headline_status(). */
void headline_make(const struct findings *findings, struct headline *headline);
enum status headline_status(const struct headline *headline, struct fault *fault);
void headline_end(struct headline *headline);

/* "; the verdict hangs on what was left out", before the stop of a sentence that gives the verdict; nothing
 * where it hangs on nothing. */
void headline_hangs(struct buffer *out, const struct finding_configuration *configuration);

/* A sentence after a colon: its first letter small. The checks begin with words, never with names. */
void headline_lowered(struct buffer *out, const char *sentence);

/* What stands at the top when a check on the night fails: the check, what the deltas read as measured, and
 * what to do. Called by headline_make(), with the sentence of the winner already made; leaves no winner. */
void headline_distrust(const struct findings *findings, const struct trust_check *failed,
                       struct headline *headline);

/* The two sentences below the first; called by headline_make(). */
void headline_proof(const struct findings *findings, struct headline *headline);

/* "Also compared, ...": called by headline_make(). */
void headline_also(const struct findings *findings, struct headline *headline);

/* The first configuration of the leading family, best first, whose main delta reads this verdict; NULL for none. */
const struct finding_configuration *headline_first(const struct findings *findings,
                                                   const char *verdict);
size_t headline_count(const struct findings *findings, const char *verdict);

/* Length of a reason without what the sentence around it says anyway: of "parts not refitted: no
 * verdict (1 mounting)" the first three words. */
size_t headline_reason_length(const char *reason);

/* 1 when no configuration has a verdict on the main measure. */
int headline_no_verdict(const struct findings *findings);

#endif
