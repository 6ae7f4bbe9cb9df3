/* proof.h - the sheet of one part: what is claimed of it, what that rests on, and what it does not show.
 *
 * One page of paper for somebody who was not there. Every sentence is made from the rows that the sheet
 * prints; a part without a verdict gets a sheet that says so.                                       */
#ifndef LAPWING_REPORT_PROOF_H
#define LAPWING_REPORT_PROOF_H

#include "report/findings.h"
#include "report/html.h"

struct proof {
    struct store *store;                      /* its scope is the sheet's entry */
    const struct findings *findings;          /* of the entry */
    const struct finding_configuration *part; /* of the findings; no baseline */
    const char *campaign; /* folder that pictures are below; NULL: none are shown */
};

/* The whole page. */
enum status page_proof(struct html *page, const struct proof *proof, struct fault *fault);

/* "At the weighted mean of the attitudes, W2 changes downforce by +23.8 ± 6.1 counts against C0; ..." */
void proof_claim(const struct proof *proof, struct buffer *out);

/* The delta of metric m by what was measured before any boundary correction and before points were carried to
 * their targets: the mean over the part's mountings of value minus baseline, the baseline interpolated in
 * time between its returns. Stored units; *delta is NAN where the ledger does not tell it. */
enum status proof_raw(const struct proof *proof, size_t m, double *delta, struct fault *fault);

/* Sections of the page, in its order. */
typedef enum status proof_section(struct html *page, const struct proof *proof,
                                  struct fault *fault);
proof_section proof_change;     /* what was changed, and what was held */
proof_section proof_pictures;   /* photographs and sketches; often nothing */
proof_section proof_result;     /* raw and corrected, with interval and verdict */
proof_section proof_evidence;   /* where, when, which runs in which order */
proof_section proof_robustness; /* does the verdict hold without some of it? */
proof_section proof_limits;     /* road, what is not shown, safety */
proof_section proof_origin;     /* hashes, versions, the command */

/* One term and its text in a list; format as printf. */
void proof_pair(struct html *page, const char *term, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

#endif
