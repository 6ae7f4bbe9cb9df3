/* sniff_others.c - see sniff_others.h. */
#include "ingest/sniff_others.h"

#include <stdint.h>
#include <string.h>

#include "ingest/sniff_print.h"
#include "ingest/sniff_spelling.h"
#include "ingest/sniff_units.h"

static int is_one_of_its_name(const struct sniff *sniff, size_t at)
{
    size_t n = 0;
    for (size_t i = 0; i < sniff->shape.n; i++)
        n += strcmp(sniff->columns[i].name, sniff->columns[at].name) == 0;
    return n == 1 && sniff->columns[at].name[0] != '\0';
}

/* Numbers, and nothing the strict reader would stop at. */
static int may_be_kept(const struct sniff *sniff, size_t at)
{
    const struct sniff_column *column = &sniff->columns[at];
    return column->role == ROLE_COUNT && column->n_numbers > 0 && column->n_other == 0 &&
           is_one_of_its_name(sniff, at);
}

/* 1 when the unit is known, so that the strict reader takes the column. */
static int knows_unit(struct sniff *sniff, struct sniff_column *column)
{
    const char *kind = NULL;
    const char *unit = sniff_column_unit(column);
    if (unit == NULL || units_kind(sniff->units, unit, &kind, NULL) != OK)
        return 0;
    if (column->unit == NULL)
        (void)snprintf(column->proposed_unit, sizeof column->proposed_unit, "%s", unit);
    return 1;
}

/* The value that a scatter belongs to: the column of the same name but for the word of the statistic. */
static size_t value_of(const struct sniff *sniff, size_t at)
{
    struct spelled_name sd, value;
    sniff_spell(sniff->columns[at].name, strlen(sniff->columns[at].name), &sd);
    for (size_t i = 0; i < sniff->shape.n && sd.folded[0] != '\0'; i++) {
        sniff_spell(sniff->columns[i].name, strlen(sniff->columns[i].name), &value);
        if (i != at && value.statistic == COLUMN_VALUE && !value.is_extreme &&
            strcmp(value.folded, sd.folded) == 0 && sniff->columns[i].n_numbers > 0)
            return i;
    }
    return SIZE_MAX;
}

/* An sd is kept beside its value; without one it is a number like any other. */
static void pair(struct sniff *sniff, size_t at)
{
    struct sniff_column *column = &sniff->columns[at];
    size_t value = column->statistic == COLUMN_SD ? value_of(sniff, at) : SIZE_MAX;
    int goes_with = value != SIZE_MAX && (sniff->columns[value].role == ROLE_COUNT ||
                                          sniff->columns[value].role == ROLE_OTHER);
    column->statistic = goes_with ? COLUMN_SD : COLUMN_VALUE;
    column->of = goes_with ? sniff->columns[value].name : NULL;
}

static void keep(struct sniff_column *column, const char *unit)
{
    column->role = ROLE_OTHER;
    column->confidence = CONFIDENCE_GUESS;
    if (column->of != NULL)
        (void)snprintf(column->why, sizeof column->why, "the scatter of '%.60s', by its name",
                       column->of);
    else
        (void)snprintf(column->why, sizeof column->why,
                       "what it means is not known, but %.20s is: kept as it is", unit);
}

static int measures_nothing(const struct sniff *sniff)
{
    for (size_t i = 0; i < sniff->shape.n; i++)
        if (role_is_channel(sniff->columns[i].role))
            return 0;
    return 1;
}

void sniff_find_others(struct sniff *sniff)
{
    int takes_all = measures_nothing(sniff);
    for (size_t i = 0; i < sniff->shape.n; i++) {
        struct sniff_column *column = &sniff->columns[i];
        column->may_be_kept = may_be_kept(sniff, i);
        if (!column->may_be_kept)
            continue;
        pair(sniff, i);
        column->unit_is_known = knows_unit(sniff, column);
        if (takes_all && column->unit_is_known)
            keep(column, sniff_column_unit(column));
    }
}

static void print_kept(const struct sniff_column *column, FILE *out)
{
    (void)fprintf(out, ": {role: other");
    if (column->of != NULL) {
        (void)fprintf(out, ", of: ");
        sniff_print_yaml(column->of, out);
        (void)fprintf(out, ", statistic: sd");
    }
    if (!column->unit_is_known)
        (void)fprintf(out, ", unit: ?");
    else if (column->unit == NULL) {
        (void)fprintf(out, ", unit: ");
        sniff_print_yaml(column->proposed_unit, out);
    }
    (void)fprintf(out, "}   # ");
    sniff_print_text(column->why, out);
}

void sniff_print_others(const struct sniff *sniff, FILE *out)
{
    size_t n = 0;
    for (size_t i = 0; i < sniff->shape.n; i++) {
        const struct sniff_column *column = &sniff->columns[i];
        if (column->role != ROLE_COUNT)
            continue;
        if (n++ == 0)
            (void)fprintf(out, "      # Without a role; a line without its first # keeps the "
                               "column's statistics, with its unit for the ?\n");
        (void)fprintf(out, "      # ");
        sniff_print_yaml(column->name, out);
        if (column->may_be_kept) {
            print_kept(column, out);
        } else {
            (void)fprintf(out, ": ");
            sniff_print_text(column->why, out);
        }
        (void)fputc('\n', out);
    }
}
