/* scratch.c - see scratch.h. */
#include "tests/scratch.h"

#include <dirent.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

int scratch_make(char folder[SCRATCH_PATH])
{
    (void)snprintf(folder, SCRATCH_PATH, "/tmp/lapwing-test-XXXXXX");
    return mkdtemp(folder) != NULL;
}

static void remove_at(const char *path, int depth);

static void remove_entries(const char *path, int depth)
{
    DIR *folder = opendir(path);
    if (folder == NULL)
        return; /* a file */
    for (struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        char inside[512];
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
            continue;
        (void)snprintf(inside, sizeof inside, "%s/%s", path, entry->d_name);
        remove_at(inside, depth + 1);
    }
    (void)closedir(folder);
}

/* A link is taken out as one: what it points at belongs to others. */
static void remove_at(const char *path, int depth)
{
    enum { DEEPEST = 8 };
    if (unlink(path) == 0)
        return;
    if (depth < DEEPEST)
        remove_entries(path, depth);
    (void)remove(path);
}

void scratch_remove(const char *folder)
{
    remove_at(folder, 0);
}

int scratch_write(const char *folder, const char *name, const char *text)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "wb");
    if (file == NULL)
        return 0;
    int written = fwrite(text, 1, strlen(text), file) == strlen(text);
    return fclose(file) == 0 && written;
}

char *scratch_read(const char *folder, const char *name)
{
    enum { MOST = 1 << 20 };
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        return NULL;
    char *text = malloc(MOST);
    size_t size = text != NULL ? fread(text, 1, MOST - 1, file) : 0;
    (void)fclose(file);
    if (text != NULL)
        text[size] = '\0';
    return text;
}

/* Turns up to most places of from in text into to; NULL when there is none. */
static char *edited(const char *text, const char *from, const char *to, int most)
{
    char *made = NULL;
    size_t size = 0;
    const char *at = strstr(text, from);
    FILE *out = at != NULL ? open_memstream(&made, &size) : NULL;
    if (out == NULL)
        return NULL;
    for (int i = 0; i < most && at != NULL; i++) {
        (void)fprintf(out, "%.*s%s", (int)(at - text), text, to);
        text = at + strlen(from);
        at = strstr(text, from);
    }
    (void)fputs(text, out);
    if (fclose(out) == 0)
        return made;
    free(made);
    return NULL;
}

static int edit(const char *folder, const char *name, const char *from, const char *to, int most)
{
    char *text = scratch_read(folder, name);
    char *made = text != NULL ? edited(text, from, to, most) : NULL;
    int done = made != NULL && scratch_write(folder, name, made);
    free(text);
    free(made);
    return done;
}

int scratch_edit(const char *folder, const char *name, const char *from, const char *to)
{
    return edit(folder, name, from, to, 1);
}

int scratch_edit_all(const char *folder, const char *name, const char *from, const char *to)
{
    return edit(folder, name, from, to, INT_MAX);
}

int scratch_replace(const char *folder, const char *name, const char *from, const char *to)
{
    char text[16384];
    char *was = scratch_read(folder, name);
    const char *at = was == NULL ? NULL : strstr(was, from);
    int length = -1;
    if (at != NULL)
        length =
            snprintf(text, sizeof text, "%.*s%s%s", (int)(at - was), was, to, at + strlen(from));
    free(was);
    return length >= 0 && (size_t)length < sizeof text && scratch_write(folder, name, text);
}
