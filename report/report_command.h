/* report_command.h - `lapwing report`: the night's page and its CSV tables, from the store alone. */
#ifndef LAPWING_REPORT_COMMAND_H
#define LAPWING_REPORT_COMMAND_H

#include "report/report_options.h"
#include "schema/command.h"
#include "schema/store.h"

enum { REPORT_HEADLINE = 512 };

struct report_summary {
    char headline
        [REPORT_HEADLINE]; /* first sentence of the page, UTF-8, ended; cut at a character */
};

/* Writes folder/report/night.html, night.xlsx and the tables beside them as CSV, making the folder
 * report when it is missing; each file appears whole or not at all. summary may be NULL. The same
 * store gives the same bytes. WRITE_FAILED when a file cannot be written. */
enum status report_write(struct store *store, const char *folder, struct report_summary *summary,
                         struct fault *fault);

/* The same into a folder that is there, in the forms of options. Names leave as they are in the store:
 * redaction is the caller's (report/report_redacted.h). */
enum status report_write_into(struct store *store, const char *report, const char *campaign,
                              const struct report_options *options, struct report_summary *summary,
                              struct fault *fault);

extern const struct command report_command;

#endif
