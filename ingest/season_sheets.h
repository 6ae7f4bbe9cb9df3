/* season_sheets.h - every file of the campaign folder that the user keeps by hand, read and checked
 * against each other before any log is touched.                                                    */
#ifndef LAPWING_SEASON_SHEETS_H
#define LAPWING_SEASON_SHEETS_H

#include <stddef.h>

#include "ingest/column_binding.h"
#include "ingest/configuration_sheet.h"
#include "ingest/decision_sheet.h"
#include "ingest/problems.h"
#include "ingest/run_sheet.h"
#include "ingest/support_sheet.h"
#include "ingest/tap_sheet.h"
#include "schema/calibration.h"
#include "schema/campaign.h"

struct season_sheets {
    const struct campaign *campaign; /* not owned */
    struct configuration_sheet *configurations;
    struct run_sheet *runs;
    struct tap_sheet *taps;           /* NULL when no map has taps and there is no file */
    struct calibration *calibrations; /* one a balance of the campaign */
    struct decision_sheet *decisions; /* NULL when there is no file */
    struct support_sheet *supports;   /* TABLE_KINDS a facility of the campaign */
};

/* Reads configurations.csv, runs.csv, taps.csv, decisions.csv, the balances' files and the facilities'
 * tables below folder. All that is
 * wrong, unknown names, named zeros and tares that cannot be any and runs that can give no coefficient
 * (run_needs.h) included, goes to problems; gives OK unless memory or the like fails. The caller owns
 * *sheets and ends it with season_sheets_free(). */
enum status season_sheets_read(const char *folder, const struct campaign *campaign,
                               struct units *units, struct problems *problems,
                               struct season_sheets **sheets, struct fault *fault);
void season_sheets_free(struct season_sheets *sheets); /* NULL is fine */

/* What the reading of one log of a run depends on. Names were checked: nothing can be unknown. */
struct log_reading season_sheets_reading(const struct season_sheets *sheets,
                                         const struct run_entry *run, size_t log);

/* folder/file, or file when it is absolute; the caller frees it. NULL without memory. */
char *season_path(const char *folder, const char *file);

#endif
