/* campaign_maps.c - the section channel_maps of campaign.yaml: how a log is written and what each
 * of its columns means. */
#include <stdio.h>
#include <string.h>

#include "schema/campaign_reader.h"

static void read_delimiter(struct campaign_reader *reader, int node, void *map)
{
    int delimiter = 0;
    if (campaign_word(reader, node, "delimiter", campaign_delimiter_words, &delimiter))
        ((struct channel_map *)map)->delimiter = (char)delimiter;
}

static void read_decimal(struct campaign_reader *reader, int node, void *map)
{
    int mark = '.';
    if (campaign_word(reader, node, "decimal", campaign_decimal_words, &mark))
        ((struct channel_map *)map)->decimal_mark = (char)mark;
}

static void read_encoding(struct campaign_reader *reader, int node, void *map)
{
    int encoding = ENCODING_BY_MARK;
    if (campaign_word(reader, node, "encoding", campaign_encoding_words, &encoding))
        ((struct channel_map *)map)->encoding = (enum map_encoding)encoding;
}

static void read_role(struct campaign_reader *reader, int node, void *whole)
{
    struct map_column *column = whole;
    const char *name = yaml_tree_text(reader->tree, node);
    enum role role = role_from_name(name);
    if (role == ROLE_TAP)
        campaign_trouble(reader, node,
                         "role tap is not written here: taps.csv names the tap's column, and the "
                         "map says 'taps:'");
    else if (role == ROLE_COUNT)
        campaign_trouble(reader, node,
                         "'%.60s' is not a role; roles are time, point, balance_output_1, "
                         "static_pressure, front_ride_height, yaw ...: the file that `lapwing "
                         "init` writes lists them all",
                         name);
    else
        column->role = role;
}

static void read_sign(struct campaign_reader *reader, int node, void *whole)
{
    double sign = 0;
    if (!campaign_quantity(reader, node, "sign", "1", &sign))
        return;
    if (sign != 1.0 && sign != -1.0)
        campaign_trouble(reader, node, "sign is '%.40s'; it must be 1 or -1",
                         yaml_tree_text(reader->tree, node));
    else
        ((struct map_column *)whole)->sign = sign;
}

static const struct binding column_bindings[] = {
    {.key = "role", .kind = BIND_PART, .required = 1, .read = read_role},
    {.key = "statistic",
     .kind = BIND_WORD,
     .offset = offsetof(struct map_column, statistic),
     .words = campaign_statistic_words},
    {.key = "unit", .kind = BIND_TEXT, .offset = offsetof(struct map_column, unit)},
    {.key = "of", .kind = BIND_TEXT, .offset = offsetof(struct map_column, of)},
    {.key = "sign", .kind = BIND_PART, .read = read_sign},
    {.key = "hold",
     .kind = BIND_WORD,
     .offset = offsetof(struct map_column, hold),
     .words = campaign_hold_words},
};

static void check_unit(struct campaign_reader *reader, int node, const char *unit,
                       const char *si_unit)
{
    struct unit_conversion conversion;
    struct fault fault;
    if (unit == NULL)
        return;
    if (si_unit == NULL)
        return;
    if (units_conversion(reader->units, unit, si_unit, &conversion, &fault) != OK)
        campaign_trouble_fault(reader, node, &fault);
}

static void check_any_unit(struct campaign_reader *reader, int node, const char *unit)
{
    const char *kind = NULL;
    struct fault fault;
    if (unit != NULL && units_kind(reader->units, unit, &kind, &fault) != OK)
        campaign_trouble_fault(reader, node, &fault);
}

static void read_column(struct campaign_reader *reader, int key, int node,
                        struct map_column *column)
{
    char what[160];
    *column = (struct map_column){.role = ROLE_COUNT, .sign = 1};
    column->line = yaml_tree_line(reader->tree, key);
    if (!campaign_text(reader, key, "the name of a column", &column->column))
        return;
    (void)snprintf(what, sizeof what, "column '%.80s'", column->column);
    campaign_bind(reader, node, what, column_bindings,
                  sizeof column_bindings / sizeof column_bindings[0], column);
    if (column->role == ROLE_OTHER)
        check_any_unit(reader, yaml_tree_find(reader->tree, node, "unit"), column->unit);
    else if (column->role != ROLE_COUNT)
        check_unit(reader, yaml_tree_find(reader->tree, node, "unit"), column->unit,
                   role_unit(column->role));
}

/* Of all roles only other is given to many columns: a statistic of one of them must say which. */
static void check_of(struct campaign_reader *reader, int key, const struct map_column *column)
{
    const char *statistic = campaign_word_text(campaign_statistic_words, (int)column->statistic);
    int needs = column->role == ROLE_OTHER && column->statistic != COLUMN_VALUE;
    if (needs && column->of == NULL)
        campaign_trouble(reader, key,
                         "column '%.80s' is the %s of a column with the role other; name it: "
                         "{role: other, statistic: %s, of: COLUMN}",
                         column->column, statistic, statistic);
    if (!needs && column->of != NULL)
        campaign_trouble(reader, key,
                         "column '%.80s': of goes with role: other and a statistic (sd, standard "
                         "uncertainty, expanded uncertainty) only; take it out",
                         column->column);
}

