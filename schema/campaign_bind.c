/* campaign_bind.c - reading a mapping by a table of bindings; see campaign_reader.h. */
#include <stdio.h>
#include <string.h>

#include "schema/campaign_reader.h"

enum { WHOLE_MAX = 1000, WHAT_SIZE = 160 };

int campaign_is_mapping(struct campaign_reader *reader, int node, const char *what)
{
    if (yaml_tree_kind(reader->tree, node) == YAML_MAPPING)
        return 1;
    campaign_trouble(reader, node, "%s needs a block of 'key: value' lines", what);
    return 0;
}

void campaign_check_keys(struct campaign_reader *reader, int node, const char *what)
{
    size_t n = yaml_tree_count(reader->tree, node);
    for (size_t i = 0; i < n; i++) {
        int key = yaml_tree_key(reader->tree, node, i);
        const char *name = yaml_tree_text(reader->tree, key);
        for (size_t earlier = 0; earlier < i; earlier++) {
            int other = yaml_tree_key(reader->tree, node, earlier);
            if (strcmp(yaml_tree_text(reader->tree, other), name) != 0)
                continue;
            campaign_trouble(reader, key, "%s: '%.80s' is given twice, first in line %zu; keep one",
                             what, name, yaml_tree_line(reader->tree, other));
            break;
        }
    }
}

static int in_range(enum bind_range range, double value)
{
    switch (range) {
    case RANGE_POSITIVE:
        return value > 0;
    case RANGE_NOT_NEGATIVE:
        return value >= 0;
    case RANGE_SHARE:
        return value > 0 && value < 1;
    case RANGE_ANY:
        break;
    }
    return 1;
}

static int read_in_range(struct campaign_reader *reader, int node, const char *what,
                         const char *unit, enum bind_range range, double *target)
{
    static const char *const limits[] = {
        [RANGE_ANY] = "any number",
        [RANGE_POSITIVE] = "more than 0",
        [RANGE_NOT_NEGATIVE] = "0 or more",
        [RANGE_SHARE] = "between 0 and 1 (0 % and 100 %)",
    };
    double value = 0;
    if (!campaign_quantity(reader, node, what, unit, &value))
        return 0;
    if (!in_range(range, value)) {
        campaign_trouble(reader, node, "%s is '%.80s'; it must be %s", what,
                         yaml_tree_text(reader->tree, node), limits[range]);
        return 0;
    }
    *target = value;
    return 1;
}

static void read_whole(struct campaign_reader *reader, int node, const char *what, unsigned *target)
{
    const char *text = yaml_tree_text(reader->tree, node);
    unsigned value = 0;
    size_t digits = strspn(text, "0123456789");
    for (size_t i = 0; i < digits && value <= WHOLE_MAX; i++)
        value = 10 * value + (unsigned)(text[i] - '0');
    if (digits == 0 || text[digits] != '\0' || value > WHOLE_MAX)
        campaign_trouble(reader, node, "%s is '%.80s'; a whole number from 0 to %d is needed", what,
                         text, WHOLE_MAX);
    else
        *target = value;
}

static void read_numbers(struct campaign_reader *reader, int node, const char *what,
                         const char *unit, struct number_list *list)
{
    size_t n = yaml_tree_count(reader->tree, node);
    if (yaml_tree_kind(reader->tree, node) != YAML_LIST || n == 0) {
        campaign_trouble(reader, node, "%s needs a list of numbers in brackets", what);
        return;
    }
    if (list->value != NULL) /* the key is there twice, which is reported */
        return;
    list->value = campaign_allocate(reader, n, sizeof *list->value);
    list->n = list->value != NULL ? n : 0;
    for (size_t i = 0; i < list->n; i++)
        (void)campaign_quantity(reader, yaml_tree_item(reader->tree, node, i), what, unit,
                                &list->value[i]);
}

static void bind_value(struct campaign_reader *reader, int node, const char *what,
                       const struct binding *binding, void *whole)
{
    char name[WHAT_SIZE + 64];
    char *target = (char *)whole + binding->offset;
    (void)snprintf(name, sizeof name, "%s: %s", what, binding->key);
    switch (binding->kind) {
    case BIND_TEXT:
        (void)campaign_text(reader, node, name, (char **)(void *)target);
        return;
    case BIND_QUANTITY:
        (void)read_in_range(reader, node, name, binding->unit, binding->range,
                            (double *)(void *)target);
        return;
    case BIND_WORD: {
        int value = 0;
        if (campaign_word(reader, node, name, binding->words, &value))
            memcpy(target, &value, sizeof value);
        return;
    }
    case BIND_WHOLE:
        read_whole(reader, node, name, (unsigned *)(void *)target);
        return;
    case BIND_NUMBERS:
        read_numbers(reader, node, name, binding->unit, (struct number_list *)(void *)target);
        return;
    case BIND_PART:
        binding->read(reader, node, whole);
        return;
    }
}

static void list_keys(const struct binding *bindings, size_t n, char *out, size_t size)
{
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < n && used < size; i++)
        used +=
            (size_t)snprintf(out + used, size - used, "%s%s", i > 0 ? ", " : "", bindings[i].key);
}

static const struct binding *find_binding(const char *key, const struct binding *bindings, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(bindings[i].key, key) == 0)
            return &bindings[i];
    return NULL;
}

void campaign_bind(struct campaign_reader *reader, int node, const char *what,
                   const struct binding *bindings, size_t n, void *whole)
{
    char keys[600];
    if (!campaign_is_mapping(reader, node, what))
        return;
    campaign_check_keys(reader, node, what);
    list_keys(bindings, n, keys, sizeof keys);
    size_t pairs = yaml_tree_count(reader->tree, node);
    for (size_t i = 0; i < pairs && reader->failed == OK; i++) {
        int key = yaml_tree_key(reader->tree, node, i);
        const char *name = yaml_tree_text(reader->tree, key);
        const struct binding *binding = find_binding(name, bindings, n);
        if (binding != NULL)
            bind_value(reader, yaml_tree_value(reader->tree, node, i), what, binding, whole);
        else
            campaign_trouble(reader, key, "%s has no key '%.80s'; its keys are: %s", what, name,
                             keys);
    }
    for (size_t i = 0; i < n; i++)
        if (bindings[i].required && yaml_tree_find(reader->tree, node, bindings[i].key) == 0)
            campaign_trouble(reader, node, "%s lacks '%s', which must be declared", what,
                             bindings[i].key);
}

void campaign_axes(struct campaign_reader *reader, int node, const char *what,
                   double value[ATTITUDE_COUNT])
{
    struct binding bindings[ATTITUDE_COUNT];
    for (size_t axis = 0; axis < ATTITUDE_COUNT; axis++)
        bindings[axis] = (struct binding){.key = attitude_axis_name((enum attitude_axis)axis),
                                          .kind = BIND_QUANTITY,
                                          .offset = axis * sizeof value[0],
                                          .unit = attitude_axis_unit((enum attitude_axis)axis),
                                          .range = RANGE_NOT_NEGATIVE};
    campaign_bind(reader, node, what, bindings, ATTITUDE_COUNT, value);
}

void *campaign_named_blocks(struct campaign_reader *reader, int node, const char *what, size_t size,
                            size_t *n)
{
    *n = 0;
    if (!campaign_is_mapping(reader, node, what))
        return NULL;
    campaign_check_keys(reader, node, what);
    void *blocks = campaign_allocate(reader, yaml_tree_count(reader->tree, node), size);
    if (blocks != NULL)
        *n = yaml_tree_count(reader->tree, node);
    return blocks;
}
