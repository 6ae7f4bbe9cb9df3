/* compare_readings.h - what stands behind the judged deltas of a comparison, as text. */
#ifndef LAPWING_COMPARE_READINGS_H
#define LAPWING_COMPARE_READINGS_H

#include "reduce/key_text.h"
#include "schema/entry.h"
#include "schema/store.h"

/* Of every judged delta that is asked for in an entry: the
 * interval, by which method and noise; the other method's estimate; what is left of the delta once it is
 * known how large deltas usually are; the pairs that it still needs; how firm its word stands. Nothing for
 * a delta without an interval. Tables: schema/asked.h. */
enum status compare_say_readings(struct store *store, const struct season_entry *entry,
                                 struct key_text *text, struct fault *fault);

/* How many deltas were judged, how many only looked at, and how many of those would differ from 0 by chance. */
enum status compare_say_count(struct store *store, struct key_text *text, struct fault *fault);

#endif
