/* proof_command.h - `lapwing report --proof A`: the sheet of one part, and nothing else. */
#ifndef LAPWING_REPORT_PROOF_COMMAND_H
#define LAPWING_REPORT_PROOF_COMMAND_H

#include "schema/command.h"

/* 1 when the arguments of `report` ask for a sheet. */
int proof_is_wanted(int argc, char **argv);

/* --proof A [--entry E] [--output FILE]; E is an entry's name, or FACILITY/ENTRY where two facilities have
 * one of this name. Without it, the latest entry that compared A. As command.h's run. */
int proof_run(const struct common_options *common, int argc, char **argv, struct fault *fault);

#endif
