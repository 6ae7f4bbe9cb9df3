/* record_state.h - which channels a point's numbers need, and what the instrument rules make of it. */
#ifndef LAPWING_RECORD_STATE_H
#define LAPWING_RECORD_STATE_H

#include "reduce/reduced_point.h"
#include "reduce/statistics/record_rules.h"

/* 1 for loads, the wheels' and belt's too, the wind's pressures, the attitude that a target names, with
 * the sensors of its heights, and a yaw that loads are turned by. The run's recipe must be there. */
int record_is_needed(const struct run_work *work, enum role role);

/* 1 for what is set and held: attitudes and the belt. Such a channel may stand still by nature. */
int record_is_position(enum role role);

/* Statistics of one channel at all points of a run, one after the other; series has n_points. */
void record_series(const struct run_data *data, size_t channel, struct channel_statistics *series);

/* record_stuck() of a channel at one of the counted points, with what the others tell of how often it repeats.
 * A position that stands still at more than a quarter of the others is judged by itself alone. */
struct record_judgement record_stuck_at(enum role role, const struct record_shares *shares,
                                        const struct channel_statistics *point);

/* The state of each of the run's points by the rules on stuck, clipped and spiked records: failed where
 * a channel that its numbers need is spoilt, flagged where such a channel is flagged, info else. All are
 * failed where the record stage found such a channel constant, and alive in other runs. On OK the caller
 * frees *states. */
enum status record_states(const struct run_work *work, enum flag_state **states,
                          struct fault *fault);

#endif
