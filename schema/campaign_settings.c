/* campaign_settings.c - see campaign_settings.h. */
#include "schema/campaign_settings.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/contents.h"
#include "schema/number.h"
#include "schema/setting_put.h"
#include "schema/store.h"

static void put_contents(struct settings *settings, const struct facility *facility)
{
    struct load_contents total;
    char text[2 * CONTENTS_ROOM + 40];
    char cells[80] = "";
    contents_make(facility, NULL, 1, &total);
    contents_say(&total, text, sizeof text);
    setting_put(settings, "contains", text, "");
    if (!facility->contains_balance)
        return;
    for (size_t i = 0; i < CELL_GROUPS; i++)
        if (facility->added_cells & (unsigned)cell_group_row(i)->group)
            (void)snprintf(cells + strlen(cells), sizeof cells - strlen(cells), "%s%s",
                           cells[0] != '\0' ? ", " : "", cell_group_row(i)->name);
    setting_put(settings, "balance_contains", facility->contains, "");
    setting_put(settings, "add_cells", cells[0] != '\0' ? cells : "none", "");
    if (facility->added_cells & (unsigned)CELLS_BELT_LOAD)
        setting_put_number(settings, "belt_centre", facility->belt_centre, "m");
}

static void put_sensors(struct settings *settings, const struct facility *facility)
{
    if (facility->stands_on_wheels)
        setting_put(settings, "car_stands_on", "wheels", "");
    if (facility->n_height_sensors == 0)
        return;
    setting_put(settings, "ride_height",
                campaign_word_text(campaign_height_words, (int)facility->ride_height), "");
    setting_put(settings, "roll", facility->roll_is_zero ? "zero" : "measured", "");
    for (size_t i = 0; i < facility->n_height_sensors; i++) {
        const struct height_sensor *sensor = &facility->height_sensors[i];
        const char *role = role_name(sensor->role);
        char name[64];
        (void)snprintf(name, sizeof name, "%s: x", role);
        setting_put_number(settings, name, sensor->x, "m");
        (void)snprintf(name, sizeof name, "%s: y", role);
        setting_put_number(settings, name, sensor->y, "m");
        (void)snprintf(name, sizeof name, "%s: offset", role);
        setting_put_number(settings, name, sensor->offset, "m");
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
        setting_put_table(settings, table, &facility->boundary);
    }
}

static void put_facility(struct settings *settings, const struct facility *facility)
{
    static const char *const units[POLYNOMIAL_MAX] = {"Pa", "1", "1/Pa", "1/Pa2"};
    setting_section(settings, "facility", facility->name);
    if (facility->section == SECTION_BENCH) {
        setting_put(settings, "test_section",
                    campaign_word_text(campaign_section_words, SECTION_BENCH), "");
        return;
    }
    setting_put_table(settings, &campaign_facility_table, facility);
    put_contents(settings, facility);
    put_sensors(settings, facility);
    setting_put_table(settings, &campaign_correction_table, facility);
    setting_put(settings, "yaw_positive",
                campaign_word_text(campaign_yaw_words, facility->yaw_sign > 0 ? 1 : -1), "");
    const struct drop_method *method = campaign_drop_method(facility->freestream);
    for (size_t i = 0; method != NULL && i < facility->n_drop_polynomial; i++) {
        char name[64];
        (void)snprintf(name, sizeof name, "%s: power %zu", method->key, i);
        setting_put_number(settings, name, facility->drop_polynomial[i], units[i]);
    }
    setting_put(settings, "balance_follows",
                facility->balance_follows != NULL ? facility->balance_follows : "not given", "");
    setting_put_axes(settings, "tare_tolerance", facility->tare_tolerance);
    for (int i = 0; i < TABLE_KINDS; i++) {
        const struct declared_table *table = &facility->tables[i];
        if (table->file == NULL)
            continue;
        setting_put(settings, table_kind_name((enum table_kind)i), table->file, "");
        if (table->contains != NULL)
            setting_put(settings,
                        i == TABLE_SUPPORT ? "support tare: contains" : "interference: contains",
                        table->contains, "");
    }
    if (facility->blockage_shape > 0)
        setting_put_number(settings, "blockage_shape", facility->blockage_shape, "1");
    else
        setting_put(settings, "blockage_shape", "from length", "");
    put_boundary(settings, facility);
}

