/* plan_place.h - the facility of a planned night, its balance, its logs, and what things take there. */
#ifndef LAPWING_PLAN_PLACE_H
#define LAPWING_PLAN_PLACE_H

#include "reduce/plan_night.h"

/* Needs night->input and night->attitudes. BAD_INPUT: a name, a time or a log that nothing says. */
enum status plan_place(struct planned_night *night, struct fault *fault);

#endif
