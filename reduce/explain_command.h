/* explain_command.h - `lapwing explain`: where one number comes from. */
#ifndef LAPWING_EXPLAIN_COMMAND_H
#define LAPWING_EXPLAIN_COMMAND_H

#include "schema/command.h"

extern const struct command explain_command;

#endif
