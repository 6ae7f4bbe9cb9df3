/* fault_season.h - a demo night and its season in a folder, judged again whenever logs change.
 *
 * Logs go through the program's own reader and its own stages `record` and `point`; nothing of them is
 * done over here.                                                                                  */
#ifndef LAPWING_TESTS_FAULT_SEASON_H
#define LAPWING_TESTS_FAULT_SEASON_H

#include "schema/campaign.h"
#include "schema/flag.h"
#include "schema/store.h"

enum { FAULT_RUNS = 14, FAULT_PATH = 160, FAULT_FLAGS_MAX = 4096 };

struct fault_season {
    char folder[64];
    struct campaign *campaign;
    struct store *store;
    double wind
        [FAULT_RUNS]; /* largest q of each clean run, blockage included, Pa; once it is judged */
};

/* A flag of the season, as far as it matters here. */
struct raised {
    enum flag_rule rule;
    char run[16], subject[64];
};

struct raised_list {
    struct raised *flags;
    size_t n;
};

/* Makes the night of a seed and opens its season. 0 on failure. End it with fault_season_close(). */
int fault_season_open(struct fault_season *season, unsigned long seed);
void fault_season_close(struct fault_season *season);

/* Reads the logs that changed, judges all records and reduces the points of all runs; *list receives every
 * flag, the caller frees list->flags. 0 on failure, told on stderr. */
int fault_season_judge(const struct fault_season *season, struct raised_list *list);

/* Keeps the season of the clean night, which has been judged, and what is wanted of it. 0 on failure. */
int fault_season_remember(struct fault_season *season);

/* Goes on with a copy of the season that was kept, so that only spoilt logs are read. 0 on failure. */
int fault_season_renew(struct fault_season *season);

/* A number of the season by SQL; NAN when there is none. */
double fault_season_number(const struct fault_season *season, const char *sql);

/* "FOLDER/logs/r03_KIND.csv" for run 2. */
void fault_season_log(const struct fault_season *season, int run, const char *kind,
                      char path[FAULT_PATH]);

#endif
