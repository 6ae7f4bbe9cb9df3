/* site_files.c - see site_files.h. */
#include "report/site_files.h"

#include <dirent.h>
#include <errno.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "report/report_files.h"
#include "schema/file_read.h"

static const char mark[] = "<meta name=\"generator\" content=\"lapwing\"/>";

/* 1 when the file holds exactly these bytes; what cannot be read is another file. */
static int is_same(const char *path, const struct buffer *text)
{
    char room[16384];
    size_t at = 0;
    size_t got = 0;
    int descriptor = -1;
    struct file_stamp stamp = {0};

    if (file_open_plain(path, path, &descriptor, &stamp, NULL) != OK)
        return 0;
    int same = (unsigned long long)stamp.bytes == text->length;
    while (same && file_read_some(descriptor, path, room, sizeof room, &got, NULL) == OK &&
           got > 0) {
        same = got <= text->length - at && memcmp(room, buffer_string(text) + at, got) == 0;
        at += got;
    }
    (void)close(descriptor);
    return same && at == text->length;
}

enum status site_save(const char *folder, const char *name, const struct buffer *text,
                      struct fault *fault)
{
    char path[REPORT_PATH];

    enum status status = report_path(folder, name, path, fault);
    if (status == OK)
        status = buffer_status(text, name, fault);
    if (status != OK || is_same(path, text))
        return status;
    return report_save(path, text, fault);
}

int site_is_page_name(const char *name)
{
    size_t length = strlen(name);

    return length > 11 && strcmp(name + length - 5, ".html") == 0 &&
           (strncmp(name, "night-", 6) == 0 || strncmp(name, "proof-", 6) == 0);
}

static int is_kept(const char *name, const struct page_name *kept, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(kept[i].text, name) == 0)
            return 1;
    return 0;
}

/* Adds what the file holds, `most` bytes of it or a little more; nothing of what cannot be read. */
static void read_some(const char *path, size_t most, struct buffer *text)
{
    char room[16384];
    size_t got = 1;
    int descriptor = -1;

    if (file_open_plain(path, path, &descriptor, NULL, NULL) != OK)
        return;
    while (text->length < most && got > 0 &&
           file_read_some(descriptor, path, room, sizeof room, &got, NULL) == OK)
        buffer_add(text, room, got);
    (void)close(descriptor);
}

static int is_ours(const char *path)
{
    char start[2048 + 1];
    struct buffer text = {0};

    read_some(path, sizeof start - 1, &text);
    (void)snprintf(start, sizeof start, "%s", text.length > 0 ? buffer_string(&text) : "");
    buffer_free(&text);
    return strstr(start, mark) != NULL;
}

int site_is_page(const char *folder, const char *name)
{
    char path[REPORT_PATH];

    return site_is_page_name(name) && report_path(folder, name, path, NULL) == OK && is_ours(path);
}

static enum status sweep_one(const char *folder, const char *name, struct fault *fault)
{
    char path[REPORT_PATH];

    enum status status = report_path(folder, name, path, fault);
    if (status != OK || !is_ours(path))
        return status;
    if (unlink(path) != 0 && errno != ENOENT)
        return FAIL(fault, WRITE_FAILED, "cannot remove the old page %s: %s", path,
                    strerror(errno));
    return OK;
}

/* Names of pages have no character that a link would write in another way. */
static int is_linked(const struct buffer *index, const char *name)
{
    char link[REPORT_PATH];
    int length = snprintf(link, sizeof link, "href=\"%s\"", name);

    return length > 0 && (size_t)length < sizeof link && index->length > 0 &&
           strstr(buffer_string(index), link) != NULL;
}

static enum status sweep_linked(const char *folder, const struct buffer *index,
                                const struct page_name *kept, size_t n, struct fault *fault)
{
    DIR *listing = opendir(folder);
    enum status status = OK;

    if (listing == NULL)
        return FAIL(fault, WRITE_FAILED, "cannot list the folder %s: %s", folder, strerror(errno));
    for (struct dirent *at = NULL; status == OK && (at = readdir(listing)) != NULL;)
        if (site_is_page_name(at->d_name) && !is_kept(at->d_name, kept, n) &&
            is_linked(index, at->d_name))
            status = sweep_one(folder, at->d_name, fault);
    (void)closedir(listing);
    return status;
}

enum status site_sweep(const char *folder, const struct page_name *kept, size_t n,
                       struct fault *fault)
{
    char path[REPORT_PATH];
    struct buffer index = {0};

    enum status status = report_path(folder, "index.html", path, fault);
    if (status != OK)
        return status;
    if (is_ours(path))
        read_some(path, SIZE_MAX, &index);
    status = buffer_status(&index, path, fault);
    if (status == OK)
        status = sweep_linked(folder, &index, kept, n, fault);
    buffer_free(&index);
    return status;
}
