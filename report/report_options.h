/* report_options.h - what `lapwing report` is asked for beside the page. */
#ifndef LAPWING_REPORT_OPTIONS_H
#define LAPWING_REPORT_OPTIONS_H

#include "schema/fault.h"

enum redaction { REDACT_NOTHING, REDACT_NAMES, REDACT_LEVELS };

struct report_options {
    int semicolon;            /* 1: CSV with semicolons and decimal commas */
    int json;                 /* 1: each table as JSON too */
    int notes;                /* 1: changes, notes and who decided what go out */
    enum redaction redaction; /* NAMES: ids for names; LEVELS: and no absolute coefficient */
    const char *key_file;     /* where the ids are explained; NULL: nowhere */
};

/* Reads --redact [deltas-only] or --redact-key FILE at argv[*at] and moves *at to its last word; *is_taken is
 * 0 when it is neither. BAD_INPUT: --redact-key without a file. */
enum status report_options_redact(int argc, char **argv, int *at, struct report_options *options,
                                  int *is_taken, struct fault *fault);

/* BAD_INPUT: a key without --redact, or notes with it. */
enum status report_options_check(const struct report_options *options, struct fault *fault);

/* argv[0] is the command's name. BAD_INPUT names the word that is wrong. */
enum status report_options_read(int argc, char **argv, struct report_options *options,
                                struct fault *fault);

#endif
