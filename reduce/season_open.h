/* season_open.h - the campaign and the season database of a folder, as the commands need them. */
#ifndef LAPWING_SEASON_OPEN_H
#define LAPWING_SEASON_OPEN_H

#include "schema/campaign.h"
#include "schema/store.h"

struct season {
    struct campaign *campaign;
    struct store *store;
};

/* Reads folder/campaign.yaml and opens folder/season.sqlite. NOT_FOUND: nothing was ingested yet. On
 * OK the caller ends *season with season_close(). */
enum status season_open(const char *folder, enum store_mode mode, struct season *season,
                        struct fault *fault);
/* Closes both; a failure of closing is reported only when status is OK. Gives the status to end
 * with. */
enum status season_close(struct season *season, enum status status, struct fault *fault);

#endif
