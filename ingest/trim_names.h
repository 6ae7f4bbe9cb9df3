/* trim_names.h - what the section trim of campaign.yaml names in configurations.csv.  */
#ifndef LAPWING_TRIM_NAMES_H
#define LAPWING_TRIM_NAMES_H

#include "ingest/configuration_sheet.h"
#include "ingest/problems.h"
#include "schema/campaign.h"

/* One problem for each device whose configuration is in no row, or is a baseline, from which nothing
 * differs. */
void trim_names_check(const struct campaign *campaign,
                      const struct configuration_sheet *configurations, struct problems *problems);

#endif
