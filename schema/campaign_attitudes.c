/* campaign_attitudes.c - the section attitudes of campaign.yaml: targets, and how near is near. */
#include <stdio.h>
#include <string.h>

#include "schema/campaign_reader.h"

static void read_tolerance(struct campaign_reader *reader, int node, void *attitudes)
{
    campaign_axes(reader, node, "tolerance", ((struct attitudes *)attitudes)->tolerance);
}

static void read_cap(struct campaign_reader *reader, int node, void *attitudes)
{
    campaign_axes(reader, node, "cap", ((struct attitudes *)attitudes)->cap);
}

static void read_capture(struct campaign_reader *reader, int node, void *attitudes)
{
    campaign_axes(reader, node, "capture", ((struct attitudes *)attitudes)->capture);
}

static void bind_target(struct campaign_reader *reader, int node, struct target *target)
{
    struct binding bindings[ATTITUDE_COUNT + 2] = {
        {.key = "name", .kind = BIND_TEXT, .required = 1, .offset = offsetof(struct target, name)},
        {.key = "weight",
         .kind = BIND_QUANTITY,
         .offset = offsetof(struct target, weight),
         .unit = "1",
         .range = RANGE_NOT_NEGATIVE}};
    for (size_t axis = 0; axis < ATTITUDE_COUNT; axis++)
        bindings[axis + 2] =
            (struct binding){.key = attitude_axis_name((enum attitude_axis)axis),
                             .kind = BIND_QUANTITY,
                             .offset = offsetof(struct target, coordinate) + axis * sizeof(double),
                             .unit = attitude_axis_unit((enum attitude_axis)axis)};
    campaign_bind(reader, node, "target", bindings, ATTITUDE_COUNT + 2, target);
}

static void read_target(struct campaign_reader *reader, int node, struct target *target)
{
    int named = 0;
    bind_target(reader, node, target);
    for (size_t axis = 0; axis < ATTITUDE_COUNT; axis++) {
        const char *name = attitude_axis_name((enum attitude_axis)axis);
        target->given[axis] = yaml_tree_find(reader->tree, node, name) != 0;
        named += target->given[axis];
    }
    if (named == 0)
        campaign_trouble(reader, node,
                         "target names no coordinate; write at least one, like "
                         "front_ride_height: 10 mm");
    if (target->name != NULL && strcmp(target->name, "weighted") == 0)
        campaign_trouble(reader, yaml_tree_find(reader->tree, node, "name"),
                         "a target cannot be called 'weighted', which means the weighted mean of "
                         "all targets; choose another name");
}

static void check_name(struct campaign_reader *reader, int list, const struct attitudes *attitudes,
                       size_t at)
{
    const struct target *targets = attitudes->targets;
    for (size_t i = 0; i < at && targets[at].name != NULL; i++) {
        if (targets[i].name == NULL || strcmp(targets[i].name, targets[at].name) != 0)
            continue;
        int node = yaml_tree_find(reader->tree, yaml_tree_item(reader->tree, list, at), "name");
        int first = yaml_tree_item(reader->tree, list, i);
        campaign_trouble(reader, node,
                         "target '%.80s' is given twice, first in line %zu; rename or remove one",
                         targets[at].name, yaml_tree_line(reader->tree, first));
        return;
    }
}

static void read_targets(struct campaign_reader *reader, int node, void *whole)
{
    struct attitudes *attitudes = whole;
    if (yaml_tree_kind(reader->tree, node) != YAML_LIST) {
        campaign_trouble(reader, node,
                         "targets needs a list: - {name: ..., front_ride_height: 10 mm, ...}");
        return;
    }
    if (attitudes->targets != NULL) /* the key is there twice, which is reported */
        return;
    size_t n = yaml_tree_count(reader->tree, node);
    attitudes->targets = campaign_allocate(reader, n, sizeof attitudes->targets[0]);
    if (attitudes->targets == NULL)
        return;
    attitudes->n_targets = n;
    for (size_t i = 0; i < n && reader->failed == OK; i++) {
        read_target(reader, yaml_tree_item(reader->tree, node, i), &attitudes->targets[i]);
        check_name(reader, node, attitudes, i);
    }
}

static const struct binding attitude_bindings[] = {
    {.key = "tolerance", .kind = BIND_PART, .read = read_tolerance},
    {.key = "cap", .kind = BIND_PART, .read = read_cap},
    {.key = "capture", .kind = BIND_PART, .read = read_capture},
    {.key = "targets", .kind = BIND_PART, .read = read_targets},
};

static int is_named(const struct attitudes *attitudes, size_t axis)
{
    for (size_t i = 0; i < attitudes->n_targets; i++)
        if (attitudes->targets[i].given[axis])
            return 1;
    return 0;
}

/* Every coordinate that a target names needs all three distances, in growing order. */
static void check_distances(struct campaign_reader *reader, int node,
                            const struct attitudes *attitudes)
{
    static const char *const keys[] = {"tolerance", "cap", "capture"};
    for (size_t axis = 0; axis < ATTITUDE_COUNT; axis++) {
        const char *name = attitude_axis_name((enum attitude_axis)axis);
        int complete = 1;
        if (!is_named(attitudes, axis))
            continue;
        for (size_t k = 0; k < 3; k++) {
            int block = yaml_tree_find(reader->tree, node, keys[k]);
            if (yaml_tree_find(reader->tree, block, name) != 0)
                continue;
            complete = 0;
            campaign_trouble(reader, block != 0 ? block : node,
                             "attitudes: %s lacks '%s', which targets name", keys[k], name);
        }
        if (complete && (attitudes->tolerance[axis] > attitudes->cap[axis] ||
                         attitudes->cap[axis] > attitudes->capture[axis]))
            campaign_trouble(reader, yaml_tree_find(reader->tree, node, "cap"),
                             "attitudes: %s: tolerance must not exceed cap, nor cap capture", name);
    }
}

void campaign_read_attitudes(struct campaign_reader *reader, int node, void *campaign)
{
    struct attitudes *attitudes = &((struct campaign *)campaign)->attitudes;
    campaign_bind(reader, node, "attitudes", attitude_bindings,
                  sizeof attitude_bindings / sizeof attitude_bindings[0], attitudes);
    check_distances(reader, node, attitudes);
}
