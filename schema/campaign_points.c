/* campaign_points.c - what a channel map says of which rows are one point, and of channels slower than
 * the rows; see campaign_reader.h.
 *
 * A point is told by a column of labels, by a column that says when it is recorded, by the row's own
 * number, or by the attained attitude: one of the four, and never two.                             */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/campaign_reader.h"

enum { SWEEP_ROWS_MAX = 1000000 };

/* The coordinate of this name; ATTITUDE_COUNT when there is none. */
static int find_axis(const char *name)
{
    int axis = 0;
    while (axis < ATTITUDE_COUNT && strcmp(attitude_axis_name((enum attitude_axis)axis), name) != 0)
        axis++;
    return axis;
}

static void read_of(struct campaign_reader *reader, int node, void *whole)
{
    int axis = find_axis(yaml_tree_text(reader->tree, node));
    if (axis < ATTITUDE_COUNT)
        ((struct map_sweep *)whole)->of = (enum attitude_axis)axis;
    else
        campaign_trouble(reader, node,
                         "sweep: of is '%.60s'; it must be a coordinate of the attitude: "
                         "front_ride_height, rear_ride_height, yaw, roll, pitch or steer",
                         yaml_tree_text(reader->tree, node));
}

static void read_least_rows(struct campaign_reader *reader, int node, void *whole)
{
    double rows = 0;
    if (!campaign_quantity(reader, node, "sweep: least_rows", "1", &rows))
        return;
    if (rows >= 1 && rows <= SWEEP_ROWS_MAX && rows == floor(rows))
        ((struct map_sweep *)whole)->least_rows = rows;
    else
        campaign_trouble(reader, node,
                         "sweep: least_rows is '%.40s'; a whole number from 1 to %d is needed",
                         yaml_tree_text(reader->tree, node), SWEEP_ROWS_MAX);
}

/* The window has the unit of its coordinate; without one it cannot be read. */
static void leave(struct campaign_reader *reader, int node, void *whole)
{
    (void)reader;
    (void)node;
    (void)whole;
}

void campaign_read_sweep(struct campaign_reader *reader, int node, void *whole)
{
    struct map_sweep *sweep = &((struct channel_map *)whole)->sweep;
    int of = yaml_tree_find(reader->tree, node, "of");
    int axis = find_axis(yaml_tree_text(reader->tree, of));
    int is_known = axis < ATTITUDE_COUNT;
    const struct binding bindings[] = {
        {.key = "of", .kind = BIND_PART, .required = 1, .read = read_of},
        {.key = "window",
         .kind = is_known ? BIND_QUANTITY : BIND_PART,
         .required = 1,
         .offset = offsetof(struct map_sweep, window),
         .unit = is_known ? attitude_axis_unit((enum attitude_axis)axis) : NULL,
         .range = RANGE_POSITIVE,
         .read = leave},
        {.key = "settle",
         .kind = BIND_QUANTITY,
         .required = 1,
         .offset = offsetof(struct map_sweep, settle),
         .unit = "s",
         .range = RANGE_NOT_NEGATIVE},
        {.key = "least_rows", .kind = BIND_PART, .required = 1, .read = read_least_rows},
    };
    campaign_bind(reader, node, "sweep", bindings, sizeof bindings / sizeof bindings[0], sweep);
}

/* Node of the value of a column's key; 0 when it does not stand there. */
static int column_value(struct campaign_reader *reader, int node, size_t column, const char *key)
{
    int columns = yaml_tree_find(reader->tree, node, "columns");
    return yaml_tree_find(reader->tree, yaml_tree_value(reader->tree, columns, column), key);
}

/* Place of the column with this role in the map; n_columns when none has it. */
static size_t find_role(const struct channel_map *map, enum role role)
{
    size_t i = 0;
    while (i < map->n_columns &&
           (map->columns[i].role != role || map->columns[i].statistic != COLUMN_VALUE))
        i++;
    return i;
}

static int role_node(struct campaign_reader *reader, int node, const struct channel_map *map,
                     enum role role)
{
    size_t column = find_role(map, role);
    return column < map->n_columns ? column_value(reader, node, column, "role") : 0;
}

/* One way of telling what a point is: where the map names it, and 0 where it does not. */
struct way {
    const char *words, *why_not;
    int node;
    enum map_rows rows; /* it goes with */
};

