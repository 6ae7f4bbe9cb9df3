/* sniff_patterns.c - see sniff_patterns.h. */
#include "ingest/sniff_patterns.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "ingest/sniff_cell.h"
#include "ingest/sniff_points.h"
#include "ingest/sniff_spelling.h"
#include "ingest/sniff_units.h"

enum { FAMILY_MIN = 8, TIME_ROWS = 100 };

size_t sniff_find_role(const struct sniff *sniff, enum role role, enum map_statistic statistic)
{
    for (size_t i = 0; i < sniff->shape.n; i++)
        if (sniff->columns[i].role == role && sniff->columns[i].statistic == statistic)
            return i;
    return SIZE_MAX;
}

/* Bytes of the name before the number it ends with; 0 when it does not end with one. */
static size_t stem_of(const struct sniff_column *column)
{
    size_t n = column->bare;
    while (n > 0 && column->name[n - 1] >= '0' && column->name[n - 1] <= '9')
        n--;
    return n < column->bare ? n : 0;
}

/* A column that may be a tap: numbers, with a pressure's unit or none, and no meaning of its own. A
 * balance has six outputs, so that the first six of a larger family are none. */
static int may_be_tap(struct sniff *sniff, const struct sniff_column *column)
{
    struct unit_conversion unused;
    enum unit_fit fit = sniff_unit_fit(sniff->units, column->unit, role_unit(ROLE_TAP), &unused);
    int is_free = column->role == ROLE_COUNT ||
                  (column->role >= ROLE_BALANCE_OUTPUT_1 && column->role <= ROLE_BALANCE_OUTPUT_6);
    return is_free && column->n_numbers > 0 && stem_of(column) > 0 &&
           (fit == UNIT_FITS || fit == UNIT_ABSENT);
}

static size_t family_size(struct sniff *sniff, size_t at, const char *may)
{
    size_t n = 0;
    size_t stem = stem_of(&sniff->columns[at]);
    for (size_t i = 0; i < sniff->shape.n; i++)
        n += may[i] && stem_of(&sniff->columns[i]) == stem &&
             memcmp(sniff->columns[i].name, sniff->columns[at].name, stem) == 0;
    return n;
}

static void make_tap(struct sniff *sniff, struct sniff_column *column, size_t family)
{
    int has_unit = column->unit != NULL;
    column->role = ROLE_TAP;
    column->statistic = COLUMN_VALUE;
    column->proposed_unit[0] = '\0';
    column->confidence = has_unit ? CONFIDENCE_LIKELY : CONFIDENCE_GUESS;
    (void)snprintf(column->why, sizeof column->why, "one of %zu like-named columns%s", family,
                   has_unit ? " with a pressure's unit" : "; no unit is written: ask for it");
    sniff->n_taps++;
}

/* Pressures far from zero are absolute ones; small numbers without a unit are coefficients. */
static void judge_taps(struct sniff *sniff)
{
    enum { ABSOLUTE_FROM = 50000 }; /* Pa: no tap is that far from the static pressure */
    static const double least = -30,
                        most = 1.2; /* Cp of a car's taps; common practice, no source */
    int is_absolute = sniff->n_taps > 0;
    int is_coefficient = sniff->n_taps > 0;
    for (size_t i = 0; i < sniff->shape.n; i++) {
        const struct sniff_column *column = &sniff->columns[i];
        struct unit_conversion conversion = {1, 0};
        if (column->role != ROLE_TAP)
            continue;
        if (column->unit != NULL)
            (void)sniff_unit_fit(sniff->units, column->unit, role_unit(ROLE_TAP), &conversion);
        is_absolute = is_absolute && conversion.factor * column->min > ABSOLUTE_FROM;
        is_coefficient =
            is_coefficient && column->unit == NULL && column->min >= least && column->max <= most;
    }
    sniff->taps_measured = is_absolute      ? TAPS_ABSOLUTE
                           : is_coefficient ? TAPS_AS_COEFFICIENT
                                            : TAPS_RELATIVE;
}

