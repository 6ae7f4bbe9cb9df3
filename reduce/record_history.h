/* record_history.h - the signatures of all channels in all usable runs of an entry. */
#ifndef LAPWING_RECORD_HISTORY_H
#define LAPWING_RECORD_HISTORY_H

#include "reduce/run_data.h"
#include "reduce/statistics/channel_history.h"

enum { HISTORY_OTHERS_MAX = 48 }; /* the nearest in the run sheet */

struct history_channel {
    enum role role;
    char *name; /* tap, or the column of role other; "" else: the role says which it is */
    struct channel_signature signature;
    double *means; /* of the run's points */
};

/* The channels of a run in the order of its run_data, and its points in theirs. */
struct history_run {
    const struct run_row *run;
    struct history_channel *channels;
    size_t n_channels;
    char **points; /* labels */
    size_t n_points;
};

struct record_history {
    struct history_run *runs; /* in run-sheet order */
    size_t n_runs;
};

/* Reads n runs of one entry. On OK the caller ends *history with record_history_end(). */
enum status record_history_read(const struct night *night, const struct run_row *const *runs,
                                size_t n, struct record_history *history, struct fault *fault);
void record_history_end(struct record_history *history);

/* The other runs of the same kind and balance, the nearest in the sheet first; gives how many. */
size_t record_history_comparable(const struct record_history *history, size_t run,
                                 size_t others[HISTORY_OTHERS_MAX]);

/* A channel of one run in another; NULL where that one lacks it or holds no samples of it. */
const struct history_channel *record_history_same(const struct record_history *history, size_t run,
                                                  size_t channel, size_t other);

/* The same channel in the comparable runs; gives in how many. */
size_t record_history_others(const struct record_history *history, size_t run, size_t channel,
                             struct channel_signature others[HISTORY_OTHERS_MAX]);

/* How often neighbours are equal in a channel of the comparable runs, the median; NAN with fewer than
 * HISTORY_RUNS_MIN of them, and for a position that stands still in more than a quarter of them. */
double record_history_repeats(const struct record_history *history, size_t run, size_t channel);

#endif
