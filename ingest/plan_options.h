/* plan_options.h - the arguments of `lapwing plan`. */
#ifndef LAPWING_PLAN_OPTIONS_H
#define LAPWING_PLAN_OPTIONS_H

#include "schema/command.h"
#include "schema/plan_input.h"

extern const char plan_usage[];

/* BAD_INPUT: an option is unknown, lacks its value, or the value is out of its range. */
enum status plan_options_read(const struct common_options *common, int argc, char **argv,
                              struct plan_options *options, struct fault *fault);

#endif
