/* sniff_command.h - `lapwing sniff`: a look at a log that nothing is known of. */
#ifndef LAPWING_SNIFF_COMMAND_H
#define LAPWING_SNIFF_COMMAND_H

#include "schema/command.h"

extern const struct command sniff_command;

#endif
