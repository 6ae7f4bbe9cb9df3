/* campaign_heights.c - the height sensors of a facility: what each is, and where on the car it stands.
 * Whether their places fix a plane is asked in reduce/recipe_check.c, where the plane is made.      */
#include <string.h>

#include "schema/campaign_reader.h"

static void read_sensor_role(struct campaign_reader *reader, int node, void *whole)
{
    struct height_sensor *sensor = whole;
    enum role role = role_from_name(yaml_tree_text(reader->tree, node));
    sensor->line = yaml_tree_line(reader->tree, node);
    sensor->column = yaml_tree_column(reader->tree, node);
    if (role >= ROLE_HEIGHT_SENSOR_1 && role <= ROLE_HEIGHT_SENSOR_8)
        sensor->role = role;
    else
        campaign_trouble(
            reader, node,
            "sensor '%.60s' is not known; write height_sensor_1 to height_sensor_8, as "
            "in the channel map",
            yaml_tree_text(reader->tree, node));
}

static const struct binding sensor_bindings[] = {
    {.key = "sensor", .kind = BIND_PART, .required = 1, .read = read_sensor_role},
    {.key = "x",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = offsetof(struct height_sensor, x),
     .unit = "m"},
    {.key = "y",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = offsetof(struct height_sensor, y),
     .unit = "m"},
    {.key = "offset",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = offsetof(struct height_sensor, offset),
     .unit = "m"},
};

static void check_sensor(struct campaign_reader *reader, int node, const struct facility *facility,
                         size_t at)
{
    const struct height_sensor *sensors = facility->height_sensors;
    for (size_t i = 0; i < at && sensors[at].role != ROLE_COUNT; i++)
        if (sensors[i].role == sensors[at].role)
            campaign_trouble(reader, yaml_tree_find(reader->tree, node, "sensor"),
                             "%s is given twice, first in line %zu; correct or remove one",
                             role_name(sensors[at].role), sensors[i].line);
}

void campaign_read_ride_height(struct campaign_reader *reader, int node, void *whole)
{
    int source = HEIGHT_FROM_LOG;
    if (campaign_word(reader, node, "ride_height", campaign_height_words, &source))
        ((struct facility *)whole)->ride_height = (enum height_source)source;
}

void campaign_read_roll(struct campaign_reader *reader, int node, void *whole)
{
    static const struct campaign_word words[] = {{"measured", 0}, {"zero", 1}, {NULL, 0}};
    (void)campaign_word(reader, node, "roll", words, &((struct facility *)whole)->roll_is_zero);
}

void campaign_read_height_sensors(struct campaign_reader *reader, int node, void *whole)
{
    struct facility *facility = whole;
    size_t n = yaml_tree_count(reader->tree, node);
    if (yaml_tree_kind(reader->tree, node) != YAML_LIST || n == 0 || n > HEIGHT_SENSORS_MAX) {
        campaign_trouble(reader, node,
                         "height_sensors needs a list of 1 to %d: - {sensor: height_sensor_1, x: "
                         "-0.6 m, y: -0.2 m, offset: 1.2 mm}",
                         (int)HEIGHT_SENSORS_MAX);
        return;
    }
    if (facility->height_sensors != NULL) /* the key is there twice, which is reported */
        return;
    facility->height_sensors = campaign_allocate(reader, n, sizeof *facility->height_sensors);
    if (facility->height_sensors == NULL)
        return;
    facility->n_height_sensors = n;
    for (size_t i = 0; i < n && reader->failed == OK; i++) {
        int item = yaml_tree_item(reader->tree, node, i);
        facility->height_sensors[i].role = ROLE_COUNT;
        campaign_bind(reader, item, "height sensor", sensor_bindings,
                      sizeof sensor_bindings / sizeof sensor_bindings[0],
                      &facility->height_sensors[i]);
        check_sensor(reader, item, facility, i);
    }
}

void campaign_check_heights(struct campaign_reader *reader, int node, const struct facility *f)
{
    int sensors = yaml_tree_find(reader->tree, node, "height_sensors");
    int source = yaml_tree_find(reader->tree, node, "ride_height");
    int roll = yaml_tree_find(reader->tree, node, "roll");
    const struct {
        int is_wrong;
        int node;
        const char *text;
    } rules[] = {
        {sensors != 0 && source == 0, sensors,
         "height_sensors are given, and nothing says whose ride heights are taken; write "
         "ride_height: from sensors, or from log"},
        {sensors == 0 && source != 0 && f->ride_height == HEIGHT_FROM_SENSORS, source,
         "ride_height is from sensors, and height_sensors places none; place them"},
        {sensors == 0 && roll != 0, roll,
         "roll is for height_sensors, which are not given; remove it, or map the role roll"},
    };
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++)
        if (rules[i].is_wrong)
            campaign_trouble(reader, rules[i].node, "facility %.80s: %s", f->name, rules[i].text);
}
