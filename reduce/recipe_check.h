/* recipe_check.h - do the declared corrections have what they need? Asked before anything is reduced.
 *
 * What only physics knows about a campaign: whether the blockage family exists, whether it holds in
 * the facility's kind of section, whether the car's and the section's sizes that the corrections
 * need are given, whether the places of height sensors fix the ride heights.                      */
#ifndef LAPWING_RECIPE_CHECK_H
#define LAPWING_RECIPE_CHECK_H

#include "schema/campaign.h"

/* Hands every problem to report (may be NULL); BAD_INPUT when there was any, with the first one in
 * *fault. */
enum status recipe_check(const struct campaign *campaign, campaign_problem *report, void *context,
                         struct fault *fault);

#endif
