/* campaign_cells.c - what a facility's loads contain, and the cells that are added to them. */
#include <stdio.h>
#include <string.h>

#include "schema/campaign_reader.h"
#include "schema/contents.h"

static int read_parts(struct campaign_reader *reader, int node, const char *key, char **target)
{
    if (!campaign_text(reader, node, key, target))
        return 0;
    if (strlen(*target) <= CONTENTS_MAX)
        return 1;
    campaign_trouble(reader, node, "%s has %zu characters; limit %d; write a list of parts", key,
                     strlen(*target), (int)CONTENTS_MAX);
    return 0;
}

void campaign_read_contains(struct campaign_reader *reader, int node, void *whole)
{
    struct facility *facility = whole;
    if (facility->contains == NULL) /* else balance_contains is there too, which is reported */
        (void)read_parts(reader, node, "contains", &facility->contains);
}

void campaign_read_balance_contains(struct campaign_reader *reader, int node, void *whole)
{
    struct facility *facility = whole;
    facility->contains_balance = 1;
    if (facility->contains == NULL)
        (void)read_parts(reader, node, "balance_contains", &facility->contains);
}

void campaign_read_contains_of_balance(struct campaign_reader *reader, int node, void *whole)
{
    (void)read_parts(reader, node, "contains", &((struct balance *)whole)->contains);
}

static unsigned group_of_word(const char *word, size_t length)
{
    for (size_t i = 0; i < CELL_GROUPS; i++) {
        const struct cell_group_row *row = cell_group_row(i);
        if (strlen(row->name) == length && strncmp(row->name, word, length) == 0)
            return (unsigned)row->group;
    }
    return 0;
}

void campaign_read_add_cells(struct campaign_reader *reader, int node, void *whole)
{
    struct facility *facility = whole;
    const char *word = yaml_tree_text(reader->tree, node);
    if (strcspn(word, ", ") == 0)
        campaign_trouble(reader, node, "add_cells names no cells; write some, or leave it out");
    while (*word != '\0') {
        size_t length = strcspn(word, ",");
        size_t trimmed = length;
        while (trimmed > 0 && word[trimmed - 1] == ' ')
            trimmed--;
        unsigned group = group_of_word(word, trimmed);
        if (group == 0)
            campaign_trouble(reader, node,
                             "add_cells: '%.*s' is not one of its words; write wheel drag, wheel "
                             "loads, belt drag, belt load with commas between",
                             (int)trimmed, word);
        else if (facility->added_cells & group)
            campaign_trouble(reader, node, "add_cells: '%.*s' is given twice; keep one",
                             (int)trimmed, word);
        facility->added_cells |= group;
        word += length;
        word += strspn(word, ", ");
    }
}

void campaign_read_belt_centre(struct campaign_reader *reader, int node, void *whole)
{
    (void)campaign_quantity(reader, node, "belt_centre", "m",
                            &((struct facility *)whole)->belt_centre);
}

void campaign_read_stands_on(struct campaign_reader *reader, int node, void *whole)
{
    static const struct campaign_word words[] = {{"wheels", 1}, {"struts", 0}, {NULL, 0}};
    (void)campaign_word(reader, node, "car_stands_on", words,
                        &((struct facility *)whole)->stands_on_wheels);
}

/* What is inside the balance already must not be added again. */
static void check_added_twice(struct campaign_reader *reader, int node, const char *where,
                              const char *contains, unsigned added)
{
    for (size_t i = 0; contains != NULL && i < CELL_GROUPS; i++) {
        const struct cell_group_row *row = cell_group_row(i);
        if (!(added & (unsigned)row->group) || !contents_has(contains, row->part))
            continue;
        campaign_trouble(
            reader, node,
            "%s contains '%s' already, and add_cells adds the %s: they would be in the "
            "total twice; take one of them out",
            where, row->part, row->name);
    }
}

void campaign_check_cells(struct campaign_reader *reader, int node, const struct facility *f)
{
    struct yaml_tree *tree = reader->tree;
    int contains = yaml_tree_find(tree, node, "contains");
    int of_balance = yaml_tree_find(tree, node, "balance_contains");
    int add = yaml_tree_find(tree, node, "add_cells");
    int centre = yaml_tree_find(tree, node, "belt_centre");
    int belt_load = (f->added_cells & (unsigned)CELLS_BELT_LOAD) != 0;
    const struct {
        int is_wrong;
        int node;
        const char *text;
    } rules[] = {
        {contains == 0 && of_balance == 0, node,
         "lacks 'balance_contains', the parts of the car inside the balance's loads (or "
         "'contains', "
         "of numbers that the facility made), which must be declared"},
        {contains != 0 && of_balance != 0, contains,
         "contains and balance_contains are both given; keep balance_contains: what the total "
         "contains follows from it and from add_cells"},
        {contains != 0 && of_balance == 0 && add != 0, contains,
         "add_cells adds to what the balance contains; write balance_contains instead of contains"},
        {belt_load && centre == 0, add,
         "lacks 'belt_centre', the x of the belt's cells, which belt load needs"},
        {!belt_load && centre != 0, centre,
         "belt_centre is given, but add_cells does not add the belt load; remove one of them"},
    };
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++)
        if (rules[i].is_wrong)
            campaign_trouble(reader, rules[i].node, "facility %.80s: %s", f->name, rules[i].text);
    char where[120];
    (void)snprintf(where, sizeof where, "facility %.80s: balance_contains", f->name);
    if (of_balance != 0)
        check_added_twice(reader, add, where, f->contains, f->added_cells);
}
