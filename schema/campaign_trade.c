/* campaign_trade.c - the section trade of campaign.yaml: what a gain may cost. */
#include <string.h>

#include "schema/campaign_reader.h"

static const struct binding bindings[] = {
    {.key = "metric",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct trade_section, metric)},
    {.key = "per", .kind = BIND_TEXT, .required = 1, .offset = offsetof(struct trade_section, per)},
    {.key = "worth",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = offsetof(struct trade_section, worth),
     .unit = "1",
     .range = RANGE_POSITIVE},
};

void campaign_read_trade(struct campaign_reader *reader, int node, void *whole)
{
    struct campaign *campaign = whole;
    if (campaign->trade.given) /* the key is there twice, which is reported */
        return;
    campaign->trade.given = 1;
    campaign_bind(reader, node, "trade", bindings, sizeof bindings / sizeof bindings[0],
                  &campaign->trade);
}

/* A metric of the trade: declared, and better one way, or nothing tells which side of the line is. */
static void check_metric(struct campaign_reader *reader, int node, const char *name)
{
    if (name == NULL)
        return;
    const struct metric *metric = campaign_metric(reader->campaign, name);
    if (metric == NULL)
        campaign_trouble(reader, node, "trade: '%.80s' is none of the metrics; name one of them",
                         name);
    else if (metric->better != BETTER_HIGHER && metric->better != BETTER_LOWER)
        campaign_trouble(reader, node,
                         "trade: of '%.80s' neither more nor less is better; name a metric with "
                         "better: higher or lower",
                         name);
}

void campaign_check_trade(struct campaign_reader *reader, int node)
{
    const struct trade_section *trade = &reader->campaign->trade;
    int per = yaml_tree_find(reader->tree, node, "per");
    if (!trade->given)
        return;
    check_metric(reader, yaml_tree_find(reader->tree, node, "metric"), trade->metric);
    check_metric(reader, per, trade->per);
    if (trade->metric != NULL && trade->per != NULL && strcmp(trade->metric, trade->per) == 0)
        campaign_trouble(reader, per,
                         "trade: metric and per are both '%.80s'; name what is paid and what it "
                         "must bring",
                         trade->per);
}
