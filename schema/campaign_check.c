/* campaign_check.c - what one section of campaign.yaml says about another. */
#include <math.h>
#include <string.h>

#include "schema/campaign_reader.h"

static const double weight_sum_tolerance = 1e-6;

static int has_target(const struct campaign *campaign, const char *name)
{
    for (size_t i = 0; i < campaign->attitudes.n_targets; i++) {
        const char *target = campaign->attitudes.targets[i].name;
        if (target != NULL && strcmp(target, name) == 0)
            return 1;
    }
    return 0;
}

static int is_weighted(const struct campaign *campaign)
{
    return campaign->main_attitude != NULL && strcmp(campaign->main_attitude, "weighted") == 0;
}

static void check_metric(struct campaign_reader *reader, int main_measure)
{
    const struct campaign *campaign = reader->campaign;
    if (campaign->main_metric == NULL)
        return;
    for (size_t i = 0; i < campaign->n_metrics; i++) {
        const char *name = campaign->metrics[i].name;
        if (name != NULL && strcmp(name, campaign->main_metric) == 0)
            return;
    }
    campaign_trouble(reader, yaml_tree_find(reader->tree, main_measure, "metric"),
                     "main_measure: '%.80s' is none of the metrics; name one of them",
                     campaign->main_metric);
}

static void check_attitude(struct campaign_reader *reader, int main_measure)
{
    const struct campaign *campaign = reader->campaign;
    if (campaign->main_attitude == NULL || is_weighted(campaign) ||
        has_target(campaign, campaign->main_attitude))
        return;
    campaign_trouble(reader, yaml_tree_find(reader->tree, main_measure, "attitude"),
                     "main_measure: '%.80s' is none of the targets; name one of them, or write "
                     "weighted",
                     campaign->main_attitude);
}

/* A sum that is not 1 is refused, not made 1: a weight may be missing. Weighted values are made
 * whenever a target has a weight, whatever the main measure is. */
static void check_weights(struct campaign_reader *reader, int targets)
{
    const struct attitudes *attitudes = &reader->campaign->attitudes;
    double sum = 0;
    int has_weight = is_weighted(reader->campaign);
    for (size_t i = 0; i < attitudes->n_targets; i++) {
        sum += attitudes->targets[i].weight;
        has_weight |= attitudes->targets[i].weight > 0;
    }
    if (has_weight && attitudes->n_targets > 0 && fabs(sum - 1.0) > weight_sum_tolerance)
        campaign_trouble(reader, targets,
                         "attitudes: the weights of the targets add up to %.9g; where there are "
                         "weights they must add up to 1 within %g",
                         sum, weight_sum_tolerance);
}

static void check_map_attitude(struct campaign_reader *reader, int root)
{
    const struct campaign *campaign = reader->campaign;
    if (campaign->map_attitude != NULL && !has_target(campaign, campaign->map_attitude))
        campaign_trouble(reader, yaml_tree_find(reader->tree, root, "map_attitude"),
                         "map_attitude: '%.80s' is none of the targets; name one of them",
                         campaign->map_attitude);
}

static void check_not_empty(struct campaign_reader *reader, int root)
{
    const struct campaign *campaign = reader->campaign;
    const struct {
        const char *section;
        size_t n;
        const char *text;
    } sections[] = {
        {"facilities", campaign->n_facilities, "facilities names none; declare at least one"},
        {"channel_maps", campaign->n_maps, "channel_maps names none; declare at least one"},
        {"metrics", campaign->n_metrics, "metrics names none; declare at least one"},
    };
    for (size_t i = 0; i < sizeof sections / sizeof sections[0]; i++) {
        int node = yaml_tree_find(reader->tree, root, sections[i].section);
        if (yaml_tree_kind(reader->tree, node) == YAML_MAPPING && sections[i].n == 0)
            campaign_trouble(reader, node, "%s", sections[i].text);
    }
}

/* What a wind is needed for. Where every facility is a bench nothing is reduced, and none of it is. */
static void check_sections(struct campaign_reader *reader, int root)
{
    static const char *const sections[] = {"car", "attitudes", "metrics", "main_measure"};
    const struct campaign *campaign = reader->campaign;
    size_t benches = 0;
    for (size_t i = 0; i < campaign->n_facilities; i++)
        benches += campaign->facilities[i].section == SECTION_BENCH;
    for (size_t i = 0; i < sizeof sections / sizeof sections[0]; i++)
        if ((benches == 0 || benches < campaign->n_facilities) &&
            yaml_tree_find(reader->tree, root, sections[i]) == 0)
            campaign_trouble(reader, root, "campaign.yaml lacks '%s', which must be declared",
                             sections[i]);
}

static void check_targets_exist(struct campaign_reader *reader, int attitudes)
{
    if (attitudes != 0 && reader->campaign->attitudes.n_targets == 0)
        campaign_trouble(reader, attitudes,
                         "attitudes: no target is declared; comparisons are made at targets, so at "
                         "least one is needed");
}

void campaign_check_references(struct campaign_reader *reader)
{
    int root = yaml_tree_root(reader->tree);
    int main_measure = yaml_tree_find(reader->tree, root, "main_measure");
    int attitudes = yaml_tree_find(reader->tree, root, "attitudes");
    check_not_empty(reader, root);
    check_sections(reader, root);
    check_targets_exist(reader, attitudes);
    check_metric(reader, main_measure);
    check_attitude(reader, main_measure);
    campaign_check_uncertainties(reader, yaml_tree_find(reader->tree, root, "uncertainties"));
    check_weights(reader, yaml_tree_find(reader->tree, attitudes, "targets"));
    check_map_attitude(reader, root);
    campaign_check_trade(reader, yaml_tree_find(reader->tree, root, "trade"));
    campaign_check_keep_samples(reader, yaml_tree_find(reader->tree, root, "keep_samples"));
    campaign_check_repeats(reader, yaml_tree_find(reader->tree, root, "repeats"));
    campaign_check_plan(reader, yaml_tree_find(reader->tree, root, "plan"));
    campaign_check_repeatability(reader, yaml_tree_find(reader->tree, root, "repeatability"));
}
