/* point_key.h - everything the point reductions of a run depend on, as the text behind their key. */
#ifndef LAPWING_POINT_KEY_H
#define LAPWING_POINT_KEY_H

#include "reduce/key_text.h"
#include "reduce/night.h"

/* Builds the canonical inputs of a run: its own logs and run-sheet row, the logs of its zeros, of its
 * tare and of the tare's zeros, the parts of car, facility, balance and limits that are used, the
 * calibration with all coefficients, what was decided on the run and its points, and the version of
 * every method, and the channels that the record stage failed
 * (record_frozen.h). Reads no samples and no statistics. The caller ends *key with key_text_end(), also after a failure. */
enum status point_key_make(const struct night *night, const struct run_row *run,
                           struct key_text *key, struct fault *fault);

/* The same without what the record stage found: what that stage itself depends on. */
enum status point_key_before_records(const struct night *night, const struct run_row *run,
                                     struct key_text *key, struct fault *fault);

#endif
