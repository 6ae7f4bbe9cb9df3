/* plan_choice.h - what the night is about: where, which configurations, what each thing takes. */
#ifndef LAPWING_PLAN_CHOICE_H
#define LAPWING_PLAN_CHOICE_H

#include "reduce/plan_night.h"

/* Fills all of *night but noise and plan. BAD_INPUT: an unknown name, configurations of two families or of
 * none, a time or a log that nothing says. The caller ends *night with planned_night_end(). */
enum status plan_choose(const struct plan_input *input, struct planned_night *night,
                        struct fault *fault);

#endif
