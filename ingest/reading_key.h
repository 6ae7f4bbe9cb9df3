/* reading_key.h - what the statistics of a run depend on, as one hash.
 *
 * The bytes of its logs, the channel maps they were read with, the taps, the balance's output unit,
 * the facility's sense of yaw, the run's start, the channels whose samples are kept, and the methods of reading. A changed key means that
 * the logs are read again; notes, configuration or zero of the run are not in it.                  */
#ifndef LAPWING_READING_KEY_H
#define LAPWING_READING_KEY_H

#include <stddef.h>

#include "ingest/season_sheets.h"
#include "schema/digest.h"

/* Digests of every channel map of the campaign, taps included where it has them: made once a night,
 * n_maps of them. The caller frees *digests. */
enum status reading_key_maps(const struct season_sheets *sheets, char (**digests)[DIGEST_TEXT],
                             struct fault *fault);

/* The key of a run whose logs have these SHA-256 texts (run->n_logs of them). */
enum status reading_key_of_run(const struct season_sheets *sheets, const struct run_entry *run,
                               const char (*map_digests)[DIGEST_TEXT],
                               const char *const *log_digests, char key[DIGEST_TEXT],
                               struct fault *fault);

#endif
