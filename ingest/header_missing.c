/* header_missing.c - see header_missing.h. */
#include "ingest/header_missing.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "ingest/near_name.h"

/* "'Time', 'Pt', ..." as far as there is room for. */
static void list_names(const struct header *header, char *out, size_t size)
{
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < header->n; i++) {
        const char *name = header->cells[i].name;
        if (used + strlen(name) + 10 > size) {
            (void)snprintf(out + used, size - used, " ...");
            return;
        }
        used += (size_t)snprintf(out + used, size - used, "%s'%s'", i > 0 ? ", " : "", name);
    }
}

/* Length of a name without the unit in brackets at its end. */
static size_t bare_length(const char *name)
{
    size_t length = strlen(name);
    char last = length > 0 ? name[length - 1] : '\0';
    const char *open = last == ']' ? strrchr(name, '[') : last == ')' ? strrchr(name, '(') : NULL;
    length = open != NULL ? (size_t)(open - name) : length;
    while (length > 0 && (name[length - 1] == ' ' || name[length - 1] == '\t'))
        length--;
    return length;
}

/* How a header cell differs from the name that is looked for, if it is nearly that; else NULL. */
static const char *difference_of(const struct header_cell *cell, const char *name)
{
    size_t length = strlen(name);
    size_t bare = bare_length(name);
    if (bare > 0 && bare == cell->bare && memcmp(cell->name, name, bare) == 0)
        return "in its unit";
    const char *difference = near_name_difference(name, length, cell->name, strlen(cell->name));
    if (difference == NULL && cell->own_unit != NULL)
        difference = near_name_difference(name, length, cell->name, cell->bare);
    return difference;
}

/* The nearest of the header cells that are nearly the name that is looked for, and how the two differ;
 * NULL: none. What the map names has its own column. */
static const char *find_near(const struct header *header, const char *name, size_t *index)
{
    const char *nearest = NULL;
    size_t least = SIZE_MAX;
    for (size_t i = 0; i < header->n; i++) {
        const struct header_cell *cell = &header->cells[i];
        const char *difference = cell->is_named ? NULL : difference_of(cell, name);
        size_t apart =
            near_name_distance(name, bare_length(name), cell->name, bare_length(cell->name));
        if (difference == NULL || apart >= least)
            continue;
        least = apart;
        nearest = difference;
        *index = i;
    }
    return nearest;
}

enum status header_missing(const struct header *header, const char *name, struct fault *fault)
{
    char names[400];
    size_t near = 0;
    enum status status = OK;
    const char *difference = find_near(header, name, &near);
    list_names(header, names, sizeof names);
    if (difference == NULL)
        status =
            FAIL(fault, BAD_INPUT,
                 "no column is named '%.80s'; the header has %s; correct the channel "
                 "map or the log%s",
                 name, names, header->n == 1 ? ", or preamble_rows if this is not the header" : "");
    else
        status = FAIL(fault, BAD_INPUT,
                      "no column is named '%.80s', but column %zu is '%.80s' and differs %s; the "
                      "header has %s; correct the channel map or the log",
                      name, near + 1, header->cells[near].name, difference, names);
    if (header->map_line > 0)
        fault_where(fault, "campaign.yaml:%zu", header->map_line);
    else
        fault_where(fault, "%s:%zu", header->file, header->line);
    return status;
}