static void find_taps(struct sniff *sniff)
{
    enum { COLUMNS_MAX = 4096 };
    char may[COLUMNS_MAX];
    int is_named = !sniff->titles.names_are_numbers; /* our own numbers make no family */
    size_t n = is_named && sniff->shape.n < COLUMNS_MAX ? sniff->shape.n : 0;
    for (size_t i = 0; i < n; i++)
        may[i] = (char)may_be_tap(sniff, &sniff->columns[i]);
    for (size_t i = 0; i < n; i++) {
        size_t family = may[i] ? family_size(sniff, i, may) : 0;
        if (family >= FAMILY_MIN)
            make_tap(sniff, &sniff->columns[i], family);
    }
    judge_taps(sniff);
}

static int is_clock_like(const struct sniff *sniff, const struct sniff_column *column)
{
    return column->n_clock == sniff->rows.n;
}

/* 0 and 1 by turns: labels do not come back. */
static int is_switch_like(const struct sniff_column *column)
{
    return column->n_flag > 0 && column->n_flag == column->n_numbers + column->n_other &&
           column->n_missing == 0 && column->n_changes > 1 &&
           (column->n_numbers == 0 || (column->min == 0 && column->max == 1));
}

/* Plateaus of one label or whole number each. */
static int is_point_like(const struct sniff *sniff, const struct sniff_column *column)
{
    size_t plateaus = column->n_changes + 1;
    int is_label =
        column->n_whole == column->n_numbers && column->n_missing == 0 && column->n_clock == 0;
    return is_label && !is_switch_like(column) && column->unit == NULL && plateaus > 1 &&
           3 * plateaus <= sniff->rows.n;
}

/* A short list of set values rises as a time does: it takes many rows, or points of several rows. */
static int may_hold_samples(const struct sniff *sniff)
{
    for (size_t i = 0; i < sniff->shape.n; i++)
        if (is_point_like(sniff, &sniff->columns[i]))
            return 1;
    return sniff->rows.n >= TIME_ROWS;
}

/* Averages with their scatter: set values rise, and times are not averaged. */
static int has_scatter(const struct sniff *sniff)
{
    for (size_t i = 0; i < sniff->shape.n; i++)
        if (sniff->columns[i].statistic == COLUMN_SD && sniff->columns[i].n_numbers > 0)
            return 1;
    return 0;
}

/* Always later, and not just a count of the rows. */
static int is_time_like(const struct sniff *sniff, const struct sniff_column *column)
{
    struct unit_conversion unused;
    enum unit_fit fit = sniff_unit_fit(sniff->units, sniff_column_unit(column), "s", &unused);
    int counts =
        column->n_whole == column->n_numbers || has_scatter(sniff) || !may_hold_samples(sniff);
    return sniff->rows.n > 2 && column->n_numbers == sniff->rows.n &&
           column->n_rises + 1 == sniff->rows.n &&
           (fit == UNIT_FITS || (fit == UNIT_ABSENT && !counts));
}

/* A text of its own in every row, of a log that tells no other time: remarks go with samples too. */
static int is_label_like(const struct sniff *sniff, const struct sniff_column *column)
{
    return sniff_find_role(sniff, ROLE_TIME, COLUMN_VALUE) == SIZE_MAX && sniff->rows.n > 1 &&
           column->n_other == sniff->rows.n && column->n_clock == 0 &&
           column->n_changes + 1 == sniff->rows.n;
}

static void find_by_course(struct sniff *sniff)
{
    static const struct {
        enum role role;
        int (*fits)(const struct sniff *, const struct sniff_column *);
        const char *why, *unit;
    } courses[] = {
        {ROLE_CLOCK, is_clock_like, "every cell is H:M:S", ""},
        {ROLE_TIME, is_time_like, "it rises from row to row", "s"},
        {ROLE_POINT, is_point_like, "it stays for several rows and then changes", ""},
        {ROLE_POINT, is_label_like, "a text that changes in every row", ""},
    };
    for (size_t k = 0; k < sizeof courses / sizeof courses[0]; k++) {
        int is_told = sniff_find_role(sniff, courses[k].role, COLUMN_VALUE) != SIZE_MAX ||
                      (courses[k].role == ROLE_POINT &&
                       sniff_find_role(sniff, ROLE_RECORDING, COLUMN_VALUE) != SIZE_MAX);
        for (size_t i = 0; i < sniff->shape.n && !is_told; i++) {
            struct sniff_column *column = &sniff->columns[i];
            if (column->role != ROLE_COUNT || !courses[k].fits(sniff, column))
                continue;
            is_told = 1;
            column->role = courses[k].role;
            column->statistic = COLUMN_VALUE;
            column->confidence = CONFIDENCE_GUESS;
            (void)snprintf(column->why, sizeof column->why, "%s", courses[k].why);
            (void)snprintf(column->proposed_unit, sizeof column->proposed_unit, "%s",
                           sniff_column_unit(column) == NULL ? courses[k].unit
                           : column->unit == NULL            ? column->words_unit
                                                             : "");
        }
    }
}

