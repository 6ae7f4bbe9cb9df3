/* test_init.c - schema/init_command.c and the scaffold. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "schema/campaign.h"
#include "schema/init_command.h"
#include "schema/init_scaffold.h"
#include "schema/quantity.h"
#include "tests/check.h"
#include "tests/scratch.h"

static void the_scaffold_is_a_campaign_without_a_problem(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 32];
    struct campaign *campaign = NULL;
    struct fault fault = {0};
    struct stat found;
    CHECK(scratch_make(folder));
    (void)snprintf(path, sizeof path, "%s/spring", folder);
    CHECK_OK(init_folder(path, &fault), &fault);
    CHECK_OK(campaign_read(path, &campaign, NULL, NULL, &fault), &fault);
    campaign_free(campaign);
    char *runs = scratch_read(path, "runs.csv");
    CHECK_TEXT(runs, "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,mounting,"
                     "note\n");
    free(runs);
    (void)snprintf(path, sizeof path, "%s/spring/logs", folder);
    CHECK(stat(path, &found) == 0 && S_ISDIR(found.st_mode));
    scratch_remove(folder);
}

static void the_scaffold_names_every_role_and_quantity(void)
{
    char folder[SCRATCH_PATH];
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    CHECK_OK(init_folder(folder, &fault), &fault);
    char *text = scratch_read(folder, "campaign.yaml");
    for (unsigned i = 0; i < ROLE_COUNT; i++)
        if (i != ROLE_TAP)
            CHECK_CONTAINS(text, role_name((enum role)i));
    for (unsigned i = 0; i < QUANTITY_COUNT; i++)
        CHECK_CONTAINS(text, quantity_row((enum quantity)i)->symbol);
    free(text);
    scratch_remove(folder);
}

/* The text with the # and the blank of every line between two marks taken off. */
static void take_comments_off(char *text, const char *from, const char *to)
{
    char *end = strstr(text, to);
    char *at = strstr(text, from);
    CHECK(at != NULL && end != NULL && at < end);
    if (at == NULL || end == NULL)
        return;
    for (at = strchr(at, '\n'); at != NULL && at < end; at = strchr(at + 1, '\n'))
        if (at[1] == '#' && at[2] == ' ') {
            memmove(at + 1, at + 3, strlen(at + 3) + 1);
            end -= 2;
        }
}

static void the_examples_in_comments_are_true(void)
{
    char folder[SCRATCH_PATH];
    struct campaign *campaign = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    CHECK_OK(init_folder(folder, &fault), &fault);
    char *text = scratch_read(folder, "campaign.yaml");
    CHECK(text != NULL);
    if (text == NULL)
        return;
    take_comments_off(text, "# Two more maps as examples", "attitudes:\n");
    CHECK(scratch_write(folder, "campaign.yaml", text));
    free(text);
    CHECK_OK(campaign_read(folder, &campaign, NULL, NULL, &fault), &fault);
    const struct channel_map *loads = campaign != NULL ? campaign_map(campaign, "loads") : NULL;
    const struct channel_map *ready =
        campaign != NULL ? campaign_map(campaign, "coefficients") : NULL;
    CHECK(campaign != NULL && campaign->n_maps == 4);
    CHECK(loads != NULL && loads->n_columns == 11);
    CHECK(ready != NULL && ready->columns[2].sign == -1);
    campaign_free(campaign);
    scratch_remove(folder);
}

static void nothing_is_overwritten(void)
{
    size_t n = 0;
    const struct scaffold_file *files = init_scaffold(&n);
    for (size_t i = 0; i < n; i++) {
        char folder[SCRATCH_PATH];
        char path[SCRATCH_PATH + 32];
        struct fault fault = {0};
        CHECK(scratch_make(folder));
        (void)snprintf(path, sizeof path, "%s/balance", folder);
        CHECK(mkdir(path, 0777) == 0);
        CHECK(scratch_write(folder, files[i].name, "mine"));
        CHECK(init_folder(folder, &fault) == BAD_INPUT);
        CHECK_CONTAINS(fault.text, files[i].name);
        char *text = scratch_read(folder, files[i].name);
        CHECK_TEXT(text, "mine");
        free(text);
        for (size_t k = 0; k < n; k++) {
            char *other = k != i ? scratch_read(folder, files[k].name) : NULL;
            CHECK(other == NULL); /* and nothing was written either */
            free(other);
        }
        scratch_remove(folder);
    }
}

static void a_folder_that_cannot_be_is_told(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 32];
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    (void)snprintf(path, sizeof path, "%s/none/spring", folder);
    CHECK(init_folder(path, &fault) == WRITE_FAILED);
    CHECK(scratch_write(folder, "logs", "a file"));
    CHECK(init_folder(folder, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "not a folder");
    scratch_remove(folder);
}

static int run(const char *folder, int argc, const char *first, const char *second,
               struct fault *fault)
{
    char words[3][64];
    char *argv[] = {words[0], words[1], words[2], NULL};
    const struct common_options common = {.folder = folder, .quiet = 1};
    (void)snprintf(words[0], sizeof words[0], "init");
    (void)snprintf(words[1], sizeof words[1], "%s", first);
    (void)snprintf(words[2], sizeof words[2], "%s", second);
    argv[argc] = NULL;
    return init_command.run(&common, argc, argv, fault);
}

static void the_command_takes_one_folder_or_none(void)
{
    char folder[SCRATCH_PATH];
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    CHECK(run("/nowhere", 3, folder, "two", &fault) == 2);
    CHECK_CONTAINS(fault.text, "one folder");
    CHECK(run("/nowhere", 2, "--force", "", &fault) == 2);
    CHECK_CONTAINS(fault.text, "--force");
    CHECK(run("/nowhere", 2, folder, "", &fault) == 0);
    CHECK(run(folder, 1, "", "", &fault) == 2); /* it is there already */
    CHECK_CONTAINS(fault.text, "not overwritten");
    scratch_remove(folder);
}

CU_TestInfo init_tests[] = {
    {"the scaffold is a campaign without a problem", the_scaffold_is_a_campaign_without_a_problem},
    {"the scaffold names every role and quantity", the_scaffold_names_every_role_and_quantity},
    {"the examples in comments are true", the_examples_in_comments_are_true},
    {"nothing is overwritten", nothing_is_overwritten},
    {"a folder that cannot be is told", a_folder_that_cannot_be_is_told},
    {"the command takes one folder or none", the_command_takes_one_folder_or_none},
    CU_TEST_INFO_NULL};
