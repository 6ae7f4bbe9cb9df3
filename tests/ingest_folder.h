/* ingest_folder.h - a small campaign folder for tests of ingest: two runs, a zero, forces and taps. */
#ifndef LAPWING_INGEST_FOLDER_H
#define LAPWING_INGEST_FOLDER_H

#include "schema/campaign.h"
#include "tests/scratch.h"

/* Makes folder with campaign.yaml, configurations.csv, runs.csv, taps.csv, balance/floor.csv and
 * logs/; 0 when it cannot. Map "forces": comma, unit row, samples; "taps": semicolons, [unit]. */
int ingest_folder_make(char folder[SCRATCH_PATH]);

/* The forces log of the folder: `points` points of `rows` rows, wind is a factor on the loads. */
char *ingest_folder_forces(int points, int rows, double wind);
/* A taps log of two taps over points 1 to `points`. */
char *ingest_folder_taps(int points, int rows);

/* Reads the folder's campaign.yaml; NULL (and a failed check) when it is wrong. */
struct campaign *ingest_folder_campaign(const char *folder);

extern const char ingest_folder_runs[]; /* the text of runs.csv */

#endif
