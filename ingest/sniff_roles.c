/* sniff_roles.c - what the columns of an unknown log may mean; see sniff.h.
 *
 * The name proposes, the unit's dimension and the values dispose: a column in Pa is no ride height,
 * and 0.3 kPa is no absolute pressure. What a name alone cannot tell stays a guess.                */
#include <stdio.h>
#include <string.h>

#include "ingest/sniff.h"
#include "ingest/sniff_cell.h"
#include "ingest/sniff_others.h"
#include "ingest/sniff_patterns.h"
#include "ingest/sniff_spelling.h"
#include "ingest/sniff_units.h"

/* Values in SI that a race car's log may hold, and units to try, in this order, when none is written.
 * Common practice, no source. */
struct role_values {
    enum role first, last;
    double low, high;
    const char *units[3];
};

static const struct role_values role_values[] = {
    {ROLE_DRAG_COEFFICIENT, ROLE_YAW_COEFFICIENT, -30, 30, {"1", NULL, NULL}},
    {ROLE_TOTAL_PRESSURE, ROLE_STATIC_PRESSURE, 80e3, 108e3, {"Pa", "hPa", "kPa"}},
    {ROLE_TOTAL_MINUS_STATIC, ROLE_DYNAMIC_PRESSURE, -500, 20e3, {"Pa", NULL, NULL}},
    {ROLE_TOTAL_TEMPERATURE, ROLE_STATIC_TEMPERATURE, 250, 330, {"degC", "K", NULL}},
    {ROLE_RELATIVE_HUMIDITY, ROLE_RELATIVE_HUMIDITY, 0, 1.05, {"1", "%", NULL}},
    {ROLE_FRONT_RIDE_HEIGHT, ROLE_REAR_RIDE_HEIGHT, -0.05, 0.5, {"m", "mm", NULL}},
    {ROLE_YAW, ROLE_STEER, -1.6, 1.6, {"deg", NULL, NULL}},
    {ROLE_BELT_SPEED, ROLE_AIR_SPEED, -1, 120, {"m/s", "km/h", NULL}},
    {ROLE_TIME, ROLE_TIME, -1e6, 1e6, {"s", NULL, NULL}},
};

static const struct role_values *values_of(enum role role)
{
    for (size_t i = 0; i < sizeof role_values / sizeof role_values[0]; i++)
        if (role >= role_values[i].first && role <= role_values[i].last)
            return &role_values[i];
    return NULL;
}

static int in_range(const struct sniff_column *column, const struct role_values *values,
                    const struct unit_conversion *conversion)
{
    return conversion->factor * column->min + conversion->offset >= values->low &&
           conversion->factor * column->max + conversion->offset <= values->high;
}

const char sniff_unknown_name[] = "the name is not known";

/* One reading of a column: a role, how far it is believed, and why. */
struct reading {
    enum role role;
    enum confidence confidence;
    const char *unit; /* proposed, or NULL */
    char why[SNIFF_SENTENCE];
};

static enum confidence at_most(enum confidence a, enum confidence b)
{
    return a < b ? a : b;
}

static void weigh_absent_unit(struct units *units, const struct sniff_column *column,
                              struct reading *reading)
{
    const struct role_values *values = values_of(reading->role);
    struct unit_conversion conversion;
    reading->confidence = at_most(reading->confidence, (enum confidence)CONFIDENCE_LIKELY);
    for (size_t i = 0; values != NULL && i < 3 && values->units[i] != NULL; i++) {
        if (units_conversion(units, values->units[i], role_unit(reading->role), &conversion,
                             NULL) != OK ||
            !in_range(column, values, &conversion))
            continue;
        reading->unit = values->units[i];
        (void)snprintf(reading->why, sizeof reading->why,
                       "the name says so; no unit is written, the values would do in %s",
                       reading->unit);
        return;
    }
    if (values != NULL)
        reading->confidence = CONFIDENCE_GUESS;
    (void)snprintf(reading->why, sizeof reading->why,
                   "the name says so; no unit is written%s: ask for it",
                   values != NULL ? " and the values fit none" : "");
}

