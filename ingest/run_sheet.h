/* run_sheet.h - runs.csv: what was run, when, how, and into which log files.
 *
 * Columns run, facility, entry, start, configuration, kind, balance, logs, zero, tare, mounting,
 * note. logs names a channel map and a file for each log: "forces=logs/r101.csv;taps=logs/r101t.csv".
 * Where the map says that files hold blocks, "polar=logs/section.dat#80 grit" names one of them.
 * Names of facilities, balances, maps and configurations are checked in season_sheets.c.           */
#ifndef LAPWING_RUN_SHEET_H
#define LAPWING_RUN_SHEET_H

#include <stddef.h>

#include "ingest/iso_time.h"
#include "ingest/problems.h"
#include "ingest/sheet.h"

enum run_column {
    RUN_NAME,
    RUN_FACILITY,
    RUN_ENTRY,
    RUN_START,
    RUN_CONFIGURATION,
    RUN_KIND,
    RUN_BALANCE,
    RUN_LOGS,
    RUN_ZERO,
    RUN_TARE,
    RUN_MOUNTING,
    RUN_NOTE,
    RUN_COLUMNS
};

struct run_log {
    char *map;   /* name of the channel map */
    char *file;  /* as written, relative to the campaign folder */
    char *block; /* title of the block of it that is the log; NULL: the whole file */
};

struct run_entry {
    const char *name, *facility, *entry, *start_text, *configuration, *kind, *balance, *zero, *tare,
        *mounting, *note; /* "" when empty; belong to the sheet */
    struct iso_time start;
    struct run_log *logs;
    size_t n_logs;
    size_t line;
};

struct run_sheet {
    struct sheet *sheet;
    struct run_entry *runs;
    size_t n;
};

/* Reads path. What is wrong becomes problems; gives OK unless memory or the like fails. On OK the
 * caller owns *sheet and ends it with run_sheet_free(). */
enum status run_sheet_read(const char *path, struct problems *problems, struct run_sheet **sheet,
                           struct fault *fault);
void run_sheet_free(struct run_sheet *sheet); /* NULL is fine */

/* 1 for a run that is read, judged, listed and kept, and from which nothing is reduced. */
int run_is_record_only(const struct run_entry *run);

/* By name of the given length; NULL when there is none. */
const struct run_entry *run_find(const struct run_sheet *sheet, const char *name, size_t length);

#endif
