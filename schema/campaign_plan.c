/* campaign_plan.c - the section plan of campaign.yaml; see plan_section.h. */
#include <stdlib.h>
#include <string.h>

#include "schema/campaign_reader.h"

enum { GROUP_MAX = 3 };

static const struct campaign_word scheme_words[] = {
    {"bracketed", PLAN_BRACKETED}, {"abba", PLAN_ABBA}, {"given", PLAN_GIVEN}, {NULL, 0}};
static const struct campaign_word attitude_words[] = {{"by height", ATTITUDES_BY_HEIGHT},
                                                      {"as listed", ATTITUDES_AS_LISTED},
                                                      {"random", ATTITUDES_RANDOM},
                                                      {NULL, 0}};
static const struct campaign_word approach_words[] = {
    {"from above", APPROACH_FROM_ABOVE}, {"from below", APPROACH_FROM_BELOW}, {NULL, 0}};

void plan_section_defaults(struct plan_section *plan)
{
    plan->power = 0.8;
    plan->group = GROUP_MAX;
    plan->seed = 1;
}

void text_list_end(struct text_list *list)
{
    for (size_t i = 0; i < list->n; i++)
        free(list->text[i]);
    free(list->text);
}

void plan_section_end(struct plan_section *plan)
{
    char *const texts[] = {plan->facility,  plan->entry,     plan->start,
                           plan->balance,   plan->logs,      plan->zero_logs,
                           plan->tare_logs, plan->belt_logs, plan->reference};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        free(texts[i]);
    text_list_end(&plan->attitudes);
    text_list_end(&plan->configurations);
    text_list_end(&plan->order);
    text_list_end(&plan->hard_to_change);
    text_list_end(&plan->mass_changes);
}

static void read_attitudes(struct campaign_reader *reader, int node, void *plan)
{
    campaign_texts(reader, node, "plan: attitudes", &((struct plan_section *)plan)->attitudes);
}

static void read_configurations(struct campaign_reader *reader, int node, void *plan)
{
    campaign_texts(reader, node, "plan: configurations",
                   &((struct plan_section *)plan)->configurations);
}

static void read_order(struct campaign_reader *reader, int node, void *plan)
{
    campaign_texts(reader, node, "plan: order", &((struct plan_section *)plan)->order);
}

static void read_hard(struct campaign_reader *reader, int node, void *plan)
{
    campaign_texts(reader, node, "plan: hard_to_change",
                   &((struct plan_section *)plan)->hard_to_change);
}

static void read_masses(struct campaign_reader *reader, int node, void *plan)
{
    campaign_texts(reader, node, "plan: mass_changes",
                   &((struct plan_section *)plan)->mass_changes);
}

static const struct binding plan_bindings[] = {
    {.key = "facility",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct plan_section, facility)},
    {.key = "entry",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct plan_section, entry)},
    {.key = "start", .kind = BIND_TEXT, .offset = offsetof(struct plan_section, start)},
    {.key = "available",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = offsetof(struct plan_section, available),
     .unit = "s",
     .range = RANGE_POSITIVE},
    {.key = "run",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct plan_section, run),
     .unit = "s",
     .range = RANGE_POSITIVE},
    {.key = "settle",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct plan_section, settle),
     .unit = "s",
     .range = RANGE_POSITIVE},
    {.key = "per_attitude",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct plan_section, per_attitude),
     .unit = "s",
     .range = RANGE_POSITIVE},
    {.key = "zero",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct plan_section, zero),
     .unit = "s",
     .range = RANGE_NOT_NEGATIVE},
    {.key = "change",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = offsetof(struct plan_section, change),
     .unit = "s",
     .range = RANGE_NOT_NEGATIVE},
    {.key = "weight_sweep",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct plan_section, weight_sweep),
     .unit = "s",
     .range = RANGE_NOT_NEGATIVE},
    {.key = "belt_sweep",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct plan_section, belt_sweep),
     .unit = "s",
     .range = RANGE_NOT_NEGATIVE},
    {.key = "scheme",
     .kind = BIND_WORD,
     .offset = offsetof(struct plan_section, scheme),
     .words = scheme_words},
    {.key = "group", .kind = BIND_WHOLE, .offset = offsetof(struct plan_section, group)},
    {.key = "repeats", .kind = BIND_WHOLE, .offset = offsetof(struct plan_section, repeats)},
    {.key = "seed", .kind = BIND_WHOLE, .offset = offsetof(struct plan_section, seed)},
    {.key = "power",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct plan_section, power),
     .unit = "1",
     .range = RANGE_SHARE},
    {.key = "attitude_order",
     .kind = BIND_WORD,
     .offset = offsetof(struct plan_section, attitude_order),
     .words = attitude_words},
    {.key = "approach",
     .kind = BIND_WORD,
     .offset = offsetof(struct plan_section, approach),
     .words = approach_words},
    {.key = "reference", .kind = BIND_TEXT, .offset = offsetof(struct plan_section, reference)},
    {.key = "balance", .kind = BIND_TEXT, .offset = offsetof(struct plan_section, balance)},
    {.key = "logs", .kind = BIND_TEXT, .offset = offsetof(struct plan_section, logs)},
    {.key = "zero_logs", .kind = BIND_TEXT, .offset = offsetof(struct plan_section, zero_logs)},
    {.key = "tare_logs", .kind = BIND_TEXT, .offset = offsetof(struct plan_section, tare_logs)},
    {.key = "belt_logs", .kind = BIND_TEXT, .offset = offsetof(struct plan_section, belt_logs)},
    {.key = "attitudes", .kind = BIND_PART, .read = read_attitudes},
    {.key = "configurations", .kind = BIND_PART, .read = read_configurations},
    {.key = "order", .kind = BIND_PART, .read = read_order},
    {.key = "hard_to_change", .kind = BIND_PART, .read = read_hard},
    {.key = "mass_changes", .kind = BIND_PART, .read = read_masses},
};

