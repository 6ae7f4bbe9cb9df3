/* panel.h - the parts of the night page, each one function in a file of its own.
 *
 * A panel writes its section from the findings and from rows of the store that only it needs. The
 * order on the page is the table in page_night.c.                                                  */
#ifndef LAPWING_REPORT_PANEL_H
#define LAPWING_REPORT_PANEL_H

#include "report/findings.h"
#include "report/headline.h"
#include "report/html.h"
#include "schema/store.h"

struct night_page {
    struct store *store;
    const struct findings *findings;
    const struct headline *headline;
};

typedef enum status panel_write(struct html *page, const struct night_page *night,
                                struct fault *fault);

panel_write panel_redaction;     /* that names are left out, where they are */
panel_write panel_headline;      /* the sentences */
panel_write panel_facts;         /* five facts with chips */
panel_write panel_deltas;        /* the delta table with its intervals */
panel_write panel_ratio;         /* downforce for drag */
panel_write panel_equal_balance; /* parts with the car trimmed back */
panel_write panel_package;       /* packages against their parts */
panel_write panel_left_out;      /* what was left out, and what that changes; often nothing */
panel_write panel_budget;        /* how the interval is made up */
panel_write panel_strip;         /* the night, run by run */
panel_write panel_exceptions;    /* what needs a person's eyes */
panel_write panel_repeat;        /* which runs to repeat first */
panel_write panel_trust;         /* checks on the night itself */
panel_write panel_trade;         /* what each gain costs */
panel_write panel_sweep;         /* one sweep, absolute and against the baseline */
panel_write panel_floor;         /* pressure maps */
panel_write panel_method;        /* how it was made */

#endif
