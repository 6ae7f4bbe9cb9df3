/* sheet_store.h - the hand-kept sheets, written to the season. */
#ifndef LAPWING_SHEET_STORE_H
#define LAPWING_SHEET_STORE_H

#include "ingest/season_sheets.h"
#include "schema/store.h"

/* Replaces configurations, taps, calibrations and decisions, and removes runs (and all that is kept of them)
 * that are not in the run sheet any more. Inside the caller's transaction. */
enum status sheet_store_write(struct store *store, const struct season_sheets *sheets,
                              struct fault *fault);

#endif
