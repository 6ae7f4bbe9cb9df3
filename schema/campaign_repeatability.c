/* campaign_repeatability.c - the section repeatability: what is known of it from before the season. */
#include <stdio.h>
#include <string.h>

#include "schema/campaign_reader.h"

/* A figure being read, with the unit of its quantity. */
struct figure_reading {
    struct declared_repeatability figure;
    const char *unit; /* NULL: the quantity is not known, so nothing can be said of its scatter */
};

static void read_deviation(struct campaign_reader *reader, int node, void *whole)
{
    struct figure_reading *reading = whole;
    if (reading->unit == NULL ||
        !campaign_quantity(reader, node, "standard_deviation", reading->unit,
                           &reading->figure.standard_deviation))
        return;
    if (!(reading->figure.standard_deviation > 0))
        campaign_trouble(reader, node, "standard_deviation is '%.40s'; it must be more than 0",
                         yaml_tree_text(reader->tree, node));
}

static const struct binding figure_bindings[] = {
    {.key = "facility",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct declared_repeatability, facility)},
    {.key = "quantity",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct declared_repeatability, quantity)},
    {.key = "attitude",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct declared_repeatability, attitude)},
    {.key = "level",
     .kind = BIND_WORD,
     .required = 1,
     .offset = offsetof(struct declared_repeatability, level),
     .words = campaign_level_words},
    {.key = "standard_deviation", .kind = BIND_PART, .required = 1, .read = read_deviation},
    {.key = "degrees_of_freedom",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = offsetof(struct declared_repeatability, degrees_of_freedom),
     .unit = "1",
     .range = RANGE_POSITIVE},
    {.key = "source",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct declared_repeatability, source)},
};

const struct binding_table campaign_repeatability_table = {
    figure_bindings, sizeof figure_bindings / sizeof figure_bindings[0]};

static void read_figure(struct campaign_reader *reader, int node, size_t number,
                        struct declared_repeatability *figure)
{
    char what[64];
    struct figure_reading reading = {.figure = {.level = -1}};
    (void)snprintf(what, sizeof what, "repeatability, figure %zu", number);
    if (!campaign_is_mapping(reader, node, what))
        return;
    const struct quantity_row *quantity =
        campaign_find_quantity(reader, yaml_tree_find(reader->tree, node, "quantity"));
    reading.unit = quantity != NULL ? quantity->unit : NULL;
    campaign_bind(reader, node, what, figure_bindings,
                  sizeof figure_bindings / sizeof figure_bindings[0], &reading);
    *figure = reading.figure;
}

void campaign_read_repeatability(struct campaign_reader *reader, int node, void *whole)
{
    struct campaign *campaign = whole;
    if (yaml_tree_kind(reader->tree, node) != YAML_LIST) {
        campaign_trouble(reader, node,
                         "repeatability needs a list of figures: - {facility: NAME, quantity: CL, "
                         "attitude: any, level: part refitted, standard_deviation: 0.003, "
                         "degrees_of_freedom: 20, source: TEXT}");
        return;
    }
    if (campaign->repeatability != NULL) /* the key is there twice, which is reported */
        return;
    size_t n = yaml_tree_count(reader->tree, node);
    campaign->repeatability = campaign_allocate(reader, n, sizeof *campaign->repeatability);
    if (campaign->repeatability == NULL)
        return;
    campaign->n_repeatability = n;
    for (size_t i = 0; i < n && reader->failed == OK; i++)
        read_figure(reader, yaml_tree_item(reader->tree, node, i), i + 1,
                    &campaign->repeatability[i]);
}

static int is_attitude(const struct campaign *campaign, const char *name)
{
    if (strcmp(name, "any") == 0 || strcmp(name, "weighted") == 0)
        return 1;
    for (size_t i = 0; i < campaign->attitudes.n_targets; i++) {
        const char *target = campaign->attitudes.targets[i].name;
        if (target != NULL && strcmp(target, name) == 0)
            return 1;
    }
    return 0;
}

static int has_facility(const struct campaign *campaign, const char *name)
{
    for (size_t i = 0; i < campaign->n_facilities; i++) {
        const char *facility = campaign->facilities[i].name;
        if (facility != NULL && strcmp(facility, name) == 0)
            return 1;
    }
    return 0;
}

static int is_same(const char *a, const char *b)
{
    return a != NULL && b != NULL && strcmp(a, b) == 0;
}

static int is_said_before(const struct campaign *campaign, size_t at)
{
    const struct declared_repeatability *figure = &campaign->repeatability[at];
    for (size_t i = 0; i < at; i++) {
        const struct declared_repeatability *other = &campaign->repeatability[i];
        if (is_same(other->facility, figure->facility) &&
            is_same(other->quantity, figure->quantity) &&
            is_same(other->attitude, figure->attitude) && other->level == figure->level &&
            figure->level >= 0)
            return 1;
    }
    return 0;
}

void campaign_check_repeatability(struct campaign_reader *reader, int node)
{
    const struct campaign *campaign = reader->campaign;
    for (size_t i = 0; node != 0 && i < campaign->n_repeatability; i++) {
        const struct declared_repeatability *figure = &campaign->repeatability[i];
        int item = yaml_tree_item(reader->tree, node, i);
        if (figure->facility != NULL && !has_facility(campaign, figure->facility))
            campaign_trouble(reader, yaml_tree_find(reader->tree, item, "facility"),
                             "repeatability: '%.80s' is none of the facilities; name one of them",
                             figure->facility);
        if (figure->attitude != NULL && !is_attitude(campaign, figure->attitude))
            campaign_trouble(reader, yaml_tree_find(reader->tree, item, "attitude"),
                             "repeatability: '%.80s' is none of the targets; name one of them, or "
                             "write weighted or any",
                             figure->attitude);
        if (is_said_before(campaign, i))
            campaign_trouble(
                reader, item,
                "repeatability: figure %zu is of the same facility, quantity, attitude "
                "and level as one before; leave one of both out",
                i + 1);
    }
}
