/* campaign_repeats.c - the section repeats of campaign.yaml; see repeat_section.h. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/campaign_reader.h"

void repeat_section_end(struct repeat_section *repeats)
{
    for (size_t i = 0; i < repeats->n; i++)
        free(repeats->matches[i].channel);
    free(repeats->matches);
}

static void read_match(struct campaign_reader *reader, int node, void *whole)
{
    struct repeat_section *repeats = whole;
    if (repeats->matches != NULL) /* the key is there twice, which is reported */
        return;
    repeats->matches = campaign_named_blocks(reader, node, "repeats: match",
                                             sizeof *repeats->matches, &repeats->n);
    for (size_t i = 0; i < repeats->n && reader->failed == OK; i++)
        (void)campaign_text(reader, yaml_tree_key(reader->tree, node, i),
                            "repeats: match: a channel", &repeats->matches[i].channel);
    if (yaml_tree_kind(reader->tree, node) == YAML_MAPPING && repeats->n == 0)
        campaign_trouble(reader, node,
                         "repeats: match names no channel; name those by which two points are the "
                         "same, or take repeats out");
}

static const struct binding bindings[] = {
    {.key = "match", .kind = BIND_PART, .required = 1, .read = read_match},
};

void campaign_read_repeats(struct campaign_reader *reader, int node, void *whole)
{
    struct campaign *campaign = whole;
    campaign->repeats.given = 1;
    campaign_bind(reader, node, "repeats", bindings, sizeof bindings / sizeof bindings[0],
                  &campaign->repeats);
}

/* The column of this name in any channel map; NULL when there is none. */
static const struct map_column *find_column(const struct campaign *campaign, const char *name)
{
    for (size_t i = 0; i < campaign->n_maps; i++)
        for (size_t k = 0; k < campaign->maps[i].n_columns; k++) {
            const struct map_column *column = &campaign->maps[i].columns[k];
            if (column->column != NULL && strcmp(column->column, name) == 0 &&
                column->statistic == COLUMN_VALUE && role_is_channel(column->role))
                return column;
        }
    return NULL;
}

/* SI unit of a channel; NULL, and told, when it is none or nothing tells its unit. */
static const char *unit_of(struct campaign_reader *reader, int key, const char *name)
{
    const char *unit = NULL;
    enum role role = role_from_name(name);
    if (role != ROLE_COUNT && role_is_channel(role) && role_unit(role) != NULL)
        return role_unit(role);
    const struct map_column *column = find_column(reader->campaign, name);
    if (column == NULL)
        campaign_trouble(
            reader, key,
            "repeats: match: '%.80s' is no role with a unit of its own and no measured "
            "column of a channel map; name one of them",
            name);
    else if (column->role != ROLE_OTHER)
        campaign_trouble(reader, key,
                         "repeats: match: column '%.80s' has the role %s; write the role, which "
                         "other logs have too",
                         name, role_name(column->role));
    else if (column->unit == NULL ||
             units_kind(reader->units, column->unit, &unit, NULL) != OK) /* told at the column */
        campaign_trouble(reader, key,
                         "repeats: match: the channel map gives no unit of column '%.80s', so that "
                         "nothing tells what its tolerance is in; write unit: there",
                         name);
    return unit;
}

void campaign_check_repeats(struct campaign_reader *reader, int node)
{
    struct repeat_section *repeats = &reader->campaign->repeats;
    int match = yaml_tree_find(reader->tree, node, "match");
    for (size_t i = 0; i < repeats->n; i++) {
        struct repeat_match *at = &repeats->matches[i];
        int value = yaml_tree_value(reader->tree, match, i);
        if (at->channel == NULL)
            continue;
        at->unit = unit_of(reader, yaml_tree_key(reader->tree, match, i), at->channel);
        if (at->unit == NULL || !campaign_quantity(reader, value, "repeats: match: a tolerance",
                                                   at->unit, &at->tolerance))
            continue;
        if (!(at->tolerance >= 0))
            campaign_trouble(reader, value,
                             "repeats: match: the tolerance of %.80s is '%.40s'; it must be 0 or "
                             "more",
                             at->channel, yaml_tree_text(reader->tree, value));
    }
}
