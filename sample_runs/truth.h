/* truth.h - what the night was made from, for checks that compare; the program never reads it. */
#ifndef SAMPLE_RUNS_TRUTH_H
#define SAMPLE_RUNS_TRUTH_H

#include "sample_runs/model.h"

/* Writes folder/truth/truth.csv; gives 0 when that failed. */
int truth_write(const struct model *model, const char *folder);

#endif
