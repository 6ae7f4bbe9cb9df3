/* campaign_store.h - the campaign, written to the season database. */
#ifndef LAPWING_CAMPAIGN_STORE_H
#define LAPWING_CAMPAIGN_STORE_H

#include "schema/campaign.h"
#include "schema/fault.h"

struct store;

/* Replaces the tables setting, metric, target and repeatability_declared, inside the caller's transaction. */
enum status campaign_store(struct store *store, const struct campaign *campaign,
                           struct fault *fault);

#endif