static void put_balance(struct settings *settings, const struct balance *balance)
{
    static const char *const origins[] = {"origin: x", "origin: y", "origin: z"};
    static const char *const loads[] = {"rated: Fx", "rated: Fy", "rated: Fz",
                                        "rated: Mx", "rated: My", "rated: Mz"};
    setting_section(settings, "balance", balance->name);
    setting_put_table(settings, &campaign_balance_table, balance);
    for (size_t i = 0; i < 3; i++)
        setting_put_number(settings, origins[i], balance->origin[i], "m");
    setting_put(settings, "axes", balance->axes_text, "");
    setting_put(settings, "contains",
                balance->contains != NULL ? balance->contains : "as the facility says", "");
    for (size_t i = 0; i < LOAD_COUNT; i++)
        setting_put_if_given(settings, loads[i], balance->rated[i], i < 3 ? "N" : "N m");
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
    setting_put(settings, name, value, "");
}

static void put_sweep(struct settings *settings, const struct map_sweep *sweep)
{
    if (!(sweep->window > 0))
        return;
    setting_put(settings, "sweep: of", attitude_axis_name(sweep->of), "");
    setting_put_number(settings, "sweep: window", sweep->window, attitude_axis_unit(sweep->of));
    setting_put_number(settings, "sweep: settle", sweep->settle, "s");
    setting_put_number(settings, "sweep: least_rows", sweep->least_rows, "1");
}

static void put_map(struct settings *settings, const struct channel_map *map)
{
    setting_section(settings, "channel map", map->name);
    setting_put_table(settings, &campaign_map_table, map);
    setting_put(settings, "delimiter",
                map->delimiter != 0 ? campaign_word_text(campaign_delimiter_words, map->delimiter)
                                    : "found from the header",
                "");
    setting_put(settings, "decimal", campaign_word_text(campaign_decimal_words, map->decimal_mark),
                "");
    for (size_t i = 0; i < map->n_names; i++) {
        char name[32];
        (void)snprintf(name, sizeof name, "names: %zu", i + 1);
        setting_put(settings, name, map->names[i], "");
    }
    for (size_t i = 0; i < map->n_missing_words; i++) {
        char name[32];
        (void)snprintf(name, sizeof name, "missing: %zu", i + 1);
        setting_put(settings, name, map->missing_words[i], "");
    }
    setting_put(settings, "encoding",
                map->encoding != ENCODING_BY_MARK
                    ? campaign_word_text(campaign_encoding_words, (int)map->encoding)
                    : "utf-8, or utf-16 where the log's first bytes show it",
                "");
    for (size_t i = 0; i < map->n_sentinels; i++) {
        char name[32];
        (void)snprintf(name, sizeof name, "sentinel: %zu", i + 1);
        setting_put_number(settings, name, map->sentinels[i], "as in the log");
    }
    put_sweep(settings, &map->sweep);
    for (size_t i = 0; i < map->n_columns; i++)
        put_column(settings, &map->columns[i]);
    if (!map->has_taps)
        return;
    setting_put(settings, "taps: unit", map->tap_unit != NULL ? map->tap_unit : "the log's own",
                "");
    setting_put(settings, "taps: measured",
                campaign_word_text(campaign_measured_words, (int)map->taps_measured), "");
    if (map->tap_hold != HOLD_NONE)
        setting_put(settings, "taps: hold",
                    campaign_word_text(campaign_hold_words, (int)map->tap_hold), "");
}

static void put_plan(struct settings *settings, const struct plan_section *plan)
{
    setting_section(settings, "plan", NULL);
    setting_put_table(settings, &campaign_plan_table, plan);
    setting_put_names(settings, "attitudes", &plan->attitudes);
    setting_put_names(settings, "configurations", &plan->configurations);
    setting_put_names(settings, "order", &plan->order);
    setting_put_names(settings, "hard_to_change", &plan->hard_to_change);
    setting_put_names(settings, "mass_changes", &plan->mass_changes);
}

