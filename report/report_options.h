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

/* argv[0] is the command's name. BAD_INPUT names the word that is wrong. */
enum status report_options_read(int argc, char **argv, struct report_options *options,
                                struct fault *fault);

#endif
