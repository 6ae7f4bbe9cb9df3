/* campaign_settings.c - writing the tables setting, metric and target; see campaign_settings.h. */
#include "schema/campaign_settings.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/campaign_reader.h"
#include "schema/contents.h"
#include "schema/number.h"
#include "schema/store.h"

/* A failed write is kept and the rest are skipped, so that lists of values stay lists. */
struct settings {
    struct statement *insert;
    char section[160];
    enum status status;
    struct fault *fault;
};

static void put(struct settings *settings, const char *name, const char *value, const char *unit)
{
    const char *const values[] = {settings->section, name, value != NULL ? value : "", unit};
    for (int i = 0; settings->status == OK && i < 4; i++)
        settings->status = statement_bind_text(settings->insert, i + 1, values[i], settings->fault);
    if (settings->status == OK)
        settings->status = statement_run(settings->insert, settings->fault);
}

static void put_number(struct settings *settings, const char *name, double value, const char *unit)
{
    char text[32];
    if (isnan(value)) {
        put(settings, name, "not given", "");
        return;
    }
    (void)number_print(value, text, sizeof text);
    put(settings, name, text, unit);
}

/* 0 is how the campaign keeps "not given" where only more than 0 can be declared. */
static void put_if_given(struct settings *settings, const char *name, double value,
                         const char *unit)
{
    if (value > 0)
        put_number(settings, name, value, unit);
    else
        put(settings, name, "not given", "");
}

static void put_list(struct settings *settings, const char *name, const struct number_list *list,
                     const char *unit)
{
    char text[512] = "", number[32];
    size_t used = 0;
    for (size_t i = 0; i < list->n && used + sizeof number < sizeof text; i++) {
        (void)number_print(list->value[i], number, sizeof number);
        used +=
            (size_t)snprintf(text + used, sizeof text - used, "%s%s", i > 0 ? ", " : "", number);
    }
    if (list->n > 0)
        put(settings, name, text, unit);
}

static void put_bound(struct settings *settings, const struct binding *binding, const void *whole)
{
    struct number_list list;
    const char *source = (const char *)whole + binding->offset;
    double number = 0;
    int word = 0;
    unsigned count = 0;
    const char *text = NULL;
    switch (binding->kind) {
    case BIND_TEXT:
        memcpy(&text, source, sizeof text);
        put(settings, binding->key, text != NULL ? text : "not given", "");
        return;
    case BIND_QUANTITY:
        memcpy(&number, source, sizeof number);
        if (binding->range == RANGE_POSITIVE)
            put_if_given(settings, binding->key, number, binding->unit);
        else
            put_number(settings, binding->key, number, binding->unit);
        return;
    case BIND_WORD:
        memcpy(&word, source, sizeof word);
        put(settings, binding->key, campaign_word_text(binding->words, word), "");
        return;
    case BIND_WHOLE:
        memcpy(&count, source, sizeof count);
        put_number(settings, binding->key, (double)count, "1");
        return;
    case BIND_NUMBERS:
        memcpy(&list, source, sizeof list);
        put_list(settings, binding->key, &list, binding->unit);
        return;
    case BIND_PART:
        return; /* written by hand below */
    }
}

static void put_table(struct settings *settings, const struct binding_table *table,
                      const void *whole)
{
    for (size_t i = 0; i < table->n; i++)
        put_bound(settings, &table->rows[i], whole);
}

static void put_axes(struct settings *settings, const char *what,
                     const double value[ATTITUDE_COUNT])
{
    for (size_t axis = 0; axis < ATTITUDE_COUNT; axis++) {
        char name[64];
        (void)snprintf(name, sizeof name, "%s: %s", what,
                       attitude_axis_name((enum attitude_axis)axis));
        if (value[axis] > 0)
            put_number(settings, name, value[axis], attitude_axis_unit((enum attitude_axis)axis));
    }
}

static void begin_section(struct settings *settings, const char *kind, const char *name)
{
    (void)snprintf(settings->section, sizeof settings->section, "%s%s%s", kind,
                   name != NULL ? " " : "", name != NULL ? name : "");
}

