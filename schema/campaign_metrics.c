/* campaign_metrics.c - the sections metrics and main_measure of campaign.yaml. */
#include <stdio.h>
#include <string.h>

#include "schema/campaign_reader.h"

/* A metric being read, with the unit of its quantity: its goal and worthwhile delta are in it. */
struct metric_reading {
    struct metric metric;
    const char *unit; /* NULL: the quantity is not known, so nothing can be said of its values */
};

static void read_better(struct campaign_reader *reader, int node, void *whole)
{
    static const struct campaign_word words[] = {{"higher", BETTER_HIGHER},
                                                 {"lower", BETTER_LOWER},
                                                 {"toward VALUE", BETTER_TOWARD},
                                                 {"undeclared", BETTER_UNDECLARED},
                                                 {NULL, 0}};
    static const char toward[] = "toward ";
    struct metric_reading *reading = whole;
    const char *text = yaml_tree_text(reader->tree, node);
    int better = BETTER_UNDECLARED;
    if (strncmp(text, toward, sizeof toward - 1) == 0) {
        struct fault fault;
        reading->metric.better = BETTER_TOWARD;
        if (reading->unit != NULL &&
            units_quantity(reader->units, text + sizeof toward - 1, reading->unit,
                           &reading->metric.toward, &fault) != OK)
            campaign_trouble_fault(reader, node, &fault);
        return;
    }
    if (campaign_word(reader, node, "better", words, &better))
        reading->metric.better = (enum better)better;
}

static void read_worthwhile(struct campaign_reader *reader, int node, void *whole)
{
    struct metric_reading *reading = whole;
    if (reading->unit == NULL ||
        !campaign_quantity(reader, node, "worthwhile", reading->unit, &reading->metric.worthwhile))
        return;
    if (reading->metric.worthwhile <= 0)
        campaign_trouble(reader, node, "worthwhile is '%.40s'; it must be more than 0",
                         yaml_tree_text(reader->tree, node));
}

static const struct binding metric_bindings[] = {
    {.key = "quantity",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct metric_reading, metric.quantity)},
    {.key = "better", .kind = BIND_PART, .required = 1, .read = read_better},
    {.key = "worthwhile", .kind = BIND_PART, .required = 1, .read = read_worthwhile},
};

const struct quantity_row *campaign_find_quantity(struct campaign_reader *reader, int node)
{
    const char *symbol = yaml_tree_text(reader->tree, node);
    enum quantity quantity = quantity_from_symbol(symbol);
    if (quantity != QUANTITY_COUNT)
        return quantity_row(quantity);
    char symbols[160] = "";
    size_t used = 0;
    for (unsigned i = 0; i < QUANTITY_COUNT && used < sizeof symbols; i++)
        used += (size_t)snprintf(symbols + used, sizeof symbols - used, "%s%s", i > 0 ? ", " : "",
                                 quantity_row((enum quantity)i)->symbol);
    if (node != 0)
        campaign_trouble(reader, node, "quantity: '%.40s' is not known; write one of: %s", symbol,
                         symbols);
    return NULL;
}

/* The quantity is looked up first, whatever the order of keys: it gives the unit of the rest. */
static void read_metric(struct campaign_reader *reader, int key, int node, struct metric *metric)
{
    char what[120];
    struct metric_reading reading = {.metric = {.better = BETTER_UNDECLARED}};
    if (!campaign_text(reader, key, "the name of a metric", &reading.metric.name))
        return;
    (void)snprintf(what, sizeof what, "metric %.80s", reading.metric.name);
    const struct quantity_row *quantity =
        campaign_find_quantity(reader, yaml_tree_find(reader->tree, node, "quantity"));
    reading.unit = quantity != NULL ? quantity->unit : NULL;
    campaign_bind(reader, node, what, metric_bindings,
                  sizeof metric_bindings / sizeof metric_bindings[0], &reading);
    *metric = reading.metric;
}

void campaign_read_metrics(struct campaign_reader *reader, int node, void *whole)
{
    struct campaign *campaign = whole;
    if (campaign->metrics != NULL) /* the key is there twice, which is reported */
        return;
    campaign->metrics = campaign_named_blocks(reader, node, "metrics", sizeof *campaign->metrics,
                                              &campaign->n_metrics);
    for (size_t i = 0; i < campaign->n_metrics && reader->failed == OK; i++)
        read_metric(reader, yaml_tree_key(reader->tree, node, i),
                    yaml_tree_value(reader->tree, node, i), &campaign->metrics[i]);
}

static const struct binding main_bindings[] = {
    {.key = "metric",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct campaign, main_metric)},
    {.key = "attitude",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct campaign, main_attitude)},
};

void campaign_read_main_measure(struct campaign_reader *reader, int node, void *campaign)
{
    campaign_bind(reader, node, "main_measure", main_bindings,
                  sizeof main_bindings / sizeof main_bindings[0], campaign);
}
