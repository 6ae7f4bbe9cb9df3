/* entry.c - the entries of a season, the latest first; see entry.h. */
#include "schema/entry.h"

#include <stdlib.h>
#include <string.h>

static const char entries_sql[] =
    "SELECT facility, entry FROM run GROUP BY facility, entry "
    "ORDER BY max(CASE WHEN kind = 'wind_on' THEN start_s END) DESC NULLS LAST, facility, entry";

static char *copy_of(const char *text)
{
    size_t size = strlen(text) + 1;
    char *copy = malloc(size);

    if (copy != NULL)
        memcpy(copy, text, size);
    return copy;
}

/* Room for one more. 0: no memory, and *entries is as it was. */
static int reserve(struct season_entries *entries)
{
    if (entries->n < entries->capacity)
        return 1;
    size_t wanted = entries->capacity > 0 ? 2 * entries->capacity : 8;
    struct season_entry *bigger = realloc(entries->items, wanted * sizeof *bigger);
    if (bigger == NULL)
        return 0;
    entries->items = bigger;
    entries->capacity = wanted;
    return 1;
}

static enum status add(struct season_entries *entries, struct statement *row, struct fault *fault)
{
    if (!reserve(entries))
        return FAIL(fault, NO_MEMORY, "no memory for %zu entries of the season", entries->n + 1);
    struct season_entry *added = &entries->items[entries->n++];
    added->facility = copy_of(statement_text(row, 0));
    added->entry = copy_of(statement_text(row, 1));
    if (added->facility == NULL || added->entry == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the names of an entry");
    return OK;
}

enum status entries_read(struct store *store, struct season_entries *entries, struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;

    *entries = (struct season_entries){0};
    enum status status = statement_prepare(store, entries_sql, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more)
        status = add(entries, row, fault);
    statement_free(row);
    if (status != OK)
        entries_end(entries);
    return status;
}

void entries_end(struct season_entries *entries)
{
    for (size_t i = 0; i < entries->n; i++) {
        free(entries->items[i].facility);
        free(entries->items[i].entry);
    }
    free(entries->items);
    *entries = (struct season_entries){0};
}
