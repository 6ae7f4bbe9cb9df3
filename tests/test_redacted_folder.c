/* test_redacted_folder.c - nothing lies in the folder that is given away but what a redacted report wrote. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/report_redacted.h"
#include "tests/check.h"
#include "tests/scratch.h"
#include "tests/test_report_fixture.h"

static enum status write_redacted(const char *folder, enum redaction redaction, struct fault *fault)
{
    struct report_options options = {.redaction = redaction, .json = redaction == REDACT_NAMES};
    struct store *store = NULL;
    CHECK_OK(report_fixture_open(":memory:", NULL, &store, fault), fault);
    enum status status = store != NULL ? report_redacted(store, folder, &options, NULL, fault) : OK;
    CHECK_OK(store_close(store, NULL), NULL);
    return status;
}

static void what_lies_beside_is_refused(void)
{
    static const char *const names[] = {"notes.csv",    "deltas (1).csv",  "night.html.bak",
                                        "key.csv",      "night-mine.html", ".hidden",
                                        "glance_1.html"};
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 64];
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    CHECK_OK(write_redacted(folder, REDACT_NAMES, &fault), &fault);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        (void)snprintf(path, sizeof path, REPORT_REDACTED_FOLDER "/%s", names[i]);
        CHECK(scratch_write(folder, path, "names"));
        CHECK(write_redacted(folder, REDACT_NAMES, &fault) == BAD_INPUT);
        CHECK_CONTAINS(fault.text, names[i]);
        char *left = scratch_read(folder, path); /* not ours: left as it is */
        CHECK_TEXT(left, "names");
        free(left);
        (void)snprintf(path, sizeof path, "%s/" REPORT_REDACTED_FOLDER "/%s", folder, names[i]);
        CHECK(remove(path) == 0);
    }
    scratch_remove(folder);
}

/* Also where half of it was made by a killed process, or copied over from the report with names. */
static void what_is_left_of_another_report_goes(void)
{
    static const char *const names[] = {"points.json", "points.csv.part", "night.xlsx.making",
                                        "night-x.html.part"};
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 64];
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    CHECK_OK(write_redacted(folder, REDACT_NAMES, &fault), &fault);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        (void)snprintf(path, sizeof path, REPORT_REDACTED_FOLDER "/%s", names[i]);
        CHECK(scratch_write(folder, path, "names"));
    }
    CHECK(scratch_write(folder, REPORT_REDACTED_FOLDER "/night.html", "names"));
    CHECK_OK(write_redacted(folder, REDACT_LEVELS, &fault), &fault);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        (void)snprintf(path, sizeof path, REPORT_REDACTED_FOLDER "/%s", names[i]);
        CHECK(scratch_read(folder, path) == NULL);
    }
    char *page = scratch_read(folder, REPORT_REDACTED_FOLDER "/night.html");
    CHECK_CONTAINS(page, "Names are exchanged for ids.");
    free(page);
    scratch_remove(folder);
}

static void a_link_to_the_report_with_names_is_refused(void)
{
    char folder[SCRATCH_PATH];
    char command[200];
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    (void)snprintf(command, sizeof command, "mkdir %s/report && ln -s report %s/%s", folder, folder,
                   REPORT_REDACTED_FOLDER);
    CHECK(system(command) == 0);
    CHECK(write_redacted(folder, REDACT_NAMES, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "take the link away");
    scratch_remove(folder);
}

CU_TestInfo redacted_folder_tests[] = {
    {"what lies beside is refused", what_lies_beside_is_refused},
    {"what is left of another report goes", what_is_left_of_another_report_goes},
    {"a link to the report with names is refused", a_link_to_the_report_with_names_is_refused},
    CU_TEST_INFO_NULL};
