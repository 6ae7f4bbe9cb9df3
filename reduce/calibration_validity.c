/* calibration_validity.c - see calibration_validity.h. */
#include "reduce/calibration_validity.h"

#include <math.h>
#include <stdio.h>

#include "reduce/rows.h"

static const char validity_sql[] =
    "SELECT valid_from_s, valid_until_s, datetime(valid_from_s, 'unixepoch'), "
    "datetime(valid_until_s, 'unixepoch'), file FROM calibration_file WHERE balance = ?1";

static void say(const struct run_row *run, struct statement *row, int is_late,
                struct flag_note *note)
{
    const double day = 86400;
    double limit = statement_real(row, is_late ? 1 : 0);
    const char *date = statement_text(row, is_late ? 3 : 2);
    const char *file = statement_text(row, 4);
    double days = fabs(run->start - limit) / day;
    *note = flag_note_make(FLAG_CALIBRATION_EXPIRED, run->run, "", run->balance);
    note->value = run->start;
    note->limit = limit;
    note->unit = "s";
    (void)snprintf(note->detail, sizeof note->detail,
                   "%.200s is valid %s %s UTC; the run was made %.2f days %s",
                   file == NULL ? "" : file, is_late ? "until" : "from", date == NULL ? "?" : date,
                   days, is_late ? "after that" : "before");
}

enum status calibration_validity(const struct night *night, const struct run_row *run, int *expired,
                                 struct flag_note *note, struct fault *fault)
{
    struct statement *statement = NULL;
    const char *balance = run->balance;
    int found = 0;
    *expired = 0;
    enum status status = rows_open(night->store, validity_sql, &balance, 1, &statement, fault);
    if (status == OK)
        status = statement_step(statement, &found, fault);
    if (status == OK && found) {
        int is_early = run->start < statement_real(statement, 0);
        int is_late = run->start > statement_real(statement, 1);
        *expired = is_early || is_late;
        if (*expired)
            say(run, statement, is_late, note);
    }
    statement_free(statement);
    return status;
}
