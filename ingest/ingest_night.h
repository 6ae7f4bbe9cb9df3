/* ingest_night.h - the campaign folder into the season: every run of the sheet, only what changed.
 *
 * Threads read and parse; the calling thread alone writes, one transaction a run, in the order of the
 * run sheet. The season it leaves does not depend on the number of threads. A run that cannot be read
 * as declared is quarantined with its reason, and the night goes on.                               */
#ifndef LAPWING_INGEST_NIGHT_H
#define LAPWING_INGEST_NIGHT_H

#include <stddef.h>
#include <stdint.h>

#include "ingest/season_sheets.h"
#include "schema/campaign.h"
#include "schema/fault.h"
#include "schema/store.h"

struct night_request {
    const char *folder;
    const struct campaign *campaign;
    const char *only; /* a run: read it and what it needs, leave all others; NULL: read every run */
    int threads;      /* 0: two; more is more */
    int64_t now_ns;   /* the clock, ns since 1970; 0 not known: no file's stamp is trusted */
    campaign_problem *report; /* told of every problem of the sheets; may be NULL */
    void *report_context;
};

struct night_result {
    size_t logs_read, logs_unchanged;
    size_t runs_usable, runs_quarantined; /* after this night, whenever they were read */
    size_t rows;                          /* parsed now */
    int64_t bytes;                        /* parsed now */
};

/* Reads the sheets of the folder, before any season is opened. BAD_INPUT: they or the names in them are
 * wrong; every problem was reported, the first is in *fault. NOT_FOUND, BAD_INPUT: `only` is no wind-on
 * run of the sheet. On OK the caller owns *sheets. */
enum status ingest_sheets(const struct night_request *request, struct season_sheets **sheets,
                          struct fault *fault);

/* Brings the season up to what the sheets and the logs say; with `only`, as far as that run and the
 * wind-off runs it may need are concerned (run_selection.h). A failure: what was stored before it
 * stands, and the next night goes on from there. */
enum status ingest_night(struct store *store, const struct night_request *request,
                         struct season_sheets *sheets, struct night_result *result,
                         struct fault *fault);

#endif
