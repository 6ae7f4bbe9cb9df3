/* plan_noise.h - how well the numbers of a planned night repeat, from the season and from what is
 * declared. */
#ifndef LAPWING_PLAN_NOISE_H
#define LAPWING_PLAN_NOISE_H

#include "reduce/plan_night.h"

/* Fills night->metrics, at the attitude of the main measure, from entries that began before the night.
 * Without a season there is what campaign.yaml declares. Nothing is written. */
enum status plan_noise_read(struct planned_night *night, struct fault *fault);

#endif
