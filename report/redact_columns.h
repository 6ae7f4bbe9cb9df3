/* redact_columns.h - what becomes of every table and column of a season in its redacted copy. */
#ifndef LAPWING_REPORT_REDACT_COLUMNS_H
#define LAPWING_REPORT_REDACT_COLUMNS_H

#include "report/report_options.h"

enum redact_kind {
    REDACT_CONFIGURATION,
    REDACT_RUN,
    REDACT_FACILITY,
    REDACT_ENTRY,
    REDACT_TARGET,
    REDACT_POINT,
    REDACT_TAP,
    REDACT_SURFACE,
    REDACT_BALANCE,
    REDACT_MOUNTING,
    REDACT_METRIC,
    REDACT_DEVICE,
    REDACT_CHANNEL,
    REDACT_MAP,
    REDACT_LOG,
    REDACT_SOURCE,
    REDACT_PERSON,
    REDACT_KINDS
};

enum redact_act {
    REDACT_EMPTY,    /* text: "" (or NULL where it was) */
    REDACT_KEEP,     /* text that only the program writes */
    REDACT_NAME,     /* a name of the kind: its id */
    REDACT_LIST,     /* names of the kind with ", " or "; " between */
    REDACT_SUBJECT,  /* of a reduction: RUN, FACILITY/ENTRY or FACILITY/ENTRY/CONFIGURATION */
    REDACT_ANY,      /* a name of any kind, a quantity or a role */
    REDACT_UNIT,     /* kept when made of known unit symbols */
    REDACT_SENTENCE, /* kept when no name is in it */
    REDACT_VARIANT   /* "without return RUNS" and fixed words */
};

struct redact_column {
    enum redact_act act;
    enum redact_kind kind; /* of NAME and LIST */
};

/* A text column; REDACT_EMPTY when it is not known. */
struct redact_column redact_column(const char *table, const char *column);

/* 1 when somebody decided on the column; that one that is not known is emptied is no decision. */
int redact_knows(const char *table, const char *column);

/* 1 for a number that is a time; 1 for a number that tells an absolute level. */
int redact_is_time(const char *column);
int redact_is_level(const char *column);

/* 1 when rows of the table are copied. */
int redact_takes(const char *table, enum redaction redaction);

#endif
