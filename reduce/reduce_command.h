/* reduce_command.h - `lapwing reduce`: all that is not up to date, statistics to deltas. */
#ifndef LAPWING_REDUCE_COMMAND_H
#define LAPWING_REDUCE_COMMAND_H

#include "schema/command.h"

extern const struct command reduce_command;

#endif