static void put_repeatability(struct settings *settings,
                              const struct declared_repeatability *figure, size_t number)
{
    char name[32];
    (void)snprintf(name, sizeof name, "%zu", number);
    setting_section(settings, "repeatability", name);
    setting_put_table(settings, &campaign_repeatability_table, figure);
    setting_put_number(settings, "standard_deviation", figure->standard_deviation,
                       quantity_row(quantity_from_symbol(figure->quantity))->unit);
}

static void put_trade(struct settings *settings, const struct trade_section *trade)
{
    setting_section(settings, "trade", NULL);
    setting_put(settings, "metric", trade->metric, "");
    setting_put(settings, "per", trade->per, "");
    setting_put_number(settings, "worth", trade->worth, "1");
}

static void put_trim(struct settings *settings, const struct trim_device *device)
{
    setting_section(settings, "trim", device->name);
    setting_put(settings, "configuration", device->configuration, "");
    setting_put_number(settings, "from", device->from, device->unit);
    setting_put_number(settings, "to", device->to, device->unit);
    setting_put_number(settings, "least", device->least, device->unit);
    setting_put_number(settings, "most", device->most, device->unit);
}

/* One row a source: its size, and all that goes with it in words. */
static void put_uncertainties(struct settings *settings, const struct facility_uncertainties *list)
{
    setting_section(settings, "uncertainties", list->facility);
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
        setting_put(settings, name, text,
                    item->is_relative           ? "1"
                    : item->output_unit != NULL ? item->output_unit
                                                : uncertain_input_row(item->of)->unit);
    }
}

static void put_repeats(struct settings *settings, const struct repeat_section *repeats)
{
    setting_section(settings, "repeats", NULL);
    for (size_t i = 0; i < repeats->n; i++) {
        char name[200];
        (void)snprintf(name, sizeof name, "match: %.180s", repeats->matches[i].channel);
        setting_put_number(settings, name, repeats->matches[i].tolerance, repeats->matches[i].unit);
    }
}

static void put_all(struct settings *settings, const struct campaign *campaign)
{
    setting_section(settings, "season", NULL);
    setting_put(settings, "season", campaign->season, "");
    setting_put_number(settings, "count", campaign->count, "1");
    setting_put(settings, "point", campaign->point_meaning, "");
    setting_put(settings, "main_measure: metric", campaign->main_metric, "");
    setting_put(settings, "main_measure: attitude", campaign->main_attitude, "");
    setting_put(settings, "map_attitude",
                campaign->map_attitude != NULL ? campaign->map_attitude : "as main_measure", "");
    setting_put(settings, "digest", campaign->digest, "");
    setting_section(settings, "car", NULL);
    if (campaign->car.name != NULL)
        setting_put_table(settings, &campaign_car_table, &campaign->car);
    for (size_t i = 0; i < campaign->n_facilities; i++)
        put_facility(settings, &campaign->facilities[i]);
    for (size_t i = 0; i < campaign->n_balances; i++)
        put_balance(settings, &campaign->balances[i]);
    for (size_t i = 0; i < campaign->n_maps; i++)
        put_map(settings, &campaign->maps[i]);
    setting_section(settings, "attitudes", NULL);
    setting_put_axes(settings, "tolerance", campaign->attitudes.tolerance);
    setting_put_axes(settings, "cap", campaign->attitudes.cap);
    setting_put_axes(settings, "capture", campaign->attitudes.capture);
    if (campaign->trade.given)
        put_trade(settings, &campaign->trade);
    for (size_t i = 0; i < campaign->n_trims; i++)
        put_trim(settings, &campaign->trims[i]);
    for (size_t i = 0; i < campaign->n_uncertainties; i++)
        put_uncertainties(settings, &campaign->uncertainties[i]);
    setting_section(settings, "limits", NULL);
    setting_put_table(settings, &campaign_limits_table, &campaign->limits);
    if (campaign->keep_samples.n > 0) {
        setting_section(settings, "keep_samples", NULL);
        setting_put_names(settings, "channel", &campaign->keep_samples);
    }
    if (campaign->repeats.given)
        put_repeats(settings, &campaign->repeats);
    if (campaign->plan.given)
        put_plan(settings, &campaign->plan);
    for (size_t i = 0; i < campaign->n_repeatability; i++)
        put_repeatability(settings, &campaign->repeatability[i], i + 1);
}

enum status campaign_settings_store(struct store *store, const struct campaign *campaign,
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
