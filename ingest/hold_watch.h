/* hold_watch.h - channels slower than the rows of their log, as the map's hold declares them, and what that
 * does to their statistics.
 *
 * hold: blank. A cell that is empty holds no sample: it is neither used nor counted as missing, and does
 * not part two samples. The longest run, and the samples equal to their neighbour, are of those written.
 *
 * hold: repeat. All rows are samples of the mean, but a row that repeats the last value tells nothing
 * new: n_effective is at most the number of changes of the value within the point, plus 1. The longest
 * run is counted in usual holds and not in rows, so that a channel which changes as it always does has
 * about 1, however slow it is:
 *
 *   stuck = longest run in rows / H,
 *   H = usual hold = median length, in rows, of the log's whole runs; of an even number the upper one
 *
 * A run is whole when it begins and ends with a change of the value within one point: no run that the
 * point's end or a missing sample cuts. At most HOLD_RUNS_MAX of them are kept, the first ones. A log
 * without a whole run has the longest of its cut ones for its usual hold, provided that the value
 * changes somewhere, be it from point to point; where it never does, nothing is known of its hold,
 * H = 1, and stuck stays in rows.
 * The rule for stuck channels asks how often neighbours are equal outside the longest run, as a share of
 * the rows there, so that has to be of holds as well: with m rows in r runs outside the longest run,
 *
 *   repeated = H (max(0, m / H - r) + 1) - 1
 *
 * which is the rows' own number at H = 1 and near nothing where all holds are usual ones.           */
#ifndef LAPWING_HOLD_WATCH_H
#define LAPWING_HOLD_WATCH_H

#include <stddef.h>

#include "ingest/log_record.h"
#include "schema/campaign.h"
#include "schema/fault.h"

enum { HOLD_RUNS_MAX = 65536 };

struct held_channel;

struct hold_watch {
    struct held_channel *channels; /* NULL: no channel of the log has a hold */
    size_t n;
};

/* For n channels, none of which has a hold yet; NO_MEMORY. The caller ends it with hold_watch_free(). */
enum status hold_watch_make(struct hold_watch *watch, size_t n, struct fault *fault);
void hold_watch_free(struct hold_watch *watch);
void hold_watch_declare(struct hold_watch *watch, size_t channel, enum map_hold hold);

/* The next row of the point: the value of a channel with a hold, NAN when it is missing; or, of one with
 * hold: blank, that the cell is empty. */
enum status hold_watch_take(struct hold_watch *watch, size_t channel, double value,
                            struct fault *fault);
void hold_watch_blank(struct hold_watch *watch, size_t channel);

/* Ends the point: corrects the statistics of its channels, where stuck stays in rows so far. */
void hold_watch_finish(struct hold_watch *watch, struct channel_statistics *statistics);

/* Ends the log: stuck and repeated of all its points into usual holds. */
void hold_watch_finish_log(struct hold_watch *watch, const struct log_record *record);

#endif
