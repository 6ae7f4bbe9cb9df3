/* record_frozen.h - channels that a run needs and that the record stage failed for the whole run.
 *
 * A channel that is constant through a run looks alive or dead only beside other runs, which the point
 * stage does not read: it reads the flag instead. The record stage comes first, see pipeline.h.      */
#ifndef LAPWING_RECORD_FROZEN_H
#define LAPWING_RECORD_FROZEN_H

#include "reduce/key_text.h"
#include "reduce/night.h"

/* *n: how many channels of the run are failed as constant. */
enum status record_frozen_count(const struct night *night, const struct run_row *run, size_t *n,
                                struct fault *fault);

/* Adds them to the key of what rests on them; nothing where there are none. */
enum status record_frozen_key(const struct night *night, const struct run_row *run,
                              struct key_text *key, struct fault *fault);

#endif
