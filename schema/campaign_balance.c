/* campaign_balance.c - the section balances of campaign.yaml. */
#include <stdio.h>

#include "schema/campaign_reader.h"

static const struct binding origin_bindings[] = {
    {.key = "x", .kind = BIND_QUANTITY, .required = 1, .offset = 0, .unit = "m"},
    {.key = "y", .kind = BIND_QUANTITY, .required = 1, .offset = sizeof(double), .unit = "m"},
    {.key = "z", .kind = BIND_QUANTITY, .required = 1, .offset = 2 * sizeof(double), .unit = "m"},
};

static void read_origin(struct campaign_reader *reader, int node, void *whole)
{
    campaign_bind(reader, node, "origin", origin_bindings, 3, ((struct balance *)whole)->origin);
}

static const struct campaign_word x_words[] = {{"aft", 1}, {"forward", -1}, {NULL, 0}};
static const struct campaign_word y_words[] = {{"right", 1}, {"left", -1}, {NULL, 0}};
static const struct campaign_word z_words[] = {{"up", 1}, {"down", -1}, {NULL, 0}};

static const struct binding axes_bindings[] = {
    {.key = "x", .kind = BIND_WORD, .required = 1, .offset = 0, .words = x_words},
    {.key = "y", .kind = BIND_WORD, .required = 1, .offset = sizeof(int), .words = y_words},
    {.key = "z", .kind = BIND_WORD, .required = 1, .offset = 2 * sizeof(int), .words = z_words},
};

static void read_axes(struct campaign_reader *reader, int node, void *whole)
{
    int sign[3] = {1, 1, 1};
    campaign_bind(reader, node, "axes", axes_bindings, 3, sign);
    for (size_t i = 0; i < 3; i++)
        ((struct balance *)whole)->axis_sign[i] = sign[i];
}

static const struct campaign_word hand_words[] = {
    {"right-handed", 1}, {"left-handed", -1}, {NULL, 0}};

/* Held here until the axes are known as well: keys come in any order. */
static void read_moments(struct campaign_reader *reader, int node, void *whole)
{
    int hand = 1;
    if (!campaign_word(reader, node, "moments", hand_words, &hand))
        return;
    for (size_t i = 0; i < 3; i++)
        ((struct balance *)whole)->moment_sign[i] = hand;
}

static void read_rated(struct campaign_reader *reader, int node, void *whole)
{
    static const char *const names[LOAD_COUNT] = {"Fx", "Fy", "Fz", "Mx", "My", "Mz"};
    struct binding bindings[LOAD_COUNT];
    for (size_t i = 0; i < LOAD_COUNT; i++)
        bindings[i] = (struct binding){.key = names[i],
                                       .kind = BIND_QUANTITY,
                                       .offset = i * sizeof(double),
                                       .unit = i < 3 ? "N" : "N m",
                                       .range = RANGE_POSITIVE};
    campaign_bind(reader, node, "rated", bindings, LOAD_COUNT, ((struct balance *)whole)->rated);
}

static const struct binding balance_bindings[] = {
    {.key = "file", .kind = BIND_TEXT, .required = 1, .offset = offsetof(struct balance, file)},
    {.key = "outputs",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct balance, output_unit)},
    {.key = "contains", .kind = BIND_PART, .read = campaign_read_contains_of_balance},
    {.key = "origin", .kind = BIND_PART, .required = 1, .read = read_origin},
    {.key = "axes", .kind = BIND_PART, .required = 1, .read = read_axes},
    {.key = "moments", .kind = BIND_PART, .required = 1, .read = read_moments},
    {.key = "rated", .kind = BIND_PART, .read = read_rated},
};

const struct binding_table campaign_balance_table = {
    balance_bindings, sizeof balance_bindings / sizeof balance_bindings[0]};

static void describe_axes(struct campaign_reader *reader, struct balance *balance, int hand)
{
    const double *sign = balance->axis_sign;
    balance->axes_text = campaign_allocate(reader, 1, 80);
    if (balance->axes_text != NULL)
        (void)snprintf(balance->axes_text, 80, "x %s, y %s, z %s, moments %s-handed",
                       sign[0] > 0 ? "aft" : "forward", sign[1] > 0 ? "right" : "left",
                       sign[2] > 0 ? "up" : "down", hand > 0 ? "right" : "left");
}

static void read_balance(struct campaign_reader *reader, int key, int node, struct balance *balance)
{
    char what[120];
    *balance = (struct balance){.axis_sign = {1, 1, 1}, .moment_sign = {1, 1, 1}};
    if (!campaign_text(reader, key, "the name of a balance", &balance->name))
        return;
    (void)snprintf(what, sizeof what, "balance %.80s", balance->name);
    campaign_bind(reader, node, what, balance_bindings,
                  sizeof balance_bindings / sizeof balance_bindings[0], balance);
    int hand = balance->moment_sign[0] > 0 ? 1 : -1;
    /* A moment about an axis that is turned round is turned round with it. */
    for (size_t i = 0; i < 3; i++)
        balance->moment_sign[i] *= balance->axis_sign[i];
    describe_axes(reader, balance, hand);
}

void campaign_read_balances(struct campaign_reader *reader, int node, void *whole)
{
    struct campaign *campaign = whole;
    if (campaign->balances != NULL) /* the key is there twice, which is reported */
        return;
    campaign->balances = campaign_named_blocks(reader, node, "balances", sizeof *campaign->balances,
                                               &campaign->n_balances);
    for (size_t i = 0; i < campaign->n_balances && reader->failed == OK; i++)
        read_balance(reader, yaml_tree_key(reader->tree, node, i),
                     yaml_tree_value(reader->tree, node, i), &campaign->balances[i]);
}
