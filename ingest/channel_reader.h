/* channel_reader.h - one log, read through one channel map, into points with statistics.
 *
 * Values arrive in SI with our signs; times, labels and order are checked on the way. Rows of a point
 * must follow each other; time must not go back.
 * Which rows are a point: those of one label; every averaged row; those of an unbroken stretch in which
 * the recording flag is on and does not change (a counter's next number begins a new point); or those of
 * one stay of a sweep (sweep_watch.h). Points of the last two are labelled 1, 2, ... in order. Rows of
 * no point are checked for their time and the number of their cells, counted, and used for nothing.
 * A last row without line feed may be cut. Of samples it is left out, unless it is the only row; a row
 * that is an averaged point is taken, since files kept by hand often end so. Either way the record
 * says so, and the run is flagged.                                                                 */
#ifndef LAPWING_CHANNEL_READER_H
#define LAPWING_CHANNEL_READER_H

#include "ingest/byte_source.h"
#include "ingest/column_binding.h"
#include "ingest/log_record.h"

/* Bump when a change of reading or statistics must make every log be read again. */
#define CHANNEL_READER_METHOD "log reading 6"

/* Reads the source; name is the file as the user knows it. Refusals go to problems; reading stops
 * when there are `most` of them (1: at the first), and *record is NULL when there was any. Gives OK
 * unless memory, the file or the like fails. The caller owns *record and ends it with
 * log_record_free(). */
enum status channel_reader_read(struct byte_source source, const char *name,
                                const struct log_reading *reading, struct units *units, size_t most,
                                struct problems *problems, struct log_record **record,
                                struct fault *fault);

#endif
