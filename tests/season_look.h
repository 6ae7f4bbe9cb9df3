/* season_look.h - a campaign folder ingested into a season, and what the season then holds, as text. */
#ifndef LAPWING_SEASON_LOOK_H
#define LAPWING_SEASON_LOOK_H

#include "ingest/ingest_night.h"

/* Far after every file of the tests, so that stamps are trusted; ns. */
extern const long long season_later;

/* Reads sheets and logs of the folder into store; whatever fails is a failed check. */
struct night_result season_ingest(struct store *store, const char *folder, int threads,
                                  long long now_ns);

/* A season in memory; close it with end_season(). */
struct store *memory_season(void);
void end_season(struct store *store);

/* All rows of a query as text, '|' between columns, a line feed after each row; blobs in hex. The
 * caller frees. */
char *season_query(struct store *store, const char *sql, int columns);
void check_season(struct store *store, const char *sql, int columns, const char *want);

/* Everything ingest writes, as one text; the caller frees. */
char *season_dump(struct store *store);

enum { GATHERED = 16384 };

/* A report of struct night_request: its context is a text of GATHERED bytes, which takes the lines as
 * long as there is room. */
void gather_lines(void *context, const struct fault *problem);

#endif
