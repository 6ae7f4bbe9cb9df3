/* campaign_folder.h - campaigns without a fault, for tests that read or spoil them; invented numbers.
 *
 * One text with two ends: SETTINGS has a key of every kind and no logs to go with it; NIGHT goes with
 * a folder of two runs and a zero, forces and taps, that ingest can read.                            */
#ifndef LAPWING_CAMPAIGN_FOLDER_H
#define LAPWING_CAMPAIGN_FOLDER_H

#include <stddef.h>

#include "schema/campaign.h"
#include "tests/scratch.h"

/* The text of the campaign with a key of every kind; made once, nobody frees it. */
const char *good_campaign(void);

/* The problems that were told while a campaign was read. */
struct heard {
    size_t n;
    size_t last_line;
    int in_order;
    char all[8192];
};

/* Writes text as a campaign.yaml of its own and reads that. */
enum status campaign_read_text(const char *text, struct campaign **campaign, struct heard *heard,
                               struct fault *fault);

/* "campaign.yaml:line:column: " of the first place where mark stands in text. */
void campaign_place(const char *text, const char *mark, char *out, size_t size);

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
