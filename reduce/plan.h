/* plan.h - `lapwing plan`, after its options and the folder's sheets are read. */
#ifndef LAPWING_PLAN_H
#define LAPWING_PLAN_H

#include "schema/plan_input.h"

/* Plans the night, prints it in the format that is asked for, and writes the run sheet where that is asked
 * for. BAD_INPUT: the request is wrong, the plan is refused, or the file exists already. */
enum status plan_run(const struct plan_input *input, struct fault *fault);

#endif
