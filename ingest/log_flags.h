/* log_flags.h - what the reading of one log gives to be flagged, each with its sentence. */
#ifndef LAPWING_LOG_FLAGS_H
#define LAPWING_LOG_FLAGS_H

#include <stddef.h>

#include "ingest/run_reader.h"
#include "schema/flag.h"

enum { LOG_FLAGS_MAX = LOG_SUSPECTS_MAX + 3, LOG_FLAG_DETAIL = 700 };

struct log_flag {
    enum flag_rule rule;
    char detail[LOG_FLAG_DETAIL];
};

/* Fills flags for the log of this file name; gives how many. */
size_t log_flags_of(const char *file, const struct read_log *log,
                    struct log_flag flags[LOG_FLAGS_MAX]);

#endif
