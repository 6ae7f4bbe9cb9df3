/* test_season_site.c - every page of a season: all there, linked, written when they change, removed when
 * they are the program's own and of nothing that is left. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "report/page_names.h"
#include "report/report_command.h"
#include "tests/check.h"
#include "tests/scratch.h"
#include "tests/test_report_fixture.h"

static struct store *open_season(void)
{
    static const struct report_fixture_entry january = {"January", "J", 2000, -2592000.0, 2.0};
    struct store *store = NULL;
    struct fault fault = {0};

    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    CHECK_OK(report_fixture_add_entry(store, &january, &fault), &fault);
    return store;
}

static void check_file(const char *folder, const char *file, const char *const *wanted)
{
    char *text = scratch_read(folder, file);

    CHECK(text != NULL);
    for (size_t i = 0; text != NULL && wanted[i] != NULL; i++)
        CHECK_CONTAINS(text, wanted[i]);
    free(text);
}

static void every_entry_has_a_page_and_the_index_leads_there(void)
{
    static const char *const index[] = {"<a href=\"night-saltmarsh-January.html\">January</a>",
                                        "<a href=\"night-saltmarsh-February.html\">February</a>",
                                        "W2 beats C0 by the most: +48 \xC2\xB1 12 counts",
                                        "W2 beats C0 by the most: +23.8",
                                        "20 of 21",
                                        ">Flags that failed or refused</th>",
                                        "\xC2\xB1 7.9 counts of downforce",
                                        "tap-frozen, 20; ",
                                        "No limits are drawn: 2 entries",
                                        "<a href=\"proof-W2.html\">W2</a>",
                                        "+12.1 \xC2\xB1 5.8 counts of downforce",
                                        "no change that matters",
                                        NULL};
    static const char *const older[] = {"W2 beats C0 by the most: +48 \xC2\xB1 12 counts",
                                        "This page is about entry January at saltmarsh; the season "
                                        "also holds: February at saltmarsh.",
                                        "href=\"index.html\"", NULL};
    static const char *const proof[] = {"W2 changes downforce against C0 by +23.8", NULL};
    char folder[SCRATCH_PATH];
    struct store *store = open_season();
    struct fault fault = {0};

    CHECK(scratch_make(folder));
    CHECK_OK(report_write(store, folder, NULL, &fault), &fault);
    check_file(folder, "report/index.html", index);
    check_file(folder, "report/night-saltmarsh-January.html", older);
    check_file(folder, "report/proof-W2.html", proof);
    char *latest = scratch_read(folder, "report/night.html");
    char *named = scratch_read(folder, "report/night-saltmarsh-February.html");
    CHECK(latest != NULL && named != NULL && strcmp(latest, named) == 0);
    free(latest);
    free(named);
    CHECK(scratch_read(folder, "report/proof-C0.html") == NULL); /* a baseline proves nothing */
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folder);
}

/* A page that is written anew is another file: it is renamed into its place. */
static ino_t file_of(const char *folder, const char *name)
{
    struct stat about = {0};
    char path[SCRATCH_PATH + 80];

    (void)snprintf(path, sizeof path, "%s/report/%s", folder, name);
    CHECK(stat(path, &about) == 0);
    return about.st_ino;
}

static void only_what_changed_is_written(void)
{
    char folder[SCRATCH_PATH];
    struct store *store = open_season();
    struct fault fault = {0};

    CHECK(scratch_make(folder));
    CHECK_OK(report_write(store, folder, NULL, &fault), &fault);
    ino_t january = file_of(folder, "night-saltmarsh-January.html");
    ino_t february = file_of(folder, "night-saltmarsh-February.html");
    ino_t sheet = file_of(folder, "proof-W5.html");
    CHECK_OK(
        store_execute(store,
                      "UPDATE delta_result SET delta = delta + 1e-3 WHERE configuration = 'W2' "
                      "AND reduction = 100",
                      &fault),
        &fault);
    CHECK_OK(report_write(store, folder, NULL, &fault), &fault);
    CHECK(file_of(folder, "night-saltmarsh-January.html") == january);
    CHECK(file_of(folder, "proof-W5.html") == sheet);
    CHECK(file_of(folder, "night-saltmarsh-February.html") != february);
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folder);
}

static void pages_of_what_is_gone_are_removed_if_ours(void)
{
    static const char ours[] = "<html><head><meta name=\"generator\" content=\"lapwing\"/></head>";
    char folder[SCRATCH_PATH];
    struct store *store = open_season();
    struct fault fault = {0};

    CHECK(scratch_make(folder));
    CHECK_OK(report_write(store, folder, NULL, &fault), &fault);
    CHECK(scratch_write(folder, "report/night-old.html", ours));
    CHECK(scratch_write(folder, "report/proof-saved.html", ours));
    CHECK(scratch_write(folder, "report/notes.html", ours));
    CHECK(scratch_write(folder, "report/night-mine.html", "<p>written by hand"));
    CHECK_OK(report_write(store, folder, NULL, &fault), &fault);
    static const char *const stay[] = {"report/night-old.html", "report/proof-saved.html",
                                       "report/notes.html", "report/night-mine.html"};
    for (size_t i = 0; i < sizeof stay / sizeof stay[0]; i++) {
        char *kept = scratch_read(folder, stay[i]);
        CHECK(kept != NULL);
        free(kept);
    }
    CHECK_OK(store_execute(store, "DELETE FROM run WHERE entry = 'January'", &fault), &fault);
    CHECK_OK(report_write(store, folder, NULL, &fault), &fault);
    CHECK(scratch_read(folder, "report/night-saltmarsh-January.html") == NULL);
    CHECK(scratch_write(folder, "report/index.html",
                        "<html><head><meta name=\"generator\" content=\"lapwing\"/></head>"
                        "<a href=\"night-old.html\">old</a><a href=\"night-mine.html\">mine</a>"));
    CHECK_OK(report_write(store, folder, NULL, &fault), &fault);
    CHECK(scratch_read(folder, "report/night-old.html") == NULL);
    char *mine = scratch_read(folder, "report/night-mine.html"); /* led to, but not the program's */
    CHECK(mine != NULL);
    free(mine);
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folder);
}

static void names_are_safe_and_apart(void)
{
    static const struct {
        const char *name, *file;
    } names[] = {{"floor edge", "proof-floor-edge.html"},
                 {"Floor/Edge", "proof-Floor-Edge-2.html"},
                 {"../../etc/passwd", "proof-..-..-etc-passwd.html"},
                 {"floor-edge-2", "proof-floor-edge-2-2.html"},
                 {"\xC3\xA4\xE2\x80\xAE", "proof-x.html"},
                 {"", "proof-x-2.html"},
                 {"a<b>\"c", "proof-a-b-c.html"},
                 {"end...", "proof-end.html"}};
    struct page_names given = {0};
    struct page_name file;
    struct fault fault = {0};

    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        CHECK_OK(page_names_give(&given, "proof", names[i].name, &file, &fault), &fault);
        CHECK_TEXT(file.text, names[i].file);
    }
    page_names_free(&given);
}

CU_TestInfo season_site_tests[] = {
    {"every entry has a page, and the index leads there",
     every_entry_has_a_page_and_the_index_leads_there},
    {"only what changed is written", only_what_changed_is_written},
    {"pages of what is gone are removed if ours", pages_of_what_is_gone_are_removed_if_ours},
    {"names are safe and apart", names_are_safe_and_apart},
    CU_TEST_INFO_NULL};