static void put_contents(struct settings *settings, const struct facility *facility)
{
    struct load_contents total;
    char text[2 * CONTENTS_ROOM + 40];
    char cells[80] = "";
    contents_make(facility, NULL, 1, &total);
    contents_say(&total, text, sizeof text);
    put(settings, "contains", text, "");
    if (!facility->contains_balance)
        return;
    for (size_t i = 0; i < CELL_GROUPS; i++)
        if (facility->added_cells & (unsigned)cell_group_row(i)->group)
            (void)snprintf(cells + strlen(cells), sizeof cells - strlen(cells), "%s%s",
                           cells[0] != '\0' ? ", " : "", cell_group_row(i)->name);
    put(settings, "balance_contains", facility->contains, "");
    put(settings, "add_cells", cells[0] != '\0' ? cells : "none", "");
    if (facility->added_cells & (unsigned)CELLS_BELT_LOAD)
        put_number(settings, "belt_centre", facility->belt_centre, "m");
}

static void put_sensors(struct settings *settings, const struct facility *facility)
{
    if (facility->stands_on_wheels)
        put(settings, "car_stands_on", "wheels", "");
    if (facility->n_height_sensors == 0)
        return;
    put(settings, "ride_height",
        campaign_word_text(campaign_height_words, (int)facility->ride_height), "");
    put(settings, "roll", facility->roll_is_zero ? "zero" : "measured", "");
    for (size_t i = 0; i < facility->n_height_sensors; i++) {
        const struct height_sensor *sensor = &facility->height_sensors[i];
        const char *role = role_name(sensor->role);
        char name[64];
        (void)snprintf(name, sizeof name, "%s: x", role);
        put_number(settings, name, sensor->x, "m");
        (void)snprintf(name, sizeof name, "%s: y", role);
        put_number(settings, name, sensor->y, "m");
        (void)snprintf(name, sizeof name, "%s: offset", role);
        put_number(settings, name, sensor->offset, "m");
    }
}

/* Blocks in force, each a section of its own: "facility saltmarsh, maskell". */
static void put_boundary(struct settings *settings, const struct facility *facility)
{
    for (int i = 0; i < BOUNDARY_BLOCKS; i++) {
        const char *key = NULL;
        const struct binding_table *table = campaign_boundary_table((enum boundary_block)i, &key);
        if (!facility->boundary.given[i])
            continue;
        (void)snprintf(settings->section, sizeof settings->section, "facility %.80s, %s",
                       facility->name, key);
        put_table(settings, table, &facility->boundary);
    }
}

static void put_facility(struct settings *settings, const struct facility *facility)
{
    static const char *const units[POLYNOMIAL_MAX] = {"Pa", "1", "1/Pa", "1/Pa2"};
    begin_section(settings, "facility", facility->name);
    if (facility->section == SECTION_BENCH) {
        put(settings, "test_section", campaign_word_text(campaign_section_words, SECTION_BENCH),
            "");
        return;
    }
    put_table(settings, &campaign_facility_table, facility);
    put_contents(settings, facility);
    put_sensors(settings, facility);
    put_table(settings, &campaign_correction_table, facility);
    put(settings, "yaw_positive",
        campaign_word_text(campaign_yaw_words, facility->yaw_sign > 0 ? 1 : -1), "");
    const struct drop_method *method = campaign_drop_method(facility->freestream);
    for (size_t i = 0; method != NULL && i < facility->n_drop_polynomial; i++) {
        char name[64];
        (void)snprintf(name, sizeof name, "%s: power %zu", method->key, i);
        put_number(settings, name, facility->drop_polynomial[i], units[i]);
    }
    put(settings, "balance_follows",
        facility->balance_follows != NULL ? facility->balance_follows : "not given", "");
    put_axes(settings, "tare_tolerance", facility->tare_tolerance);
    for (int i = 0; i < TABLE_KINDS; i++) {
        const struct declared_table *table = &facility->tables[i];
        if (table->file == NULL)
            continue;
        put(settings, table_kind_name((enum table_kind)i), table->file, "");
        if (table->contains != NULL)
            put(settings, i == TABLE_SUPPORT ? "support tare: contains" : "interference: contains",
                table->contains, "");
    }
    if (facility->blockage_shape > 0)
        put_number(settings, "blockage_shape", facility->blockage_shape, "1");
    else
        put(settings, "blockage_shape", "from length", "");
    put_boundary(settings, facility);
}

