/* campaign.c - look-ups in a campaign, its end, and the names of the attitude's coordinates. */
#include "schema/campaign.h"

#include <stdlib.h>
#include <string.h>

static const struct {
    const char *name;
    const char *words;
    enum role role;
    const char *unit;
} axes[ATTITUDE_COUNT] = {
    [ATTITUDE_FRONT_RIDE_HEIGHT] = {"front_ride_height", "front ride height",
                                    ROLE_FRONT_RIDE_HEIGHT, "m"},
    [ATTITUDE_REAR_RIDE_HEIGHT] = {"rear_ride_height", "rear ride height", ROLE_REAR_RIDE_HEIGHT,
                                   "m"},
    [ATTITUDE_YAW] = {"yaw", "yaw", ROLE_YAW, "rad"},
    [ATTITUDE_ROLL] = {"roll", "roll", ROLE_ROLL, "rad"},
    [ATTITUDE_PITCH] = {"pitch", "pitch", ROLE_PITCH, "rad"},
    [ATTITUDE_STEER] = {"steer", "steer", ROLE_STEER, "rad"},
};

const char *attitude_axis_name(enum attitude_axis axis)
{
    return axes[axis].name;
}

const char *attitude_axis_words(enum attitude_axis axis)
{
    return axes[axis].words;
}

enum role attitude_axis_role(enum attitude_axis axis)
{
    return axes[axis].role;
}

const char *attitude_axis_unit(enum attitude_axis axis)
{
    return axes[axis].unit;
}

const struct facility *campaign_facility(const struct campaign *campaign, const char *name)
{
    for (size_t i = 0; i < campaign->n_facilities; i++)
        if (strcmp(campaign->facilities[i].name, name) == 0)
            return &campaign->facilities[i];
    return NULL;
}

const struct balance *campaign_balance(const struct campaign *campaign, const char *name)
{
    for (size_t i = 0; i < campaign->n_balances; i++)
        if (strcmp(campaign->balances[i].name, name) == 0)
            return &campaign->balances[i];
    return NULL;
}

const struct channel_map *campaign_map(const struct campaign *campaign, const char *name)
{
    for (size_t i = 0; i < campaign->n_maps; i++)
        if (strcmp(campaign->maps[i].name, name) == 0)
            return &campaign->maps[i];
    return NULL;
}

const char *campaign_tap_unit(const struct channel_map *map)
{
    return map->taps_measured == TAPS_AS_COEFFICIENT ? "1" : role_unit(ROLE_TAP);
}

const struct metric *campaign_metric(const struct campaign *campaign, const char *name)
{
    for (size_t i = 0; i < campaign->n_metrics; i++)
        if (strcmp(campaign->metrics[i].name, name) == 0)
            return &campaign->metrics[i];
    return NULL;
}

const struct facility_uncertainties *campaign_uncertainties(const struct campaign *campaign,
                                                            const char *facility)
{
    for (size_t i = 0; i < campaign->n_uncertainties; i++)
        if (strcmp(campaign->uncertainties[i].facility, facility) == 0)
            return &campaign->uncertainties[i];
    return NULL;
}

static void free_facility(struct facility *facility)
{
    free(facility->name);
    free(facility->contains);
    free(facility->height_sensors);
    free(facility->balance_follows);
    free(facility->blockage);
    boundary_end(&facility->boundary);
    for (int i = 0; i < TABLE_KINDS; i++) {
        free(facility->tables[i].file);
        free(facility->tables[i].contains);
    }
}

static void free_balance(struct balance *balance)
{
    free(balance->name);
    free(balance->file);
    free(balance->output_unit);
    free(balance->contains);
    free(balance->axes_text);
}

static void free_map(struct channel_map *map)
{
    free(map->name);
    for (size_t i = 0; i < map->n_missing_words; i++)
        free(map->missing_words[i]);
    for (size_t i = 0; i < map->n_names; i++)
        free(map->names[i]);
    free(map->names);
    free(map->comment);
    free(map->blocks);
    free(map->missing_words);
    free(map->sentinels);
    for (size_t i = 0; i < map->n_columns; i++) {
        free(map->columns[i].column);
        free(map->columns[i].unit);
        free(map->columns[i].of);
    }
    free(map->columns);
    free(map->tap_unit);
}

static void free_repeatability(struct declared_repeatability *declared)
{
    free(declared->facility);
    free(declared->quantity);
    free(declared->attitude);
    free(declared->source);
}

static void free_lists(struct campaign *campaign)
{
    for (size_t i = 0; i < campaign->n_facilities; i++)
        free_facility(&campaign->facilities[i]);
    free(campaign->facilities);
    for (size_t i = 0; i < campaign->n_balances; i++)
        free_balance(&campaign->balances[i]);
    free(campaign->balances);
    for (size_t i = 0; i < campaign->n_maps; i++)
        free_map(&campaign->maps[i]);
    free(campaign->maps);
    for (size_t i = 0; i < campaign->attitudes.n_targets; i++)
        free(campaign->attitudes.targets[i].name);
    free(campaign->attitudes.targets);
    for (size_t i = 0; i < campaign->n_metrics; i++) {
        free(campaign->metrics[i].name);
        free(campaign->metrics[i].quantity);
    }
    free(campaign->metrics);
    for (size_t i = 0; i < campaign->n_repeatability; i++)
        free_repeatability(&campaign->repeatability[i]);
    free(campaign->repeatability);
    for (size_t i = 0; i < campaign->n_trims; i++) {
        free(campaign->trims[i].name);
        free(campaign->trims[i].configuration);
        free(campaign->trims[i].unit);
    }
    free(campaign->trims);
    for (size_t i = 0; i < campaign->n_uncertainties; i++)
        facility_uncertainties_end(&campaign->uncertainties[i]);
    free(campaign->uncertainties);
}

void campaign_free(struct campaign *campaign)
{
    if (campaign == NULL)
        return;
    free_lists(campaign);
    plan_section_end(&campaign->plan);
    repeat_section_end(&campaign->repeats);
    text_list_end(&campaign->keep_samples);
    free(campaign->path);
    free(campaign->season);
    free(campaign->point_meaning);
    free(campaign->car.name);
    free(campaign->car.reference_area_source);
    free(campaign->main_metric);
    free(campaign->main_attitude);
    free(campaign->map_attitude);
    free(campaign->trade.metric);
    free(campaign->trade.per);
    free(campaign);
}
