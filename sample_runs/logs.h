/* logs.h - the logs of the demo night, as the tunnel would have written them. */
#ifndef SAMPLE_RUNS_LOGS_H
#define SAMPLE_RUNS_LOGS_H

#include "sample_runs/model.h"

/* Each gives 0 when a file could not be written, having said so on stderr. */
int logs_write_forces(const struct model *model, const char *folder, int run);
int logs_write_wind_off(const struct model *model, const char *folder); /* zeros and the tare run */
int logs_write_taps(const struct model *model, const char *folder, int run);

/* File names below the campaign folder: "logs/r01_forces.csv". */
void logs_name(char *out, size_t size, int run, const char *kind);

#endif