static void put_balance(struct settings *settings, const struct balance *balance)
{
    static const char *const origins[] = {"origin: x", "origin: y", "origin: z"};
    static const char *const loads[] = {"rated: Fx", "rated: Fy", "rated: Fz",
                                        "rated: Mx", "rated: My", "rated: Mz"};
    begin_section(settings, "balance", balance->name);
    put_table(settings, &campaign_balance_table, balance);
    for (size_t i = 0; i < 3; i++)
        put_number(settings, origins[i], balance->origin[i], "m");
    put(settings, "axes", balance->axes_text, "");
    put(settings, "contains",
        balance->contains != NULL ? balance->contains : "as the facility says", "");
    for (size_t i = 0; i < LOAD_COUNT; i++)
        put_if_given(settings, loads[i], balance->rated[i], i < 3 ? "N" : "N m");
}

static void put_column(struct settings *settings, const struct map_column *column)
{
    char name[200];
    char value[240];
    (void)snprintf(name, sizeof name, "column %.180s", column->column);
    (void)snprintf(value, sizeof value, "%s%s%s%s%s%s%s%s%s%s", role_name(column->role),
                   column->statistic != COLUMN_VALUE ? ", its " : "",
                   column->statistic != COLUMN_VALUE
                       ? campaign_word_text(campaign_statistic_words, (int)column->statistic)
                       : "",
                   column->of != NULL ? ", of " : "", column->of != NULL ? column->of : "",
                   column->unit != NULL ? ", in " : "", column->unit != NULL ? column->unit : "",
                   column->sign < 0 ? ", sign turned" : "",
                   column->hold != HOLD_NONE ? ", hold " : "",
                   campaign_word_text(campaign_hold_words, (int)column->hold));
    put(settings, name, value, "");
}

static void put_sweep(struct settings *settings, const struct map_sweep *sweep)
{
    if (!(sweep->window > 0))
        return;
    put(settings, "sweep: of", attitude_axis_name(sweep->of), "");
    put_number(settings, "sweep: window", sweep->window, attitude_axis_unit(sweep->of));
    put_number(settings, "sweep: settle", sweep->settle, "s");
    put_number(settings, "sweep: least_rows", sweep->least_rows, "1");
}

static void put_map(struct settings *settings, const struct channel_map *map)
{
    begin_section(settings, "channel map", map->name);
    put_table(settings, &campaign_map_table, map);
    put(settings, "delimiter",
        map->delimiter != 0 ? campaign_word_text(campaign_delimiter_words, map->delimiter)
                            : "found from the header",
        "");
    put(settings, "decimal", campaign_word_text(campaign_decimal_words, map->decimal_mark), "");
    for (size_t i = 0; i < map->n_names; i++) {
        char name[32];
        (void)snprintf(name, sizeof name, "names: %zu", i + 1);
        put(settings, name, map->names[i], "");
    }
    for (size_t i = 0; i < map->n_missing_words; i++) {
        char name[32];
        (void)snprintf(name, sizeof name, "missing: %zu", i + 1);
        put(settings, name, map->missing_words[i], "");
    }
    put(settings, "encoding",
        map->encoding != ENCODING_BY_MARK
            ? campaign_word_text(campaign_encoding_words, (int)map->encoding)
            : "utf-8, or utf-16 where the log's first bytes show it",
        "");
    for (size_t i = 0; i < map->n_sentinels; i++) {
        char name[32];
        (void)snprintf(name, sizeof name, "sentinel: %zu", i + 1);
        put_number(settings, name, map->sentinels[i], "as in the log");
    }
    put_sweep(settings, &map->sweep);
    for (size_t i = 0; i < map->n_columns; i++)
        put_column(settings, &map->columns[i]);
    if (!map->has_taps)
        return;
    put(settings, "taps: unit", map->tap_unit != NULL ? map->tap_unit : "the log's own", "");
    put(settings, "taps: measured",
        campaign_word_text(campaign_measured_words, (int)map->taps_measured), "");
    if (map->tap_hold != HOLD_NONE)
        put(settings, "taps: hold", campaign_word_text(campaign_hold_words, (int)map->tap_hold),
            "");
}