const struct binding_table campaign_plan_table = {plan_bindings,
                                                  sizeof plan_bindings / sizeof plan_bindings[0]};

/* A run's time is one number, or made of its parts: one of the two. */
static void check_run_time(struct campaign_reader *reader, int node,
                           const struct plan_section *plan)
{
    int has_parts = plan->settle > 0 || plan->per_attitude > 0;
    if (plan->run > 0 && has_parts)
        campaign_trouble(reader, yaml_tree_find(reader->tree, node, "run"),
                         "plan: run is the time of a whole run, and settle and per_attitude make "
                         "it too; keep one way");
    else if (!(plan->run > 0) && !(plan->per_attitude > 0))
        campaign_trouble(reader, node,
                         "plan lacks the time of a run; write run: 19 min, or settle: 2 min and "
                         "per_attitude: 40 s");
}

static void check_numbers(struct campaign_reader *reader, int node, const struct plan_section *plan)
{
    if (plan->group < 1 || plan->group > GROUP_MAX)
        campaign_trouble(reader, yaml_tree_find(reader->tree, node, "group"),
                         "plan: group is %u; limit: 1 to %d configurations between two returns to "
                         "the baseline; lower it",
                         plan->group, GROUP_MAX);
    if (plan->power < 0.5)
        campaign_trouble(reader, yaml_tree_find(reader->tree, node, "power"),
                         "plan: power is %g; limit: 50 %% or more; 80 %% is usual", plan->power);
    if (plan->scheme == PLAN_GIVEN && plan->order.n == 0)
        campaign_trouble(reader, yaml_tree_find(reader->tree, node, "scheme"),
                         "plan: scheme is given, and no order is; write order: [base, A, base]");
    if (plan->scheme != PLAN_GIVEN && plan->order.n > 0)
        campaign_trouble(reader, yaml_tree_find(reader->tree, node, "order"),
                         "plan: an order is written, and scheme is not given; write scheme: given, "
                         "or take the order out");
}

void campaign_read_plan(struct campaign_reader *reader, int node, void *campaign)
{
    struct plan_section *plan = &((struct campaign *)campaign)->plan;
    plan->given = 1;
    campaign_bind(reader, node, "plan", plan_bindings,
                  sizeof plan_bindings / sizeof plan_bindings[0], plan);
    check_run_time(reader, node, plan);
    check_numbers(reader, node, plan);
}

static int is_target(const struct campaign *campaign, const char *name)
{
    for (size_t i = 0; i < campaign->attitudes.n_targets; i++) {
        const char *target = campaign->attitudes.targets[i].name;
        if (target != NULL && strcmp(target, name) == 0)
            return 1;
    }
    return 0;
}

void campaign_check_plan(struct campaign_reader *reader, int node)
{
    const struct campaign *campaign = reader->campaign;
    const struct plan_section *plan = &campaign->plan;
    int attitudes = yaml_tree_find(reader->tree, node, "attitudes");
    for (size_t i = 0; i < plan->attitudes.n; i++)
        if (!is_target(campaign, plan->attitudes.text[i]))
            campaign_trouble(reader, yaml_tree_item(reader->tree, attitudes, i),
                             "plan: '%.80s' is none of the targets; name one of them",
                             plan->attitudes.text[i]);
    if (plan->reference != NULL && !is_target(campaign, plan->reference))
        campaign_trouble(reader, yaml_tree_find(reader->tree, node, "reference"),
                         "plan: '%.80s' is none of the targets; name one of them", plan->reference);
    if (plan->facility != NULL && campaign_facility(campaign, plan->facility) == NULL)
        campaign_trouble(reader, yaml_tree_find(reader->tree, node, "facility"),
                         "plan: '%.80s' is none of the facilities; name one of them",
                         plan->facility);
    if (plan->balance != NULL && campaign_balance(campaign, plan->balance) == NULL)
        campaign_trouble(reader, yaml_tree_find(reader->tree, node, "balance"),
                         "plan: '%.80s' is none of the balances; name one of them", plan->balance);
}
