/* decision_flags.h - what the decisions on a run and its points did, as flags: who, when and why.
 *
 * A decision that could not do what it says is flagged too, with the reason: the point is not there,
 * has no number, or no rule failed it.                                                             */
#ifndef LAPWING_DECISION_FLAGS_H
#define LAPWING_DECISION_FLAGS_H

#include "reduce/flagging.h"
#include "reduce/reduced_point.h"

/* Writes the flag of the decision on a point whose rules have spoken, if there is one. A run that is
 * excluded as a whole has one flag, that of decision_flag_run(), and none a point. */
enum status decision_flag_point(struct flagger *flagger, const struct run_work *work,
                                const struct reduced_point *made, struct fault *fault);

/* Writes the flags of the decisions that no point has answered: on the whole run, and on points that
 * the run does not have. */
enum status decision_flag_run(struct flagger *flagger, const struct run_work *work,
                              struct fault *fault);

/* Writes point-restored: the point was taken in although `rule` failed it. */
enum status decision_flag_restored(struct flagger *flagger, const struct decision_row *decision,
                                   const char *point, const char *rule, struct fault *fault);

/* Writes decision-without-effect about a point, or "" for the run; reason: the end of a sentence,
 * "no rule failed it". */
enum status decision_flag_idle(struct flagger *flagger, const struct decision_row *decision,
                               const char *point, const char *reason, struct fault *fault);

/* "excluded by NAME on 2026-02-12: reason"; size 640 holds any that decisions.csv may give. */
void decision_say(const struct decision_row *decision, const char *what, char *out, size_t size);

#endif
