/* run_needs.h - can a wind-on run of the sheet give a coefficient at all?
 *
 * Asked before any log is opened, of what the campaign and the run sheet declare together: the roles
 * that the run's channel maps hold, the facility's way to the wind, and the wind-off runs. Told is
 * only what would refuse every point of the run; what is merely missing at some points is a flag, and
 * what is optional is no problem.                                                                  */
#ifndef LAPWING_RUN_NEEDS_H
#define LAPWING_RUN_NEEDS_H

#include "ingest/problems.h"
#include "ingest/run_sheet.h"
#include "schema/campaign.h"

/* Adds what is missing to problems, at the row of the first run that misses it, with the number of
 * further runs. Runs with names that the campaign does not know are passed over. OK, or NO_MEMORY. */
enum status run_needs_check(const struct campaign *campaign, const struct run_sheet *runs,
                            struct problems *problems, struct fault *fault);

/* The same for the wind-off runs that a run's loads need. Asked by `check` only: in a night that is
 * still going on, the zero after the last run is not in the sheet yet, and one run without its zero
 * must not stop the others; reduce refuses that run's points with a flag. */
enum status run_wind_off_check(const struct campaign *campaign, const struct run_sheet *runs,
                               struct problems *problems, struct fault *fault);

#endif