static int is_uncertainty(const struct map_column *column)
{
    return column->statistic >= COLUMN_STANDARD_UNCERTAINTY;
}

/* Two columns of one meaning: which of them to believe is not ours to choose. */
static void check_column(struct campaign_reader *reader, int key, const struct channel_map *map,
                         size_t at)
{
    const struct map_column *column = &map->columns[at];
    int is_free =
        column->role == ROLE_COUNT || column->role == ROLE_OTHER || is_uncertainty(column);
    for (size_t i = 0; i < at && !is_free; i++) {
        if (map->columns[i].role != column->role || map->columns[i].statistic != column->statistic)
            continue;
        campaign_trouble(reader, key,
                         "column '%.80s' has the role %s, which '%.80s' in line %zu has already; "
                         "remove one of them",
                         column->column, role_name(column->role), map->columns[i].column,
                         map->columns[i].line);
        return;
    }
}

/* An uncertainty is stated of an averaged value, once, and has no sense of its own. */
static void check_stated(struct campaign_reader *reader, int key, const struct channel_map *map,
                         size_t at)
{
    const struct map_column *column = &map->columns[at];
    if (column->role == ROLE_COUNT || !is_uncertainty(column))
        return;
    if (!role_is_channel(column->role))
        campaign_trouble(reader, key,
                         "column '%.80s' is to be the uncertainty of %s, which is not measured; "
                         "give it the role of its value",
                         column->column, role_name(column->role));
    if (column->sign < 0)
        campaign_trouble(reader, key,
                         "column '%.80s': an uncertainty has no sign; take sign out, also where "
                         "its value has one",
                         column->column);
    for (size_t i = 0; i < at; i++)
        if (is_uncertainty(&map->columns[i]) && map->columns[i].role == column->role &&
            (column->role != ROLE_OTHER || (column->of != NULL && map->columns[i].of != NULL &&
                                            strcmp(column->of, map->columns[i].of) == 0)))
            campaign_trouble(
                reader, key,
                "column '%.80s' states the uncertainty that '%.80s' in line %zu states "
                "already; keep one of them",
                column->column, map->columns[i].column, map->columns[i].line);
}

static void read_columns(struct campaign_reader *reader, int node, void *whole)
{
    struct channel_map *map = whole;
    if (map->columns != NULL) /* the key is there twice, which is reported */
        return;
    map->columns =
        campaign_named_blocks(reader, node, "columns", sizeof map->columns[0], &map->n_columns);
    for (size_t i = 0; i < map->n_columns && reader->failed == OK; i++) {
        int key = yaml_tree_key(reader->tree, node, i);
        read_column(reader, key, yaml_tree_value(reader->tree, node, i), &map->columns[i]);
        check_of(reader, key, &map->columns[i]);
        check_column(reader, key, map, i);
        check_stated(reader, key, map, i);
    }
}

static const struct binding tap_bindings[] = {
    {.key = "unit", .kind = BIND_TEXT, .offset = offsetof(struct channel_map, tap_unit)},
    {.key = "measured",
     .kind = BIND_WORD,
     .required = 1,
     .offset = offsetof(struct channel_map, taps_measured),
     .words = campaign_measured_words},
    {.key = "hold",
     .kind = BIND_WORD,
     .offset = offsetof(struct channel_map, tap_hold),
     .words = campaign_hold_words},
};

static void read_taps(struct campaign_reader *reader, int node, void *whole)
{
    struct channel_map *map = whole;
    map->has_taps = 1;
    campaign_bind(reader, node, "taps", tap_bindings, sizeof tap_bindings / sizeof tap_bindings[0],
                  map);
    check_unit(reader, yaml_tree_find(reader->tree, node, "unit"), map->tap_unit,
               campaign_tap_unit(map));
}

