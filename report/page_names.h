/* page_names.h - names of a season's files from names that people gave, safe on every file system.
 *
 * "night-saltmarsh-2026-02.html": letters, digits, '.', '_' and '-' of ASCII stay, all else becomes one '-'.
 * Two that would be one file, large and small letters alike, are numbered in the order they are asked for,
 * the oldest first, so that a new entry or configuration never takes an old one's name.               */
#ifndef LAPWING_REPORT_PAGE_NAMES_H
#define LAPWING_REPORT_PAGE_NAMES_H

#include <stddef.h>

#include "report/query.h"
#include "schema/entry.h"

enum { PAGE_NAME = 96 };

struct page_name {
    char text[PAGE_NAME];
};

struct page_names {
    void *items; /* struct page_name, given so far */
    size_t n, capacity;
};

/* The next file name, PREFIX-NAME.html or PREFIX-NAME-2.html; *file lasts as long as the call's caller. */
enum status page_names_give(struct page_names *names, const char *prefix, const char *name,
                            struct page_name *file, struct fault *fault);
void page_names_free(struct page_names *names);

/* The file of each entry, in the order of *entries; of a configuration of the season. files has room for
 * entries->n. NOT_FOUND for a configuration that the season does not have. */
enum status page_names_nights(const struct season_entries *entries, struct page_name *files,
                              struct fault *fault);
enum status page_names_proof(struct store *store, const char *configuration, struct page_name *file,
                             struct fault *fault);

#endif
