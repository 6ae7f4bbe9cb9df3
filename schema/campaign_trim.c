/* campaign_trim.c - the section trim of campaign.yaml: devices that take a change of balance back. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "schema/campaign_reader.h"
#include "schema/number.h"

/* "2 hole": a number, a blank, the unit as the user counts; the same unit in all settings of a device. */
static void read_setting(struct campaign_reader *reader, int node, const char *key, double *setting,
                         struct trim_device *device)
{
    const char *text = yaml_tree_text(reader->tree, node);
    size_t length = strcspn(text, " ");
    const char *unit = text + length + strspn(text + length, " ");
    double value = 0;
    if (number_parse(text, length, '.', &value, NULL) != NUMBER_OK || unit[0] == '\0') {
        campaign_trouble(reader, node,
                         "%s: '%.60s' is no setting; write a number and its unit, as in 2 deg or 3 "
                         "hole",
                         key, text);
        return;
    }
    if (device->unit != NULL && strcmp(device->unit, unit) != 0) {
        campaign_trouble(reader, node,
                         "%s is in '%.40s', another setting of the device in '%.40s'; write all of "
                         "them in one unit, spelled alike",
                         key, unit, device->unit);
        return;
    }
    if (device->unit == NULL) {
        device->unit = campaign_allocate(reader, strlen(unit) + 1, 1);
        if (device->unit == NULL)
            return;
        memcpy(device->unit, unit, strlen(unit) + 1);
    }
    *setting = value;
}

static void read_from(struct campaign_reader *reader, int node, void *whole)
{
    struct trim_device *device = whole;
    read_setting(reader, node, "from", &device->from, device);
}

static void read_to(struct campaign_reader *reader, int node, void *whole)
{
    struct trim_device *device = whole;
    read_setting(reader, node, "to", &device->to, device);
}

static void read_least(struct campaign_reader *reader, int node, void *whole)
{
    struct trim_device *device = whole;
    read_setting(reader, node, "least", &device->least, device);
}

static void read_most(struct campaign_reader *reader, int node, void *whole)
{
    struct trim_device *device = whole;
    read_setting(reader, node, "most", &device->most, device);
}

static const struct binding device_bindings[] = {
    {.key = "configuration",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct trim_device, configuration)},
    {.key = "from", .kind = BIND_PART, .required = 1, .read = read_from},
    {.key = "to", .kind = BIND_PART, .required = 1, .read = read_to},
    {.key = "least", .kind = BIND_PART, .required = 1, .read = read_least},
    {.key = "most", .kind = BIND_PART, .required = 1, .read = read_most},
};

/* Settings that could not be read are NAN here, and told already. */
static void check_settings(struct campaign_reader *reader, int node,
                           const struct trim_device *device)
{
    if (isnan(device->from) || isnan(device->to))
        return;
    if (device->from == device->to)
        campaign_trouble(reader, node,
                         "trim %.80s: from and to are both %g; the configuration must differ from "
                         "its baseline by the device",
                         device->name, device->from);
    if (isnan(device->least) || isnan(device->most))
        return;
    double low = fmin(device->from, device->to);
    double high = fmax(device->from, device->to);
    if (!(device->least <= low && high <= device->most))
        campaign_trouble(reader, node,
                         "trim %.80s: the settings that were run, %g and %g, are not within least "
                         "%g and most %g; correct them",
                         device->name, low, high, device->least, device->most);
}

static void read_device(struct campaign_reader *reader, int key, int node,
                        struct trim_device *device)
{
    static const char what[] = "the name of a trimming device";
    *device = (struct trim_device){
        .from = (double)NAN, .to = (double)NAN, .least = (double)NAN, .most = (double)NAN};
    if (!campaign_text(reader, key, what, &device->name))
        return;
    campaign_bind(reader, node, "trim", device_bindings,
                  sizeof device_bindings / sizeof device_bindings[0], device);
    check_settings(reader, node, device);
}

void campaign_read_trim(struct campaign_reader *reader, int node, void *whole)
{
    struct campaign *campaign = whole;
    if (campaign->trims != NULL) /* the key is there twice, which is reported */
        return;
    campaign->trims =
        campaign_named_blocks(reader, node, "trim", sizeof *campaign->trims, &campaign->n_trims);
    for (size_t i = 0; i < campaign->n_trims && reader->failed == OK; i++)
        read_device(reader, yaml_tree_key(reader->tree, node, i),
                    yaml_tree_value(reader->tree, node, i), &campaign->trims[i]);
}
