/* channel_reader.h - one log, read through one channel map, into points with statistics.
 *
 * Values arrive in SI with our signs; times, labels and order are checked on the way. Rows of a point
 * must follow each other; time must go on.                                                         */
#ifndef LAPWING_CHANNEL_READER_H
#define LAPWING_CHANNEL_READER_H

#include "ingest/byte_source.h"
#include "ingest/column_binding.h"
#include "ingest/log_record.h"

/* Bump when a change of reading or statistics must make every log be read again. */
#define CHANNEL_READER_METHOD "log reading 1"

/* Reads the source; name is the file as the user knows it. Refusals go to problems; reading stops
 * when there are `most` of them (1: at the first), and *record is NULL when there was any. Gives OK
 * unless memory, the file or the like fails. The caller owns *record and ends it with
 * log_record_free(). */
enum status channel_reader_read(struct byte_source source, const char *name,
                                const struct log_reading *reading, struct units *units, size_t most,
                                struct problems *problems, struct log_record **record,
                                struct fault *fault);

#endif