static void put_names(struct settings *settings, const char *what, const struct text_list *list)
{
    for (size_t i = 0; i < list->n; i++) {
        char name[64];
        (void)snprintf(name, sizeof name, "%s: %zu", what, i + 1);
        put(settings, name, list->text[i], "");
    }
}

static void put_plan(struct settings *settings, const struct plan_section *plan)
{
    begin_section(settings, "plan", NULL);
    put_table(settings, &campaign_plan_table, plan);
    put_names(settings, "attitudes", &plan->attitudes);
    put_names(settings, "configurations", &plan->configurations);
    put_names(settings, "order", &plan->order);
    put_names(settings, "hard_to_change", &plan->hard_to_change);
    put_names(settings, "mass_changes", &plan->mass_changes);
}

static void put_repeatability(struct settings *settings,
                              const struct declared_repeatability *figure, size_t number)
{
    char name[32];
    (void)snprintf(name, sizeof name, "%zu", number);
    begin_section(settings, "repeatability", name);
    put_table(settings, &campaign_repeatability_table, figure);
    put_number(settings, "standard_deviation", figure->standard_deviation,
               quantity_row(quantity_from_symbol(figure->quantity))->unit);
}

static void put_trade(struct settings *settings, const struct trade_section *trade)
{
    begin_section(settings, "trade", NULL);
    put(settings, "metric", trade->metric, "");
    put(settings, "per", trade->per, "");
    put_number(settings, "worth", trade->worth, "1");
}

static void put_trim(struct settings *settings, const struct trim_device *device)
{
    begin_section(settings, "trim", device->name);
    put(settings, "configuration", device->configuration, "");
    put_number(settings, "from", device->from, device->unit);
    put_number(settings, "to", device->to, device->unit);
    put_number(settings, "least", device->least, device->unit);
    put_number(settings, "most", device->most, device->unit);
}

/* One row a source: its size, and all that goes with it in words. */
static void put_uncertainties(struct settings *settings, const struct facility_uncertainties *list)
{
    begin_section(settings, "uncertainties", list->facility);
    for (size_t i = 0; i < list->n; i++) {
        const struct declared_uncertainty *item = &list->items[i];
        char name[200], text[400], number[32], freedom[48] = "";
        (void)number_print(item->standard, number, sizeof number);
        (void)snprintf(name, sizeof name, "%.180s", item->source);
        if (isfinite(item->freedom))
            (void)snprintf(freedom, sizeof freedom, ", %g degrees of freedom", item->freedom);
        (void)snprintf(text, sizeof text, "%s%s of %s, reaches %s, %s%s%s%.60s; %.120s", number,
                       item->is_relative ? " relative," : "", uncertain_input_row(item->of)->word,
                       declared_reach_word(item->reach), declared_shape_word(item->shape), freedom,
                       item->correlated_with != NULL ? ", correlated with " : "",
                       item->correlated_with != NULL ? item->correlated_with : "", item->evidence);
        put(settings, name, text,
            item->is_relative           ? "1"
            : item->output_unit != NULL ? item->output_unit
                                        : uncertain_input_row(item->of)->unit);
    }
}

static void put_repeats(struct settings *settings, const struct repeat_section *repeats)
{
    begin_section(settings, "repeats", NULL);
    for (size_t i = 0; i < repeats->n; i++) {
        char name[200];
        (void)snprintf(name, sizeof name, "match: %.180s", repeats->matches[i].channel);
        put_number(settings, name, repeats->matches[i].tolerance, repeats->matches[i].unit);
    }
}

