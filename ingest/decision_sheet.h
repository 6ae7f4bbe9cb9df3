/* decision_sheet.h - decisions.csv: points and runs that people leave out or take in, and why.
 *
 * Columns run, point, decision, who, when, why; the file may be missing. decision is exclude or restore;
 * an empty point means the whole run; when is a date or a time with its zone. A point's own row stands
 * before its run's. Decisions are on wind-on runs only: which zero or weight tare serves a run is said in
 * the run sheet, because leaving one out changes numbers instead of leaving numbers out, and what that
 * changes could not be shown.                                                                      */
#ifndef LAPWING_DECISION_SHEET_H
#define LAPWING_DECISION_SHEET_H

#include <stddef.h>

#include "ingest/log_record.h"
#include "ingest/problems.h"
#include "ingest/run_sheet.h"
#include "ingest/sheet.h"

/* Bytes at most, so that a decision fits whole into the sentence of a flag. */
enum { DECISION_WHO_MAX = 80, DECISION_WHY_MAX = 400, DECISION_NAME_MAX = 80 };

struct user_decision {
    const char *run, *point, *decision, *who, *when, *why; /* belong to the sheet */
    size_t line;
    int is_point_seen;                /* by decision_sheet_see() */
    char near[DECISION_NAME_MAX + 1]; /* a point's label that is nearly this one; "" for none */
};

struct decision_sheet {
    struct sheet *sheet;
    struct user_decision *items;
    size_t n;
};

/* Reads path. Unknown runs (with the nearest name), runs that are not wind-on, wrong words and times,
 * empty cells, and a second row on the same run and point become problems; gives OK unless memory or
 * the like fails. On OK the caller owns *sheet; ends with decision_sheet_free(). */
enum status decision_sheet_read(const char *path, const struct run_sheet *runs,
                                struct problems *problems, struct decision_sheet **sheet,
                                struct fault *fault);
void decision_sheet_free(struct decision_sheet *sheet); /* NULL is fine */

/* Points are known only once logs are read: shows a log of a run to the decisions on its points. */
void decision_sheet_see(struct decision_sheet *sheet, const char *run,
                        const struct log_record *record);

/* Then adds a problem for each decision on a point that none of the run's logs has. A sheet of NULL is
 * fine in both. */
void decision_sheet_check_points(const struct decision_sheet *sheet, const char *run,
                                 struct problems *problems);

#endif
