/* sniff_titles.h - what stands between the rows of an unknown log: comments, names in a list, titles. */
#ifndef LAPWING_SNIFF_TITLES_H
#define LAPWING_SNIFF_TITLES_H

#include "ingest/sniff.h"

/* Fills sniff->titles and passes over comments, titles and all blocks but the first, so that the steps
 * after it see one table: before the shape is looked for. */
enum status sniff_find_titles(struct sniff *sniff, struct fault *fault);
/* 1 when there are titles of blocks, or comments below the first row of data of the shape found so far. */
int sniff_titles_matter(const struct sniff *sniff, const char *passed);

/* The file is one plain table: comments and titles do not matter. */
void sniff_titles_none(struct sniff_titles *titles);
void sniff_titles_free(struct sniff_titles *titles);

/* The columns' names where no row of the log holds as many as a row of data has cells: of a line
 * VARIABLES=, of the last comment above the data, or numbers when nothing stands above them. Fills
 * titles.names; leaves it NULL when something stands there that is no names. */
enum status sniff_list_names(struct sniff *sniff, struct fault *fault);

#endif