static void put_all(struct settings *settings, const struct campaign *campaign)
{
    begin_section(settings, "season", NULL);
    put(settings, "season", campaign->season, "");
    put_number(settings, "count", campaign->count, "1");
    put(settings, "point", campaign->point_meaning, "");
    put(settings, "main_measure: metric", campaign->main_metric, "");
    put(settings, "main_measure: attitude", campaign->main_attitude, "");
    put(settings, "map_attitude",
        campaign->map_attitude != NULL ? campaign->map_attitude : "as main_measure", "");
    put(settings, "digest", campaign->digest, "");
    begin_section(settings, "car", NULL);
    if (campaign->car.name != NULL)
        put_table(settings, &campaign_car_table, &campaign->car);
    for (size_t i = 0; i < campaign->n_facilities; i++)
        put_facility(settings, &campaign->facilities[i]);
    for (size_t i = 0; i < campaign->n_balances; i++)
        put_balance(settings, &campaign->balances[i]);
    for (size_t i = 0; i < campaign->n_maps; i++)
        put_map(settings, &campaign->maps[i]);
    begin_section(settings, "attitudes", NULL);
    put_axes(settings, "tolerance", campaign->attitudes.tolerance);
    put_axes(settings, "cap", campaign->attitudes.cap);
    put_axes(settings, "capture", campaign->attitudes.capture);
    if (campaign->trade.given)
        put_trade(settings, &campaign->trade);
    for (size_t i = 0; i < campaign->n_trims; i++)
        put_trim(settings, &campaign->trims[i]);
    for (size_t i = 0; i < campaign->n_uncertainties; i++)
        put_uncertainties(settings, &campaign->uncertainties[i]);
    begin_section(settings, "limits", NULL);
    put_table(settings, &campaign_limits_table, &campaign->limits);
    if (campaign->keep_samples.n > 0) {
        begin_section(settings, "keep_samples", NULL);
        put_names(settings, "channel", &campaign->keep_samples);
    }
    if (campaign->repeats.given)
        put_repeats(settings, &campaign->repeats);
    if (campaign->plan.given)
        put_plan(settings, &campaign->plan);
    for (size_t i = 0; i < campaign->n_repeatability; i++)
        put_repeatability(settings, &campaign->repeatability[i], i + 1);
}

static enum status store_settings(struct store *store, const struct campaign *campaign,
                                  struct fault *fault)
{
    struct settings settings = {.fault = fault};
    settings.status = statement_prepare(
        store, "INSERT OR REPLACE INTO setting (section, name, value, unit) VALUES (?, ?, ?, ?)",
        &settings.insert, fault);
    if (settings.status == OK)
        put_all(&settings, campaign);
    statement_free(settings.insert);
    return settings.status;
}

static enum status store_metric(struct statement *insert, const struct campaign *campaign,
                                size_t at, struct fault *fault)
{
    static const char *const words[] = {[BETTER_HIGHER] = "higher",
                                        [BETTER_LOWER] = "lower",
                                        [BETTER_TOWARD] = "toward",
                                        [BETTER_UNDECLARED] = "undeclared"};
    const struct metric *metric = &campaign->metrics[at];
    double toward = metric->better == BETTER_TOWARD ? metric->toward : (double)NAN;
    int is_main = strcmp(metric->name, campaign->main_metric) == 0;
    enum status status = statement_bind_text(insert, 1, metric->name, fault);
    if (status == OK)
        status = statement_bind_integer(insert, 2, (int64_t)at, fault);
    if (status == OK)
        status = statement_bind_text(insert, 3, metric->quantity, fault);
    if (status == OK)
        status = statement_bind_text(insert, 4, words[metric->better], fault);
    if (status == OK)
        status = statement_bind_real(insert, 5, toward, fault);
    if (status == OK)
        status = statement_bind_real(insert, 6, metric->worthwhile, fault);
    if (status == OK)
        status = statement_bind_integer(insert, 7, is_main, fault);
    return status == OK ? statement_run(insert, fault) : status;
}

