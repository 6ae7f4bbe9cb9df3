/* test_messy_files.c - files that are not what they seem, and run sheets that a spreadsheet has had: what
 * is said, where, the exit status, and what the season then holds.
 *
 * The list is common practice, no source. The night is invented.                                   */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/program.h"
#include "tests/refusal_folder.h"

static const struct messy_file {
    const char *name;
    const char *edit;  /* shell commands in the folder, on W1's log w1.csv or the sheets */
    int status;        /* exit status of ingest */
    const char *words; /* that it prints; NULL: nothing is said */
} files[] = {
    {"an empty file", ": > w1.csv", 1, "w1.csv:1: the file ends before its names"},
    {"a file of blanks", "printf '  \\n\\n' > w1.csv", 1,
     "w1.csv:1: the file ends before its names"},
    {"packed with gzip", "gzip -n w1.csv && mv w1.csv.gz w1.csv", 1,
     "w1.csv:1:1: the file is packed with gzip by its first bytes; limit: a text log; unpack it"},
    {"packed with xz", "printf '\\375\\067zXZ\\000\\000\\004' > w1.csv", 1,
     "w1.csv:1:1: the file is packed with xz"},
    {"an archive, or a sheet saved as itself", "printf 'PK\\003\\004\\024\\000' > w1.csv", 1,
     "w1.csv:1:1: the file is a ZIP archive, or a spreadsheet's own file"},
    {"a sheet of old", "printf '\\320\\317\\021\\340\\241\\261\\032\\341' > w1.csv", 1,
     "w1.csv:1:1: the file is a spreadsheet's own file of old"},
    {"a PDF", "printf '%%PDF-1.7\\n' > w1.csv", 1, "w1.csv:1:1: the file is a PDF"},
    {"a page in place of the log", "printf '<!DOCTYPE html>\\n<html>\\n' > w1.csv", 1,
     "w1.csv:1: no column is named"},
    {"another folder's file", "rm w1.csv && mkdir w1.csv", 1,
     "runs.csv:4: 'w1.csv' is a folder; a file is needed there"},
    {"gone", "rm w1.csv", 1, "there is no file 'w1.csv'"},
    {"a link that leads nowhere", "ln -sf /nowhere/w1.csv w1.csv", 1, "there is no file 'w1.csv'"},
    {"a link to itself", "rm w1.csv && ln -s w1.csv w1.csv", 1, "cannot open 'w1.csv'"},
    {"a placeholder of NUL bytes",
     "truncate -s 4096 w1.csv && cp w1.csv x && "
     "tr '[:print:]\\n' '\\000' < x > w1.csv",
     1, "w1.csv:1:1: 4096 NUL bytes"},
    {"more than 2 GiB", "truncate -s 2200M w1.csv", 1, "w1.csv:5:1: more than 1 MiB of NUL bytes"},
    {"a line of more than a mebibyte",
     "awk 'BEGIN {for (i = 0; i < 1100000; i++) printf \"7\"; print \"\"}' >> w1.csv", 1,
     "w1.csv:5:1: the line is longer than 1 MiB"},
    {"a name that is not ASCII",
     "mv w1.csv 'w\xC3\xA4gung \xE2\x84\x96 1.csv' && sed -i 's/w1.csv/w\xC3\xA4gung \xE2\x84\x96 "
     "1.csv/' "
     "runs.csv",
     0, NULL},
    {"the same name, other bytes", "sed -i 's/,900,2,/,901,2,/' w1.csv", 0, NULL},
    /* the run sheet after a spreadsheet */
    {"days before months", "sed -i 's#2026-03-01T10:00:00Z#01/03/2026 10:00#' runs.csv", 2,
     "runs.csv:4:12: start '01/03/2026 10:00'"},
    {"months before days", "sed -i 's#2026-03-01T10:00:00Z#3/1/26 10:00 AM#' runs.csv", 2,
     "runs.csv:4:12: start '3/1/26 10:00 AM'"},
    {"a spreadsheet's days", "sed -i 's#2026-03-01T10:00:00Z#46082.4166667#' runs.csv", 2,
     "runs.csv:4:12: start '46082.4166667'"},
    {"no zone", "sed -i 's#2026-03-01T10:00:00Z#2026-03-01T10:00:00#' runs.csv", 2,
     "runs.csv:4:12: start '2026-03-01T10:00:00': the zone is missing"},
    {"a day that is none", "sed -i 's#2026-03-01T10:00:00Z#2026-02-29T10:00:00Z#' runs.csv", 2,
     "runs.csv:4:12: start '2026-02-29T10:00:00Z'"},
    {"semicolons", "sed -i 's#,#;#g' runs.csv", 0, NULL},
    {"UTF-16", "iconv -f UTF-8 -t UTF-16 runs.csv > x && mv x runs.csv", 2,
     "runs.csv:1:1: the file is UTF-16"},
    {"a mark and CR LF", "sed -i '1s/^/\\xEF\\xBB\\xBF/;s/$/\\r/' runs.csv", 0, NULL},
    {"empty rows at the end", "printf ',,,,,,,,,,,\\n' >> runs.csv", 2, "runs.csv:9:1"},
    {"a run number that lost its zero",
     "sed -i 's/^W1,/01,/' runs.csv && printf "
     "'run,point,decision,who,when,why\\n1,1,exclude,A. B.,2026-03-02,door\\n' > decisions.csv",
     2, "decisions.csv:2:1"},
};

