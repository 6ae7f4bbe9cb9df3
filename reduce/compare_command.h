/* compare_command.h - `lapwing compare`: the deltas as a table on standard output. */
#ifndef LAPWING_COMPARE_COMMAND_H
#define LAPWING_COMPARE_COMMAND_H

#include "schema/command.h"

extern const struct command compare_command;

#endif
