/* setting_text.c - see setting_text.h. */
#include "report/setting_text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/number.h"

struct words {
    const char *key, *text;
};

/* Keys whose words are more than the key without its underscores. */
static const struct words names[] = {
    {"already_corrected", "wall corrections already in the log"},
    {"balance_follows", "the balance follows the car in"},
    {"blockage", "blockage correction"},
    {"blockage_shape", "shape factor K of the blockage correction"},
    {"buoyancy", "buoyancy correction"},
    {"buoyancy_volume_factor", "volume factor of the buoyancy correction"},
    {"confidence", "confidence of the judged intervals"},
    {"contains", "inside CD and CL"},
    {"count", "size of one count of a coefficient"},
    {"digest", "SHA-256 of campaign.yaml"},
    {"floor_image", "the floor mirrors the car"},
    {"height", "height of the test section"},
    {"length", "length of the car"},
    {"map_attitude", "attitude of the pressure maps"},
    {"point", "what a point means"},
    {"pressure_gradient", "pressure gradient dCp/dx of the empty section"},
    {"q_unsteady", "dynamic pressure flagged as unsteady above sd(q)/q"},
    {"reference_area_source", "where the reference area comes from"},
    {"to_target", "step to the target attitude"},
    {"trend", "trend within a point flagged above this share of the smallest delta worth having"},
    {"volume", "volume of the car"},
    {"width", "width of the test section"},
    {"yaw_positive", "yaw positive in the logs"},
    {"zero", "wind-off zero"},
    {"zero_drift", "zero drift flagged above this share of the smallest delta worth having"},
};

/* What stands before ": " in a key. is_attitude: its lengths are heights of an attitude. */
struct group_words {
    const char *key, *text;
    int is_attitude;
};

static const struct group_words groups[] = {
    {"tolerance", "at target within", 1},
    {"cap", "cap on attitude correction", 1},
    {"capture", "belongs to a target within", 1},
    {"tare_tolerance", "weight tare at the same attitude within", 1},
};

/* Shares that a campaign gives in %. */
static const char *const shares[] = {"confidence", "q_unsteady"};

struct unit_row {
    const char *stored, *shown;
    double factor;
};

static const struct unit_row units[] = {
    {"rad", "deg", 57.29577951308232},
    {"m2", "m\xC2\xB2", 1},
    {"m3", "m\xC2\xB3", 1},
    {"1", "", 1},
};

static const struct unit_row millimetres = {"m", "mm", 1000};
static const struct unit_row percent = {"1", "%", 100};

/* The row of what stands before ": "; NULL for none. *rest is what stands behind. */
static const struct group_words *group_of(const char *name, const char **rest)
{
    const char *colon = strstr(name, ": ");

    *rest = name;
    if (colon == NULL)
        return NULL;
    for (size_t i = 0; i < sizeof groups / sizeof groups[0]; i++) {
        size_t length = strlen(groups[i].key);
        if ((size_t)(colon - name) == length && strncmp(groups[i].key, name, length) == 0) {
            *rest = colon + 2;
            return &groups[i];
        }
    }
    return NULL;
}

static void without_underscores(char *text)
{
    for (char *at = text; *at != '\0'; at++)
        if (*at == '_')
            *at = ' ';
}

struct setting_text setting_name(const char *name)
{
    static const char column[] = "column ";
    struct setting_text out;
    const char *rest = name;
    const struct group_words *group = group_of(name, &rest);

    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (strcmp(names[i].key, name) == 0) {
            (void)snprintf(out.text, sizeof out.text, "%s", names[i].text);
            return out;
        }
    }
    if (group != NULL)
        (void)snprintf(out.text, sizeof out.text, "%s: %.200s", group->text, rest);
    else
        (void)snprintf(out.text, sizeof out.text, "%.300s", name);
    if (strncmp(name, column, sizeof column - 1) != 0)
        without_underscores(out.text);
    return out;
}

static int is_share(const char *name)
{
    for (size_t i = 0; i < sizeof shares / sizeof shares[0]; i++)
        if (strcmp(shares[i], name) == 0)
            return 1;
    return 0;
}

/* NULL: shown in the stored unit. */
static const struct unit_row *unit_of(const char *name, const char *unit)
{
    const char *rest = name;
    const struct group_words *group = group_of(name, &rest);

    if (group != NULL && group->is_attitude && strcmp(unit, millimetres.stored) == 0)
        return &millimetres;
    if (is_share(name) && strcmp(unit, percent.stored) == 0)
        return &percent;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
        if (strcmp(units[i].stored, unit) == 0)
            return &units[i];
    return NULL;
}

const char *setting_value(const char *name, const char *value, const char *unit,
                          struct setting_text *room)
{
    double number = 0;

    if (value[0] == '\0')
        return "empty";
    if (unit[0] == '\0' || number_parse(value, strlen(value), '.', &number, NULL) != NUMBER_OK)
        return value;
    const struct unit_row *row = unit_of(name, unit);
    const char *shown = row != NULL ? row->shown : unit;
    double printed = row != NULL ? row->factor * number : number;
    (void)snprintf(room->text, sizeof room->text, "%s%.6g%s%.40s",
                   printed < 0 ? "\xE2\x88\x92" : "", fabs(printed), shown[0] != '\0' ? " " : "",
                   shown);
    return room->text;
}
