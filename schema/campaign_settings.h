/* campaign_settings.h - the campaign's values in force, written to the season database.
 *
 * Pages and `explain` show them from there, so that a report can be read without the campaign's
 * folder. Sections: "season", "car", "facility NAME", "balance NAME", "channel map NAME",
 * "attitudes", "limits", "plan", "repeatability NUMBER"; values are SI numbers with their unit or
 * words without one.                                                                               */
#ifndef LAPWING_CAMPAIGN_SETTINGS_H
#define LAPWING_CAMPAIGN_SETTINGS_H

#include "schema/campaign.h"
#include "schema/fault.h"

struct store;

/* Fills the table setting, which is empty. */
enum status campaign_settings_store(struct store *store, const struct campaign *campaign,
                                    struct fault *fault);

#endif
