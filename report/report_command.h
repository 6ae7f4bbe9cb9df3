/* report_command.h - `lapwing report`: the night's page and its CSV tables, from the store alone. */
#ifndef LAPWING_REPORT_COMMAND_H
#define LAPWING_REPORT_COMMAND_H

#include "schema/command.h"
#include "schema/store.h"

enum { REPORT_HEADLINE = 512 };

struct report_summary {
    char headline
        [REPORT_HEADLINE]; /* first sentence of the page, UTF-8, ended; cut at a character */
};

/* Writes folder/report/night.html, deltas.csv, points.csv, taps.csv and loads.csv, making the folder
 * report when it is missing; each file appears whole or not at all. summary may be NULL. The same
 * store gives the same bytes. WRITE_FAILED when a file cannot be written. */
enum status report_write(struct store *store, const char *folder, struct report_summary *summary,
                         struct fault *fault);

extern const struct command report_command;

#endif
