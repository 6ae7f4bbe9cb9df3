/* static_files.h - the parts of the campaign folder that do not change with the seed. */
#ifndef SAMPLE_RUNS_STATIC_FILES_H
#define SAMPLE_RUNS_STATIC_FILES_H

/* Writes runs.csv, taps.csv and balance/underfloor.csv into the folder, from the generator's tables;
 * gives 0 when that failed. Done once; the files are kept with the sources. */
int static_files_write(const char *folder);

/* Copies campaign.yaml, configurations.csv and the three above; gives 0 when that failed. */
int static_files_copy(const char *from, const char *to);

/* Makes folder/name; one that is there already is fine. Gives 0 when it cannot be made. */
int static_files_folder(const char *folder, const char *name);

#endif
