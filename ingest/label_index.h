/* label_index.h - finds a point by its label without walking all points: a log may hold ten thousand.
 *
 * The labels stay with the points; the index keeps places only.                                    */
#ifndef LAPWING_LABEL_INDEX_H
#define LAPWING_LABEL_INDEX_H

#include <stddef.h>

#include "ingest/log_record.h"

/* Zeroed it is empty and owns nothing. */
struct label_index {
    size_t *slots; /* place of a point + 1; 0 where none is; size is a power of two */
    size_t size, n;
};

/* The point of this label among those added; NULL when there is none. points: where they stand now. */
struct log_point *label_index_find(const struct label_index *index, struct log_point *points,
                                   const char *label, size_t length);

/* Adds points[at], whose label must not be in the index; 0 without memory. */
int label_index_add(struct label_index *index, const struct log_point *points, size_t at);

/* Adds all points of a record, the first of equal labels counting; 0 without memory. */
int label_index_fill(struct label_index *index, const struct log_record *record);

void label_index_end(struct label_index *index); /* an empty one is fine */

#endif