static void explain_switches(struct sniff *sniff)
{
    for (size_t i = 0; i < sniff->shape.n; i++) {
        struct sniff_column *column = &sniff->columns[i];
        if (column->role == ROLE_COUNT && is_switch_like(column) && column->n_missing == 0 &&
            strcmp(column->why, sniff_unknown_name) == 0)
            (void)snprintf(column->why, sizeof column->why,
                           "on and off by turns: if it says which rows are recorded, it gets the "
                           "role recording");
    }
}

static void take_role(struct sniff_column *loser, const struct sniff_column *winner)
{
    (void)snprintf(loser->why, sizeof loser->why, "a second %s%s beside '%.60s'; choose one",
                   role_name(loser->role), loser->statistic == COLUMN_SD ? " (sd)" : "",
                   winner->name);
    loser->role = ROLE_COUNT;
    loser->confidence = CONFIDENCE_NONE;
}

static void settle_doubles(struct sniff *sniff)
{
    for (size_t i = 1; i < sniff->shape.n; i++) {
        struct sniff_column *column = &sniff->columns[i];
        for (size_t k = 0; k < i; k++) {
            struct sniff_column *other = &sniff->columns[k];
            if (column->role == ROLE_COUNT || column->role == ROLE_TAP ||
                column->role != other->role || column->statistic != other->statistic)
                continue;
            if (column->confidence > other->confidence)
                take_role(other, column);
            else
                take_role(column, other);
        }
    }
}

/* The strict reader refuses a head with two columns of one name, and a map cannot tell them apart. */
static void drop_twins(struct sniff *sniff)
{
    for (size_t i = 0; i < sniff->shape.n; i++) {
        struct sniff_column *column = &sniff->columns[i];
        size_t twins = 0;
        for (size_t k = 0; k < i; k++)
            twins += strcmp(sniff->columns[k].name, column->name) == 0;
        if (twins == 0 && column->name[0] != '\0')
            continue;
        column->role = ROLE_COUNT;
        column->confidence = CONFIDENCE_NONE;
        (void)snprintf(column->why, sizeof column->why, "%s",
                       twins > 0 && column->name[0] != '\0'
                           ? "another column has this name: the log will be refused; rename one"
                           : "it has no name");
    }
}

/* u, v and w are the components of a velocity, of a wake or a probe: none is the speed of the stream. */
static void drop_components(struct sniff *sniff)
{
    size_t found[3] = {SIZE_MAX, SIZE_MAX, SIZE_MAX};
    struct spelled_name name;
    for (size_t i = 0; i < sniff->shape.n; i++) {
        sniff_spell(sniff->columns[i].name, sniff->columns[i].bare, &name);
        if (name.folded[0] >= 'u' && name.folded[0] <= 'w' && name.folded[1] == '\0' &&
            name.statistic == COLUMN_VALUE)
            found[name.folded[0] - 'u'] = i;
    }
    if (found[1] == SIZE_MAX || found[2] == SIZE_MAX)
        return;
    for (size_t i = 0; i < sniff->shape.n; i++) {
        struct sniff_column *column = &sniff->columns[i];
        sniff_spell(column->name, column->bare, &name);
        if (column->role != ROLE_AIR_SPEED || name.folded[1] != '\0')
            continue;
        column->role = ROLE_COUNT;
        column->confidence = CONFIDENCE_NONE;
        column->proposed_unit[0] = '\0';
        (void)snprintf(column->why, sizeof column->why,
                       "u, v and w are components of a velocity, not the stream's speed");
    }
}

void sniff_find_patterns(struct sniff *sniff)
{
    drop_components(sniff);
    find_taps(sniff);
    settle_doubles(sniff);
    drop_twins(sniff);
    sniff_settle_points(sniff);
    find_by_course(sniff);
    explain_switches(sniff);
}
