/* plan_folder.h - a campaign to be planned: the demo's tables without its logs, a section plan, and what is
 * declared of how well its numbers repeat; invented numbers. */
#ifndef LAPWING_TESTS_PLAN_FOLDER_H
#define LAPWING_TESTS_PLAN_FOLDER_H

#include "tests/scratch.h"

/* 20 min a run with its zeros, 6 min a change, 20 min a weight sweep with its zeros, from
 * 2026-03-11T19:00:00+01:00, 8 h; noise of CL 0.003 and CD 0.001 with 20 degrees of freedom. */
int plan_folder_make(char folder[SCRATCH_PATH]);

/* Runs `lapwing -C folder plan` with the arguments; its output and errors into out (PROGRAM_OUTPUT). Gives
 * the exit status. */
int plan_folder_run(const char *folder, const char *arguments, char *out);

#endif