static enum status store_metrics(struct store *store, const struct campaign *campaign,
                                 struct fault *fault)
{
    struct statement *insert = NULL;
    enum status status =
        statement_prepare(store,
                          "INSERT INTO metric (metric, sequence, quantity, better, toward, "
                          "worthwhile, is_main) VALUES (?, ?, ?, ?, ?, ?, ?)",
                          &insert, fault);
    for (size_t i = 0; status == OK && i < campaign->n_metrics; i++)
        status = store_metric(insert, campaign, i, fault);
    statement_free(insert);
    return status;
}

static enum status store_target(struct statement *insert, const struct target *target, size_t at,
                                struct fault *fault)
{
    enum status status = statement_bind_text(insert, 1, target->name, fault);
    if (status == OK)
        status = statement_bind_integer(insert, 2, (int64_t)at, fault);
    for (int axis = 0; status == OK && axis < ATTITUDE_COUNT; axis++)
        status = statement_bind_real(
            insert, axis + 3, target->given[axis] ? target->coordinate[axis] : (double)NAN, fault);
    if (status == OK)
        status = statement_bind_real(insert, ATTITUDE_COUNT + 3, target->weight, fault);
    return status == OK ? statement_run(insert, fault) : status;
}

static enum status store_targets(struct store *store, const struct campaign *campaign,
                                 struct fault *fault)
{
    struct statement *insert = NULL;
    enum status status = statement_prepare(
        store,
        "INSERT INTO target (target, sequence, front_ride_height_m, rear_ride_height_m, yaw_rad, "
        "roll_rad, pitch_rad, steer_rad, weight) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        &insert, fault);
    for (size_t i = 0; status == OK && i < campaign->attitudes.n_targets; i++)
        status = store_target(insert, &campaign->attitudes.targets[i], i, fault);
    statement_free(insert);
    return status;
}

static enum status store_figure(struct statement *insert,
                                const struct declared_repeatability *figure, struct fault *fault)
{
    const char *const texts[] = {figure->facility, figure->quantity, figure->attitude,
                                 campaign_word_text(campaign_level_words, figure->level)};
    enum status status = OK;
    for (int i = 0; status == OK && i < 4; i++)
        status = statement_bind_text(insert, i + 1, texts[i], fault);
    if (status == OK)
        status = statement_bind_real(insert, 5, figure->standard_deviation, fault);
    if (status == OK)
        status = statement_bind_real(insert, 6, figure->degrees_of_freedom, fault);
    if (status == OK)
        status = statement_bind_text(insert, 7, figure->source, fault);
    return status == OK ? statement_run(insert, fault) : status;
}

static enum status store_repeatability(struct store *store, const struct campaign *campaign,
                                       struct fault *fault)
{
    struct statement *insert = NULL;
    enum status status = statement_prepare(
        store,
        "INSERT INTO repeatability_declared (facility, quantity, target, level, "
        "standard_deviation, degrees_of_freedom, source) VALUES (?, ?, ?, ?, ?, ?, ?)",
        &insert, fault);
    for (size_t i = 0; status == OK && i < campaign->n_repeatability; i++)
        status = store_figure(insert, &campaign->repeatability[i], fault);
    statement_free(insert);
    return status;
}

enum status campaign_store(struct store *store, const struct campaign *campaign,
                           struct fault *fault)
{
    enum status status = store_execute(store,
                                       "DELETE FROM setting; DELETE FROM metric; DELETE FROM "
                                       "target; DELETE FROM repeatability_declared",
                                       fault);
    if (status == OK)
        status = store_settings(store, campaign, fault);
    if (status == OK)
        status = store_metrics(store, campaign, fault);
    if (status == OK)
        status = store_targets(store, campaign, fault);
    if (status == OK)
        status = store_repeatability(store, campaign, fault);
    return status;
}