static void weigh_values(const struct sniff_column *column,
                         const struct unit_conversion *conversion, struct reading *reading)
{
    const struct role_values *values = values_of(reading->role);
    int fits = values == NULL || column->n_numbers == 0 || reading->role == ROLE_TIME ||
               in_range(column, values, conversion);
    if (!fits)
        reading->confidence = CONFIDENCE_GUESS;
    (void)snprintf(reading->why, sizeof reading->why, "the name says so, %.30s fits%s",
                   sniff_column_unit(column),
                   fits ? "" : ", but the values are outside what such a channel shows");
}

/* Numbers of a role with a dimension. */
static void weigh_channel(struct units *units, const struct sniff_column *column,
                          enum map_statistic statistic, struct reading *reading)
{
    struct unit_conversion conversion = {1, 0};
    enum unit_fit fit =
        sniff_unit_fit(units, sniff_column_unit(column), role_unit(reading->role), &conversion);
    if (column->n_numbers == 0 || fit == UNIT_OF_ANOTHER_KIND) {
        reading->confidence = CONFIDENCE_NONE;
        (void)snprintf(reading->why, sizeof reading->why, "named like %s, but %s%.30s",
                       role_name(reading->role),
                       column->n_numbers == 0 ? "without a number" : "its unit is ",
                       column->n_numbers == 0 ? "" : sniff_column_unit(column));
    } else if (fit == UNIT_UNKNOWN) {
        reading->confidence = CONFIDENCE_GUESS;
        (void)snprintf(reading->why, sizeof reading->why,
                       "the name says so; the unit '%.30s' is not understood: correct the log's "
                       "unit",
                       sniff_column_unit(column));
    } else if (statistic == COLUMN_SD) {
        (void)snprintf(reading->why, sizeof reading->why, "the name says so: its scatter%s",
                       fit == UNIT_ABSENT ? "; no unit is written: ask for it" : "");
    } else if (fit == UNIT_ABSENT) {
        weigh_absent_unit(units, column, reading);
    } else {
        weigh_values(column, &conversion, reading);
    }
    if (fit == UNIT_FITS && column->unit == NULL)
        reading->unit = column->words_unit;
}

/* Roles whose cells are told by their form, not by a unit. */
static void weigh_helper(struct units *units, const struct sniff_column *column,
                         struct reading *reading)
{
    struct unit_conversion unused;
    int has_dimension =
        sniff_unit_fit(units, sniff_column_unit(column), "1", &unused) == UNIT_OF_ANOTHER_KIND;
    size_t filled = column->n_numbers + column->n_other;
    int is_clock = column->n_clock > 0 && column->n_clock == filled;
    int is_whole = column->n_numbers > 0 && column->n_whole == column->n_numbers;
    int is_flag = filled > 0 && column->n_flag == filled && column->n_missing == 0;
    int is_label = !is_clock && (is_whole || column->n_numbers == 0) && filled > 0;
    const struct {
        enum role role;
        int fits;
        const char *form;
    } forms[] = {
        {ROLE_CLOCK, is_clock, "H:M:S"},
        {ROLE_POINT, is_label && !has_dimension, "labels or whole numbers without a unit"},
        {ROLE_RECORDING, is_flag && !has_dimension, "0 and 1, a counter, or words for on and off"},
        {ROLE_SAMPLE_COUNT, is_whole && !has_dimension && column->min >= 1 && column->n_other == 0,
         "whole numbers from 1"},
    };
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        if (forms[i].role != reading->role)
            continue;
        if (!forms[i].fits)
            reading->confidence = CONFIDENCE_NONE;
        (void)snprintf(reading->why, sizeof reading->why, "the name says so%s the cells are %s%s",
                       forms[i].fits ? "," : ", but", forms[i].fits ? "" : "not ", forms[i].form);
    }
}

static struct reading weigh(struct sniff *sniff, const struct sniff_column *column,
                            enum map_statistic statistic, enum role role,
                            enum confidence confidence)
{
    struct reading reading = {.role = role, .confidence = confidence};
    if (!role_is_channel(role) && role != ROLE_TIME)
        weigh_helper(sniff->units, column, &reading);
    else
        weigh_channel(sniff->units, column, statistic, &reading);
    return reading;
}

