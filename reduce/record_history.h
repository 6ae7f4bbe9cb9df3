/* record_history.h - the signatures of all channels in all usable runs of an entry. */
#ifndef LAPWING_RECORD_HISTORY_H
#define LAPWING_RECORD_HISTORY_H

#include "reduce/run_data.h"
#include "reduce/statistics/channel_history.h"

enum { HISTORY_OTHERS_MAX = 48 }; /* the nearest in the run sheet */

struct history_channel {
    enum role role;
    char *tap; /* "" unless role is ROLE_TAP */
    struct channel_signature signature;
};

/* The channels of a run in the order of its run_data. */
struct history_run {
    const struct run_row *run;
    struct history_channel *channels;
    size_t n_channels;
};

struct record_history {
    struct history_run *runs; /* in run-sheet order */
    size_t n_runs;
};

/* Reads n runs of one entry. On OK the caller ends *history with record_history_end(). */
enum status record_history_read(const struct night *night, const struct run_row *const *runs,
                                size_t n, struct record_history *history, struct fault *fault);
void record_history_end(struct record_history *history);

/* The same channel in the other runs of the same kind and balance, the nearest in the sheet first; gives
 * how many, at most HISTORY_OTHERS_MAX. */
size_t record_history_others(const struct record_history *history, size_t run, size_t channel,
                             struct channel_signature others[HISTORY_OTHERS_MAX]);

#endif
