/* season_site.h - every page of a season: one a night, the index, a proof sheet a part.
 *
 * night.html is the latest night's; night-FACILITY-ENTRY.html are all, index.html leads to them, and
 * proof-CONFIGURATION.html is the sheet of the entry that compared it last. Pages that have not changed are
 * not written, pages of what is gone are removed (site_files.h). Links are relative.                 */
#ifndef LAPWING_REPORT_SEASON_SITE_H
#define LAPWING_REPORT_SEASON_SITE_H

#include "report/buffer.h"
#include "schema/store.h"

/* Into the folder report, which is there. campaign is the folder that pictures are below; NULL: pages go
 * without pictures. headline gets the first sentence of the latest night; NULL: not wanted. */
enum status season_site_write(struct store *store, const char *report, const char *campaign,
                              struct buffer *headline, struct fault *fault);

#endif
