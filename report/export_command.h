/* export_command.h - `lapwing export`: one table for another program, by the writer of them all. */
#ifndef LAPWING_REPORT_EXPORT_COMMAND_H
#define LAPWING_REPORT_EXPORT_COMMAND_H

#include "schema/command.h"

extern const struct command export_command;

#endif
