/* boundary_names.h - what the blocks of the boundary corrections name in the other sheets: a surface of
 * taps.csv, a run of runs.csv. Asked before any log is opened, so that `check` tells it.           */
#ifndef LAPWING_BOUNDARY_NAMES_H
#define LAPWING_BOUNDARY_NAMES_H

#include "ingest/problems.h"
#include "ingest/run_sheet.h"
#include "ingest/tap_sheet.h"
#include "schema/campaign.h"

/* One problem for each name that is in no sheet, for facilities that a wind-on run is of. */
void boundary_names_check(const struct campaign *campaign, const struct run_sheet *runs,
                          const struct tap_sheet *taps, struct problems *problems);

#endif