/* R1 .. R6 and B1 .. B6, of a balance with six outputs. */
static enum role output_role(const char *folded, enum confidence *confidence)
{
    static const struct {
        const char *text;
        enum confidence confidence;
    } stems[] = {{"r", CONFIDENCE_SURE},     {"b", CONFIDENCE_SURE},    {"bridge", CONFIDENCE_SURE},
                 {"bal", CONFIDENCE_LIKELY}, {"out", CONFIDENCE_GUESS}, {"ch", CONFIDENCE_GUESS}};
    size_t n = strcspn(folded, "0123456789");
    if (folded[n] < '1' || folded[n] > '6' || folded[n + 1] != '\0')
        return ROLE_COUNT;
    for (size_t i = 0; i < sizeof stems / sizeof stems[0]; i++)
        if (strlen(stems[i].text) == n && strncmp(stems[i].text, folded, n) == 0) {
            *confidence = stems[i].confidence;
            return (enum role)(ROLE_BALANCE_OUTPUT_1 + (folded[n] - '1'));
        }
    return ROLE_COUNT;
}

static void keep_better(struct reading *best, const struct reading *got)
{
    int says_why_not = best->why[0] == '\0' && got->confidence == CONFIDENCE_NONE;
    if (got->confidence > best->confidence || says_why_not)
        *best = *got;
}

static struct reading read_name(struct sniff *sniff, const struct sniff_column *column,
                                const struct spelled_name *name, const char *plain,
                                enum confidence most)
{
    char folded[SPELLING_ROOM];
    size_t n = 0;
    const struct spelling *rows = sniff_spellings(&n);
    struct reading best = {.role = ROLE_COUNT, .why = ""};
    sniff_fold(plain, folded);
    for (size_t i = 0; i < n; i++) {
        if (strcmp(rows[i].text, rows[i].exact ? plain : folded) != 0)
            continue;
        struct reading got =
            weigh(sniff, column, name->statistic, rows[i].role, at_most(rows[i].confidence, most));
        keep_better(&best, &got);
    }
    enum confidence confidence = CONFIDENCE_NONE;
    enum role output = output_role(folded, &confidence);
    if (output != ROLE_COUNT) {
        struct reading got =
            weigh(sniff, column, name->statistic, output, at_most(confidence, most));
        keep_better(&best, &got);
    }
    return best;
}

static void read_column(struct sniff *sniff, struct sniff_column *column)
{
    struct spelled_name name;
    sniff_spell(column->name, column->bare, &name);
    struct reading best = read_name(sniff, column, &name, name.plain, CONFIDENCE_SURE);
    if (best.role == ROLE_COUNT && name.last[0] != '\0')
        best = read_name(sniff, column, &name, name.last,
                         sniff->shape.name_rows == 2 ? CONFIDENCE_LIKELY : CONFIDENCE_GUESS);
    column->role = best.confidence == CONFIDENCE_NONE ? ROLE_COUNT : best.role;
    column->confidence = best.confidence;
    column->statistic = name.statistic;
    (void)snprintf(column->why, sizeof column->why, "%s",
                   best.why[0] != '\0' ? best.why : sniff_unknown_name);
    if (best.unit != NULL)
        (void)snprintf(column->proposed_unit, sizeof column->proposed_unit, "%s", best.unit);
    if (!name.is_extreme || column->role == ROLE_COUNT)
        return;
    column->role = ROLE_COUNT;
    column->confidence = CONFIDENCE_NONE;
    (void)snprintf(column->why, sizeof column->why,
                   "an extreme or a mean square: neither a value nor its sd");
}

void sniff_find_roles(struct sniff *sniff)
{
    for (size_t i = 0; i < sniff->shape.n; i++)
        read_column(sniff, &sniff->columns[i]);
    sniff_find_patterns(sniff);
    sniff_share_units(sniff);
    sniff_find_others(sniff);
}
