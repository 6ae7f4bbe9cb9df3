/* run_selection.h - the runs that are read when the user asks about one run only.
 *
 * These are the run itself and every wind-off run that may become its zero or its weight tare, or the
 * zero of that tare: which of them is taken is decided later, by time. A wind-off run whose log is not
 * there yet is left for later; the run itself is not, since its missing log is the answer.          */
#ifndef LAPWING_RUN_SELECTION_H
#define LAPWING_RUN_SELECTION_H

#include "ingest/run_sheet.h"

/* OK when name is a wind-on run of the sheet. NOT_FOUND: it is in no row; the fault names the run that
 * is nearest in letters. BAD_INPUT: it is a zero or a weight tare. */
enum status run_selection_check(const struct run_sheet *runs, const char *name,
                                struct fault *fault);

/* 1 when the candidate, a row of the sheet, is to be read for the run of this name; folder is where
 * its logs' names begin. NO_MEMORY and a file system that refuses count as "read it": the reading says
 * what is wrong. */
int run_selection_has(const struct run_sheet *runs, const char *name, const char *folder,
                      const struct run_entry *candidate);

#endif