/* What of the season is not W1's, and all that ingest wrote of the others. */
static const char rest[] =
    "sqlite3 %s/season.sqlite \"SELECT * FROM run WHERE run <> 'W1'; SELECT run, position, file, "
    "map, "
    "sha256, bytes, rows FROM log WHERE run <> 'W1'; SELECT * FROM channel WHERE run <> 'W1'; "
    "SELECT "
    "run, point, time_s, rows, hex(statistics), hex(covariance) FROM point WHERE run <> 'W1'; "
    "SELECT "
    "run, point, subject, rule, state, detail FROM flag_row WHERE run <> 'W1'\" | sort | cksum";

static void check_file(const struct messy_file *file, char *before, char *out)
{
    char folder[64];
    CU_ASSERT_FATAL(refusal_folder_make(folder));
    CHECK(program_shell(out, "%s -C %s ingest && cd %s && cksum < season.sqlite > bytes",
                        program_lapwing(), folder, folder) == 0);
    CHECK(program_shell(before, rest, folder) == 0);
    CHECK(program_shell(out, "cd %s && { %s; }", folder, file->edit) == 0);
    CHECK_TEXT(out, "");
    int checked = program_shell(out, "%s -C %s check", program_lapwing(), folder);
    CHECK(checked == file->status);
    if (file->words != NULL)
        CHECK_CONTAINS(out, file->words);
    CHECK(program_shell(out, "cd %s && cksum < season.sqlite | cmp - bytes", folder) == 0);
    int status = program_shell(out, "%s -C %s ingest", program_lapwing(), folder);
    if (status != file->status || checked != status)
        (void)fprintf(stderr, "%s: exit %d and %d, not %d\n%s", file->name, checked, status,
                      file->status, out);
    CHECK(status == file->status);
    if (file->words != NULL)
        CHECK_CONTAINS(out, file->words);
    if (status == 2) /* nothing was done at all */
        CHECK(program_shell(out, "cd %s && cksum < season.sqlite | cmp - bytes", folder) == 0);
    CHECK(program_shell(out, rest, folder) == 0);
    CHECK_TEXT(out, before);
    CHECK(program_shell(out,
                        "sqlite3 %s/season.sqlite \"SELECT state, count(point) FROM run LEFT JOIN "
                        "point USING (run) WHERE run = 'W1'\"",
                        folder) == 0);
    CHECK_TEXT(out, status == 1 ? "quarantined|0\n" : "ok|2\n");
    program_remove(folder);
}

static void files_are_read_or_refused_by_name(void)
{
    char *before = malloc(PROGRAM_OUTPUT);
    char *out = malloc(PROGRAM_OUTPUT);
    CU_ASSERT_FATAL(before != NULL && out != NULL);
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
        unsigned failures = CU_get_number_of_failures();
        check_file(&files[i], before, out);
        if (CU_get_number_of_failures() > failures)
            CHECK_TEXT("the file that failed", files[i].name);
    }
    free(before);
    free(out);
}

CU_TestInfo messy_files_tests[] = {
    {"files are read or refused by name", files_are_read_or_refused_by_name}, CU_TEST_INFO_NULL};
