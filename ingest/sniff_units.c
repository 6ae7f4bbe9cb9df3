/* sniff_units.c - see sniff_units.h. */
#include "ingest/sniff_units.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "ingest/sniff_cell.h"
#include "ingest/sniff_patterns.h"
#include "ingest/sniff_spelling.h"

/* Longer ones first. Common practice, no source. */
static const struct {
    const char *words, *unit;
} unit_words[] = {
    {"volts_per_volt", "V/V"},
    {"mv_per_v", "mV/V"},
    {"m_per_s", "m/s"},
    {"newtons", "N"},
    {"newton", "N"},
    {"lbf", "lbf"},
    {"kgf", "kgf"},
    {"volts", "V"},
    {"volt", "V"},
    {"pascals", "Pa"},
    {"pascal", "Pa"},
    {"pa", "Pa"},
    {"hpa", "hPa"},
    {"kpa", "kPa"},
    {"mbar", "mbar"},
    {"psf", "psf"},
    {"psi", "psi"},
    {"degrees", "deg"},
    {"deg", "deg"},
    {"rad", "rad"},
    {"degc", "degC"},
    {"celsius", "degC"},
    {"kelvin", "K"},
    {"mps", "m/s"},
    {"kmh", "km/h"},
    {"kph", "km/h"},
    {"mph", "mph"},
    {"mm", "mm"},
    {"metres", "m"},
    {"meters", "m"},
    {"seconds", "s"},
    {"rpm", "rpm"},
    {"hz", "Hz"},
    {"percent", "%"},
    {"pct", "%"},
};

const char *sniff_unit_words(const char *name, size_t length, size_t *bare)
{
    for (size_t i = 0; i < sizeof unit_words / sizeof unit_words[0]; i++) {
        size_t n = strlen(unit_words[i].words);
        if (length < n + 2 || strncasecmp(name + length - n, unit_words[i].words, n) != 0 ||
            strchr("_ .", name[length - n - 1]) == NULL)
            continue;
        if (!sniff_names_statistic(name, length - n - 1)) /* mean_volts is the mean of volts */
            *bare = length - n - 1;
        return unit_words[i].unit;
    }
    return NULL;
}

const char *sniff_column_unit(const struct sniff_column *column)
{
    return column->unit != NULL ? column->unit : column->words_unit;
}

static int is_channel_or_time(const struct sniff_column *column)
{
    return role_is_channel(column->role) || column->role == ROLE_TIME;
}

void sniff_share_units(struct sniff *sniff)
{
    for (size_t i = 0; i < sniff->shape.n; i++) {
        struct sniff_column *column = &sniff->columns[i];
        if (column->statistic != COLUMN_SD || !role_is_channel(column->role) ||
            sniff_column_unit(column) != NULL)
            continue;
        size_t at = sniff_find_role(sniff, column->role, COLUMN_VALUE);
        if (at == SIZE_MAX || sniff->columns[at].proposed_unit[0] == '\0')
            continue;
        memcpy(column->proposed_unit, sniff->columns[at].proposed_unit,
               sizeof column->proposed_unit);
        (void)snprintf(column->why, sizeof column->why,
                       "the name says so: the scatter of '%.60s', and in its unit",
                       sniff->columns[at].name);
    }
}

/* The outputs of a balance may be in any unit that the campaign gives the balance too. */
static int is_output(enum role role)
{
    return role >= ROLE_BALANCE_OUTPUT_1 && role <= ROLE_BALANCE_OUTPUT_6;
}

/* Taps that are coefficients have the unit 1. */
static int lacks_unit(const struct sniff *sniff, const struct sniff_column *column)
{
    struct unit_conversion unused;
    int is_plain = column->role == ROLE_TAP && sniff->taps_measured == TAPS_AS_COEFFICIENT;
    if (!is_channel_or_time(column) || is_plain)
        return 0;
    if (column->unit == NULL)
        return column->proposed_unit[0] == '\0';
    return !is_output(column->role) && column->role != ROLE_OTHER &&
           sniff_unit_fit(sniff->units, column->unit, role_unit(column->role), &unused) ==
               UNIT_UNKNOWN;
}

size_t sniff_lacks_unit(const struct sniff *sniff, size_t *n)
{
    size_t first = SIZE_MAX;
    *n = 0;
    for (size_t i = 0; i < sniff->shape.n; i++) {
        if (!lacks_unit(sniff, &sniff->columns[i]))
            continue;
        first = *n == 0 ? i : first;
        ++*n;
    }
    return first;
}
