/* record_silence.h - a channel that has one value through a whole run, where it should move. */
#ifndef LAPWING_RECORD_SILENCE_H
#define LAPWING_RECORD_SILENCE_H

#include "reduce/record_history.h"
#include "reduce/record_run.h"

/* channel_silence_judge() of a load or a pressure of the wind that the run's numbers need; USUAL of any
 * other. own: the run in its history; others: the same channel in n comparable runs. Where no other run
 * tells, it is CONSTANT only if it is a load or a q of 10 samples a point, not 0, while another one of
 * the run moves. */
struct history_judgement record_silence_judge(const struct record_run *run,
                                              const struct history_run *own, size_t channel,
                                              const struct channel_signature *others, size_t n);

/* 1 for a channel that the run's numbers need, constant here and alive in other runs: no measurement, and
 * as a stuck record it fails the points. */
int record_silence_fails(const struct record_run *run, size_t channel,
                         const struct history_judgement *judgement);

#endif
