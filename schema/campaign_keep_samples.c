/* campaign_keep_samples.c - keep_samples of campaign.yaml: channels whose samples are kept, thinned, at
 * every point. */
#include <stdio.h>
#include <string.h>

#include "schema/campaign_reader.h"

void campaign_texts(struct campaign_reader *reader, int node, const char *what,
                    struct text_list *list)
{
    char name[80];
    size_t n = yaml_tree_count(reader->tree, node);
    (void)snprintf(name, sizeof name, "%.60s: a name", what);
    if (yaml_tree_kind(reader->tree, node) != YAML_LIST || n == 0) {
        campaign_trouble(reader, node, "%s needs a list of names in brackets", what);
        return;
    }
    if (list->text != NULL) /* the key is there twice, which is reported */
        return;
    list->text = campaign_allocate(reader, n, sizeof *list->text);
    for (size_t i = 0; list->text != NULL && i < n; i++) {
        if (!campaign_text(reader, yaml_tree_item(reader->tree, node, i), name,
                           &list->text[list->n]))
            return;
        list->n++;
    }
}

void campaign_read_keep_samples(struct campaign_reader *reader, int node, void *whole)
{
    struct campaign *campaign = whole;
    campaign_texts(reader, node, "keep_samples", &campaign->keep_samples);
}

static int is_measured(const struct campaign *campaign, const char *name)
{
    enum role role = role_from_name(name);
    if (role != ROLE_COUNT)
        return role_is_channel(role);
    for (size_t i = 0; i < campaign->n_maps; i++)
        for (size_t k = 0; k < campaign->maps[i].n_columns; k++) {
            const struct map_column *column = &campaign->maps[i].columns[k];
            if (column->column != NULL && strcmp(column->column, name) == 0)
                return column->statistic == COLUMN_VALUE && role_is_channel(column->role);
        }
    return 0;
}

/* Taps are told by taps.csv, which is not read yet: with taps in a map any other name may be one. */
static int may_be_tap(const struct campaign *campaign)
{
    for (size_t i = 0; i < campaign->n_maps; i++)
        if (campaign->maps[i].has_taps)
            return 1;
    return 0;
}

void campaign_check_keep_samples(struct campaign_reader *reader, int node)
{
    const struct campaign *campaign = reader->campaign;
    for (size_t i = 0; i < campaign->keep_samples.n; i++) {
        const char *name = campaign->keep_samples.text[i];
        if (is_measured(campaign, name) || may_be_tap(campaign))
            continue;
        campaign_trouble(
            reader, yaml_tree_item(reader->tree, node, i),
            "keep_samples: '%.80s' is no role of a channel and no measured column of a "
            "channel map; name one of them",
            name);
    }
}
