/* init_command.h - `lapwing init [DIR]`: a commented campaign folder to begin with. */
#ifndef LAPWING_INIT_COMMAND_H
#define LAPWING_INIT_COMMAND_H

#include "schema/command.h"
#include "schema/fault.h"

extern const struct command init_command;

/* Writes the scaffold into folder, making it when it is missing. BAD_INPUT when any of the files is
 * there already: then nothing is written. */
enum status init_folder(const char *folder, struct fault *fault);

#endif
