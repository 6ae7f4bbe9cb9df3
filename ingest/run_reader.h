/* run_reader.h - all logs of one run, from files to what the store keeps; no store in it, so that any
 * thread may do it.                                                                                */
#ifndef LAPWING_RUN_READER_H
#define LAPWING_RUN_READER_H

#include "ingest/byte_source.h"
#include "ingest/run_merge.h"
#include "ingest/season_sheets.h"

struct read_log {
    int is_read; /* 1: every byte was seen, digest and stamp hold */
    char digest[DIGEST_TEXT];
    struct file_stamp stamp;
    size_t rows;
    size_t rows_read, rows_outside, short_points; /* as in struct log_record */
    size_t unterminated_line; /* of the last row when it has no line feed; 0 when it has */
    int left_out;             /* 1: that row was not taken */
    struct time_gaps gaps;
    struct log_suspect suspects[LOG_SUSPECTS_MAX];
    size_t n_suspects; /* may be more than are kept */
};

struct read_run {
    struct read_log *logs; /* one a log of the run sheet */
    size_t n_logs;
    struct merged_run merged; /* record is NULL when the run is quarantined */
    struct fault reason;      /* why, when it is */
};

/* Reads all logs of a run. A log that cannot be read as declared quarantines the run: still OK, and
 * the digests of all files that exist are made all the same, so that an unchanged bad file is not
 * parsed twice. Other statuses: memory and the like. The caller owns *read, read_run_free(). */
enum status run_reader_read(const char *folder, const struct season_sheets *sheets,
                            const struct run_entry *run, struct units *units,
                            struct read_run **read, struct fault *fault);
void read_run_free(struct read_run *read); /* NULL is fine */

/* Reads one log with at most `most` problems; *record is NULL when there was any. */
enum status run_reader_log(const char *folder, const struct season_sheets *sheets,
                           const struct run_entry *run, size_t log, struct units *units,
                           size_t most, struct problems *problems, struct read_log *about,
                           struct log_record **record, struct fault *fault);

#endif
