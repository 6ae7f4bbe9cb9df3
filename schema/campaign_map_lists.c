/* campaign_map_lists.c - the lists of a channel map: names of columns, texts and numbers without value. */
#include <string.h>

#include "schema/campaign_reader.h"
#include "schema/number.h"

/* A list of texts into *texts, with how many in *n; what is written says an example. */
static void read_texts(struct campaign_reader *reader, int node, const char *example, char ***texts,
                       size_t *n)
{
    if (yaml_tree_kind(reader->tree, node) != YAML_LIST) {
        campaign_trouble(reader, node, "%s", example);
        return;
    }
    if (*texts != NULL) /* the key is there twice, which is reported */
        return;
    size_t most = yaml_tree_count(reader->tree, node);
    *texts = campaign_allocate(reader, most, sizeof **texts);
    for (size_t i = 0; *texts != NULL && i < most; i++) {
        const char *text = yaml_tree_text(reader->tree, yaml_tree_item(reader->tree, node, i));
        (*texts)[i] = campaign_allocate(reader, strlen(text) + 1, 1);
        if ((*texts)[i] == NULL)
            return;
        memcpy((*texts)[i], text, strlen(text) + 1);
        *n = i + 1;
    }
}

void campaign_read_missing(struct campaign_reader *reader, int node, void *whole)
{
    struct channel_map *map = whole;
    read_texts(reader, node,
               "missing needs a list of the texts that mean 'no value': [\"\", \"NaN\"]",
               &map->missing_words, &map->n_missing_words);
}

/* The columns of a log without names. An empty name could never be asked for. */
void campaign_read_names(struct campaign_reader *reader, int node, void *whole)
{
    struct channel_map *map = whole;
    read_texts(reader, node, "names needs a list with a name for each column: [alpha, cl, cd]",
               &map->names, &map->n_names);
    if (yaml_tree_kind(reader->tree, node) == YAML_LIST && map->n_names == 0)
        campaign_trouble(reader, node,
                         "names is empty; it needs a name for each column of the log");
    for (size_t i = 0; i < map->n_names; i++)
        if (map->names[i][0] == '\0')
            campaign_trouble(reader, node,
                             "names: name %zu is empty; give each column a name of its own", i + 1);
}

/* Numbers as the log writes them, before any unit. */
void campaign_read_sentinels(struct campaign_reader *reader, int node, void *whole)
{
    struct channel_map *map = whole;
    if (yaml_tree_kind(reader->tree, node) != YAML_LIST) {
        campaign_trouble(reader, node,
                         "sentinels needs a list of the numbers that mean 'no value', as the log "
                         "writes them: [-999, 1e38]");
        return;
    }
    if (map->sentinels != NULL) /* the key is there twice, which is reported */
        return;
    size_t n = yaml_tree_count(reader->tree, node);
    map->sentinels = campaign_allocate(reader, n, sizeof map->sentinels[0]);
    for (size_t i = 0; map->sentinels != NULL && i < n; i++) {
        int item = yaml_tree_item(reader->tree, node, i);
        const char *text = yaml_tree_text(reader->tree, item);
        size_t length = strlen(text);
        double *value = &map->sentinels[map->n_sentinels];
        if (number_parse(text, length, '.', value, NULL) == NUMBER_OK)
            map->n_sentinels++;
        else
            campaign_trouble(reader, item,
                             "sentinel '%.40s' is not a number; texts belong under missing", text);
    }
}