static void check_ways(struct campaign_reader *reader, int key, int node,
                       const struct channel_map *map, int is_whole)
{
    struct yaml_tree *tree = reader->tree;
    const struct way ways[] = {
        {"a column with the role point", "", role_node(reader, node, map, ROLE_POINT), map->rows},
        {"a column with the role recording",
         "the role recording gathers samples into points; it goes with rows: samples",
         role_node(reader, node, map, ROLE_RECORDING), ROWS_SAMPLES},
        {"point_by_row: yes", "point_by_row numbers averaged rows; it goes with rows: points",
         map->point_by_row ? yaml_tree_find(tree, node, "point_by_row") : 0, ROWS_POINTS},
        {"sweep", "sweep gathers samples into points; it goes with rows: samples",
         yaml_tree_find(tree, node, "sweep"), ROWS_SAMPLES},
    };
    int is_told = 0;
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        if (ways[i].node == 0)
            continue;
        is_told = 1;
        if (ways[i].rows != map->rows)
            campaign_trouble(reader, ways[i].node, "channel map %.80s: %s only", map->name,
                             ways[i].why_not);
        for (size_t k = 0; k < i; k++)
            if (ways[k].node != 0)
                campaign_trouble(reader, ways[i].node,
                                 "channel map %.80s: %s and %s both say which rows are a point; "
                                 "keep one of them",
                                 map->name, ways[k].words, ways[i].words);
    }
    if (!is_told && is_whole)
        campaign_trouble(reader, key,
                         "channel map %.80s: no column has the role point; give it to one, or the "
                         "role recording to a flag, or write sweep: for points by attained "
                         "attitude, or, with rows: points, point_by_row: yes",
                         map->name);
}

static void check_sweep(struct campaign_reader *reader, int node, const struct channel_map *map)
{
    int sweep = yaml_tree_find(reader->tree, node, "sweep");
    int has_time = map->rate > 0 || find_role(map, ROLE_TIME) < map->n_columns ||
                   find_role(map, ROLE_CLOCK) < map->n_columns;
    if (sweep == 0)
        return;
    if (!has_time)
        campaign_trouble(reader, sweep,
                         "channel map %.80s: sweep needs the rows' times, by which settle is "
                         "counted; give a column the role time or clock, or write rate",
                         map->name);
    if (map->sweep.window > 0 &&
        find_role(map, attitude_axis_role(map->sweep.of)) == map->n_columns)
        campaign_trouble(reader, yaml_tree_find(reader->tree, sweep, "of"),
                         "channel map %.80s: sweep is of %s, but no column has this role; map it, "
                         "or name a coordinate that is mapped",
                         map->name, attitude_axis_name(map->sweep.of));
}

/* hold is about the samples of what is measured. */
static void check_holds(struct campaign_reader *reader, int node, const struct channel_map *map)
{
    for (size_t i = 0; i < map->n_columns; i++) {
        const struct map_column *column = &map->columns[i];
        if (column->hold == HOLD_NONE)
            continue;
        int at = column_value(reader, node, i, "hold");
        if (!role_is_channel(column->role) && column->role != ROLE_COUNT)
            campaign_trouble(reader, at,
                             "column '%.80s' has the role %s, which every row must tell; take hold "
                             "out",
                             column->column, role_name(column->role));
        else if (map->rows == ROWS_POINTS || column->statistic != COLUMN_VALUE)
            campaign_trouble(reader, at,
                             "column '%.80s': hold says how samples are written, and these are "
                             "averages; take hold out, or write rows: samples",
                             column->column);
    }
    int taps = yaml_tree_find(reader->tree, node, "taps");
    if (map->tap_hold != HOLD_NONE && map->rows == ROWS_POINTS)
        campaign_trouble(reader, yaml_tree_find(reader->tree, taps, "hold"),
                         "taps: hold says how samples are written, and these are averages; take "
                         "hold out, or write rows: samples");
}

void campaign_check_points(struct campaign_reader *reader, int key, int node,
                           const struct channel_map *map, int is_whole)
{
    check_ways(reader, key, node, map, is_whole);
    if (is_whole)
        check_sweep(reader, node, map);
    check_holds(reader, node, map);
}
