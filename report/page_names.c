/* page_names.c - see page_names.h. */
#include "report/page_names.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/buffer.h"

enum { MOST = 60 }; /* bytes of a name that are kept */

static int stays(char byte)
{
    return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
           (byte >= '0' && byte <= '9') || byte == '_' || byte == '.' || byte == '-';
}

static void make_safe(const char *name, char out[MOST + 1])
{
    size_t n = 0;

    for (const char *at = name; *at != '\0' && n < MOST; at++) {
        char kept = stays(*at) ? *at : '-';
        if (kept != '-' || (n > 0 && out[n - 1] != '-'))
            out[n++] = kept;
    }
    while (n > 0 && (out[n - 1] == '-' || out[n - 1] == '.'))
        n--;
    out[n] = '\0';
    if (n == 0)
        (void)snprintf(out, MOST + 1, "x");
}

static char small(char letter)
{
    return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

static int same_file(const char *a, const char *b)
{
    while (*a != '\0' && small(*a) == small(*b)) {
        a++;
        b++;
    }
    return *a == '\0' && *b == '\0';
}

static int is_given(const struct page_names *names, const char *file)
{
    const struct page_name *items = names->items;

    for (size_t i = 0; i < names->n; i++)
        if (same_file(items[i].text, file))
            return 1;
    return 0;
}

enum status page_names_give(struct page_names *names, const char *prefix, const char *name,
                            struct page_name *file, struct fault *fault)
{
    char safe[MOST + 1];

    make_safe(name, safe);
    (void)snprintf(file->text, sizeof file->text, "%.12s-%s.html", prefix, safe);
    for (size_t number = 2; is_given(names, file->text); number++)
        (void)snprintf(file->text, sizeof file->text, "%.12s-%s-%zu.html", prefix, safe, number);
    struct page_name *added =
        query_append(&names->items, &names->n, &names->capacity, sizeof *added, fault);
    if (added == NULL)
        return NO_MEMORY;
    *added = *file;
    return OK;
}

void page_names_free(struct page_names *names)
{
    free(names->items);
    *names = (struct page_names){0};
}

enum status page_names_nights(const struct season_entries *entries, struct page_name *files,
                              struct fault *fault)
{
    struct page_names names = {0};
    struct buffer whole = {0};
    enum status status = OK;

    for (size_t i = entries->n; status == OK && i-- > 0;) {
        buffer_clear(&whole);
        buffer_format(&whole, "%s-%s", entries->items[i].facility, entries->items[i].entry);
        status = buffer_status(&whole, "the name of a page", fault);
        if (status == OK)
            status = page_names_give(&names, "night", buffer_string(&whole), &files[i], fault);
    }
    buffer_free(&whole);
    page_names_free(&names);
    return status;
}

struct search {
    struct page_names names;
    const char *wanted;
    struct page_name *file;
    int is_found;
};

static enum status take_configuration(struct statement *row, void *context, struct fault *fault)
{
    struct search *search = context;
    const char *name = statement_text(row, 0);
    struct page_name file;

    enum status status = page_names_give(&search->names, "proof", name, &file, fault);
    if (status == OK && strcmp(name, search->wanted) == 0) {
        *search->file = file;
        search->is_found = 1;
    }
    return status;
}

enum status page_names_proof(struct store *store, const char *configuration, struct page_name *file,
                             struct fault *fault)
{
    struct search search = {.wanted = configuration, .file = file};

    enum status status = query_each(
        store, "SELECT configuration FROM configuration ORDER BY sequence, configuration", NULL,
        take_configuration, &search, fault);
    page_names_free(&search.names);
    if (status == OK && !search.is_found)
        return FAIL(fault, NOT_FOUND,
                    "the season has no configuration '%.80s'; see configurations.csv",
                    configuration);
    return status;
}
