/* redacted_folder.c - see redacted_folder.h. */
#include "report/redacted_folder.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "report/report_tables.h"
#include "report/site_files.h"

enum { LEVELS_UP = 256 };

static int is_same(const struct stat *a, const struct stat *b)
{
    return a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

/* 1 when path lies in the folder or below it, links followed; -1 when its own folder can't be found. */
static int lies_in(const char *path, const struct stat *folder)
{
    struct buffer at = {0};
    struct stat here;
    struct stat above;
    const char *slash = strrchr(path, '/');
    int found = -1;

    buffer_add(&at, path, slash != NULL ? (size_t)(slash - path) + 1 : 0);
    buffer_text(&at, ".");
    if (!at.failed && stat(buffer_string(&at), &here) == 0)
        found = is_same(&here, folder);
    for (int i = 0; found == 0 && i < LEVELS_UP; i++) {
        buffer_text(&at, "/..");
        if (at.failed || stat(buffer_string(&at), &above) != 0)
            found = -1;
        else if (is_same(&above, &here))
            break;
        else
            found = is_same(&above, folder);
        here = above;
    }
    buffer_free(&at);
    return found;
}

/* As lies_in(), of the campaign's redacted folder: in one that is not there lies nothing. */
static enum status find_in(const char *campaign, const char *path, int *found,
                           char report[REPORT_PATH], struct fault *fault)
{
    struct stat folder = {0};

    enum status status = report_path(campaign, REPORT_REDACTED_FOLDER, report, fault);
    int is_there = status == OK && stat(report, &folder) == 0;
    *found = status == OK ? lies_in(path, &folder) : -1;
    if (*found > 0 && !is_there)
        *found = 0;
    return status;
}

enum status redacted_folder_key(const char *campaign, const char *key, struct fault *fault)
{
    char report[REPORT_PATH];
    int found = 0;

    enum status status = find_in(campaign, key, &found, report, fault);
    if (status != OK)
        return status;
    if (found < 0)
        return FAIL(fault, BAD_INPUT, "the folder of the key %s cannot be found: %s", key,
                    strerror(errno));
    if (found > 0)
        return FAIL(fault, BAD_INPUT,
                    "the key %s would lie among the files that are given away; name a file "
                    "outside %s",
                    key, report);
    return OK;
}

enum status redacted_folder_names(const char *campaign, const char *output, struct fault *fault)
{
    char report[REPORT_PATH];
    int found = 0;

    enum status status = find_in(campaign, output, &found, report, fault);
    if (status == OK && found > 0)
        return FAIL(fault, BAD_INPUT,
                    "%s would lie with its names among the files that are given away; name a file "
                    "outside %s, or give --redact",
                    output, report);
    return status;
}

/* ---- what is in it ------------------------------------------------------------------------------- */

static int is_table(const char *name)
{
    char file[TABLE_FILE];

    for (size_t i = 0; report_tables[i] != NULL; i++)
        for (int json = 0; json < 2; json++) {
            table_file(report_tables[i], json ? TABLE_JSON : TABLE_CSV, file);
            if (strcmp(file, name) == 0)
                return 1;
        }
    return 0;
}

/* 1 for what a redacted report writes, half-written files of a killed one included. */
static int is_own(const char *report, const char *name)
{
    static const char *const plain[] = {"night.html", "index.html", "night.xlsx",
                                        "night.xlsx.making"};
    char whole[256];
    size_t length = strlen(name);

    if (length >= sizeof whole)
        return 0;
    int is_part = length > 5 && strcmp(name + length - 5, ".part") == 0;
    (void)snprintf(whole, sizeof whole, "%.*s", (int)(length - (is_part ? 5 : 0)), name);
    for (size_t i = 0; i < sizeof plain / sizeof plain[0]; i++)
        if (strcmp(whole, plain[i]) == 0)
            return 1;
    return is_table(whole) || (is_part ? site_is_page_name(whole) : site_is_page(report, name));
}

typedef enum status look_at(const char *report, const char *name, struct fault *fault);

static enum status each(const char *report, look_at *look, struct fault *fault)
{
    DIR *listing = opendir(report);
    enum status status = OK;

    if (listing == NULL)
        return FAIL(fault, WRITE_FAILED, "cannot list the folder %s: %s", report, strerror(errno));
    for (struct dirent *at = NULL; status == OK && (at = readdir(listing)) != NULL;)
        if (strcmp(at->d_name, ".") != 0 && strcmp(at->d_name, "..") != 0)
            status = look(report, at->d_name, fault);
    (void)closedir(listing);
    return status;
}

static enum status refuse_foreign(const char *report, const char *name, struct fault *fault)
{
    if (is_own(report, name))
        return OK;
    return FAIL(fault, BAD_INPUT,
                "%s holds %.200s, which no redacted report writes and which would be given away "
                "with it; take it out of the folder",
                report, name);
}

static enum status clear_one(const char *report, const char *name, struct fault *fault)
{
    char path[REPORT_PATH];

    if (!is_own(report, name))
        return OK;
    enum status status = report_path(report, name, path, fault);
    return status == OK ? report_remove(path, fault) : status;
}

enum status redacted_folder_open(const char *campaign, char report[REPORT_PATH],
                                 struct fault *fault)
{
    struct stat here;
    struct stat other;
    char named[REPORT_PATH];

    enum status status = report_path(campaign, "report", named, fault);
    if (status == OK)
        status = report_folder_named(campaign, REPORT_REDACTED_FOLDER, report, fault);
    if (status == OK && stat(report, &here) == 0 && stat(named, &other) == 0 &&
        is_same(&here, &other))
        return FAIL(fault, BAD_INPUT,
                    "%s is the folder of the reports with names; take the link away", report);
    return status == OK ? each(report, refuse_foreign, fault) : status;
}

enum status redacted_folder_clear(const char *report, struct fault *fault)
{
    return each(report, clear_one, fault);
}