static const struct binding map_bindings[] = {
    {.key = "delimiter", .kind = BIND_PART, .read = read_delimiter},
    {.key = "decimal", .kind = BIND_PART, .read = read_decimal},
    {.key = "preamble_rows",
     .kind = BIND_WHOLE,
     .offset = offsetof(struct channel_map, preamble_rows)},
    {.key = "name_rows", .kind = BIND_WHOLE, .offset = offsetof(struct channel_map, name_rows)},
    {.key = "unit_row",
     .kind = BIND_WORD,
     .offset = offsetof(struct channel_map, unit_row),
     .words = campaign_yes_no},
    {.key = "rows",
     .kind = BIND_WORD,
     .required = 1,
     .offset = offsetof(struct channel_map, rows),
     .words = campaign_rows_words},
    {.key = "point_by_row",
     .kind = BIND_WORD,
     .offset = offsetof(struct channel_map, point_by_row),
     .words = campaign_yes_no},
    {.key = "sweep", .kind = BIND_PART, .read = campaign_read_sweep},
    {.key = "rate",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct channel_map, rate),
     .unit = "Hz",
     .range = RANGE_POSITIVE},
    {.key = "names", .kind = BIND_PART, .read = campaign_read_names},
    {.key = "comment", .kind = BIND_TEXT, .offset = offsetof(struct channel_map, comment)},
    {.key = "blocks", .kind = BIND_TEXT, .offset = offsetof(struct channel_map, blocks)},
    {.key = "missing", .kind = BIND_PART, .read = campaign_read_missing},
    {.key = "sentinels", .kind = BIND_PART, .read = campaign_read_sentinels},
    {.key = "encoding", .kind = BIND_PART, .read = read_encoding},
    {.key = "clock_wraps",
     .kind = BIND_WORD,
     .offset = offsetof(struct channel_map, clock_wraps),
     .words = campaign_yes_no},
    {.key = "trailing_cells",
     .kind = BIND_WORD,
     .offset = offsetof(struct channel_map, trailing_cells_ignored),
     .words = campaign_trailing_words},
    {.key = "columns", .kind = BIND_PART, .required = 1, .read = read_columns},
    {.key = "taps", .kind = BIND_PART, .read = read_taps},
};

const struct binding_table campaign_map_table = {map_bindings,
                                                 sizeof map_bindings / sizeof map_bindings[0]};

static void check_map(struct campaign_reader *reader, int node, const struct channel_map *map)
{
    size_t stated = 0;
    while (stated < map->n_columns && !is_uncertainty(&map->columns[stated]))
        stated++;
    const struct {
        int is_wrong;
        const char *key;
        const char *text;
    } rules[] = {
        {map->delimiter == ',' && map->decimal_mark == ',', "decimal",
         "a comma cannot be delimiter and decimal mark at once; look at the log again"},
        {map->names == NULL && map->name_rows != 1 && map->name_rows != 2, "name_rows",
         "name_rows must be 1, or 2 for names written over two rows; a log without them has "
         "names:"},
        {map->names != NULL && map->name_rows > 0 &&
             yaml_tree_find(reader->tree, node, "name_rows") != 0,
         "name_rows",
         "names lists the columns, so no row of the log names them; take name_rows out and pass "
         "rows over with preamble_rows"},
        {stated < map->n_columns && map->rows == ROWS_SAMPLES, "rows",
         "a column states an uncertainty, which averaged rows have and samples have not; write "
         "rows: points, or take the column out"},
    };
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++)
        if (rules[i].is_wrong)
            campaign_trouble(reader, yaml_tree_find(reader->tree, node, rules[i].key),
                             "channel map %.80s: %s", map->name, rules[i].text);
}

/* A column whose role is wrong may be the one that is missed, and has been told of. */
static int has_wrong_role(const struct channel_map *map)
{
    for (size_t i = 0; i < map->n_columns; i++)
        if (map->columns[i].role == ROLE_COUNT)
            return 1;
    return map->columns == NULL;
}

/* What every log read with the map would lack. */
static void check_channels(struct campaign_reader *reader, int key, const struct channel_map *map)
{
    int has_channel = map->has_taps;
    for (size_t i = 0; i < map->n_columns; i++)
        has_channel = has_channel || (map->columns[i].statistic == COLUMN_VALUE &&
                                      role_is_channel(map->columns[i].role));
    if (!has_channel)
        campaign_trouble(
            reader, key,
            "channel map %.80s reads no channel: no column has a role but time, clock, "
            "point, recording and sample_count, and there are no taps; map what was measured",
            map->name);
}

static void read_map(struct campaign_reader *reader, int key, int node, struct channel_map *map)
{
    char what[120];
    *map = (struct channel_map){
        .decimal_mark = '.', .name_rows = 1, .line = yaml_tree_line(reader->tree, key)};
    if (!campaign_text(reader, key, "the name of a channel map", &map->name))
        return;
    (void)snprintf(what, sizeof what, "channel map %.80s", map->name);
    campaign_bind(reader, node, what, map_bindings, sizeof map_bindings / sizeof map_bindings[0],
                  map);
    check_map(reader, node, map);
    int is_whole = !has_wrong_role(map);
    campaign_check_points(reader, key, node, map, is_whole);
    if (is_whole)
        check_channels(reader, key, map);
}

void campaign_read_maps(struct campaign_reader *reader, int node, void *whole)
{
    struct campaign *campaign = whole;
    if (campaign->maps != NULL) /* the key is there twice, which is reported */
        return;
    campaign->maps = campaign_named_blocks(reader, node, "channel_maps", sizeof *campaign->maps,
                                           &campaign->n_maps);
    for (size_t i = 0; i < campaign->n_maps && reader->failed == OK; i++)
        read_map(reader, yaml_tree_key(reader->tree, node, i),
                 yaml_tree_value(reader->tree, node, i), &campaign->maps[i]);
}
