/* contents.c - see contents.h. */
#include "schema/contents.h"

#include <stdio.h>
#include <string.h>

static const struct cell_group_row groups[CELL_GROUPS] = {
    {CELLS_WHEEL_DRAG, "wheel drag", "wheels", 0, ROLE_WHEEL_DRAG_FRONT_LEFT, 4},
    {CELLS_WHEEL_LOADS, "wheel loads", "wheels", 1, ROLE_WHEEL_LOAD_FRONT_LEFT, 4},
    {CELLS_BELT_DRAG, "belt drag", "belt", 0, ROLE_BELT_DRAG, 1},
    {CELLS_BELT_LOAD, "belt load", "belt", 1, ROLE_BELT_LOAD, 1},
};

const struct cell_group_row *cell_group_row(size_t i)
{
    return &groups[i];
}

const struct cell_group_row *cell_group_of(enum role role)
{
    for (size_t i = 0; i < CELL_GROUPS; i++)
        if (role >= groups[i].first && (int)role < (int)groups[i].first + groups[i].roles)
            return &groups[i];
    return NULL;
}

/* The next part of a list and its length; NULL at the end. *list goes on behind it. */
static const char *next_part(const char **list, size_t *length)
{
    const char *part = *list + strspn(*list, ", ");
    if (*part == '\0')
        return NULL;
    *length = strcspn(part, ",");
    *list = part + *length;
    while (part[*length - 1] == ' ')
        --*length;
    return part;
}

static int has(const char *list, const char *wanted, size_t wanted_length)
{
    size_t length = 0;
    const char *part = NULL;
    while ((part = next_part(&list, &length)) != NULL)
        if (length == wanted_length && strncmp(part, wanted, length) == 0)
            return 1;
    return 0;
}

int contents_has(const char *list, const char *part)
{
    return has(list, part, strlen(part));
}

static int is_within(const char *list, const char *other)
{
    size_t length = 0;
    const char *part = NULL;
    while ((part = next_part(&list, &length)) != NULL)
        if (!has(other, part, length))
            return 0;
    return 1;
}

static int is_same(const char *a, const char *b)
{
    return is_within(a, b) && is_within(b, a);
}

int contents_same(const struct load_contents *a, const struct load_contents *b)
{
    return is_same(a->drag, b->drag) && is_same(a->downforce, b->downforce);
}

static void add_part(char *list, const char *part)
{
    size_t used = strlen(list);
    if (!contents_has(list, part))
        (void)snprintf(list + used, CONTENTS_ROOM - used, "%s%s", used > 0 ? ", " : "", part);
}

void contents_make(const struct facility *facility, const struct balance *balance, int with_cells,
                   struct load_contents *contents)
{
    const char *own = facility->contains;
    if (balance != NULL && balance->contains != NULL)
        own = balance->contains;
    (void)snprintf(contents->drag, sizeof contents->drag, "%.*s", (int)CONTENTS_MAX,
                   own == NULL ? "" : own);
    memcpy(contents->downforce, contents->drag, sizeof contents->downforce);
    for (size_t i = 0; with_cells && i < CELL_GROUPS; i++)
        if (facility->added_cells & (unsigned)groups[i].group)
            add_part(groups[i].is_load ? contents->downforce : contents->drag, groups[i].part);
}

/* The list again without the part, its own spelling kept. */
static void take_out(char *list, const char *part)
{
    char kept[CONTENTS_ROOM] = "";
    size_t used = 0;
    for (const char *word = list; *word != '\0';) {
        char one[CONTENTS_ROOM];
        word += strspn(word, " ");
        size_t length = strcspn(word, ",");
        (void)snprintf(one, sizeof one, "%.*s", (int)length, word);
        if (!contents_has(one, part) && one[0] != '\0' && used < sizeof kept)
            used += (size_t)snprintf(kept + used, sizeof kept - used, "%s%s", used > 0 ? ", " : "",
                                     one);
        word += length;
        word += *word == ',';
    }
    (void)snprintf(list, CONTENTS_ROOM, "%s", kept);
}

void contents_take_out(struct load_contents *contents, const char *part)
{
    take_out(contents->drag, part);
    take_out(contents->downforce, part);
}

void contents_say(const struct load_contents *contents, char *out, size_t size)
{
    if (is_same(contents->drag, contents->downforce))
        (void)snprintf(out, size, "%s", contents->drag);
    else
        (void)snprintf(out, size, "drag: %s; downforce: %s", contents->drag, contents->downforce);
}
