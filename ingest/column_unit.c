/* column_unit.c - see column_unit.h. */
#include "ingest/column_unit.h"

#include <math.h>
#include <string.h>

/* Where a unit may be written, in the order of trust. */
enum { IN_MAP, IN_ROW, IN_NAME, PLACES };

static const char *const places[PLACES] = {"the channel map", "the unit row", "the column's name"};

static void collect(const struct header_cell *cell, const char *map_unit, const char *texts[PLACES])
{
    texts[IN_MAP] = map_unit;
    texts[IN_ROW] = cell->row_unit;
    texts[IN_NAME] = cell->own_unit;
}

/* At the unit row where the wrong unit stands there, else at the column's name. */
static void place_unit(const struct header *header, size_t cell, int place, struct fault *fault)
{
    if (place == IN_ROW)
        header_place_unit(header, cell, fault);
    else
        header_place(header, cell, fault);
}

static int agree(const struct unit_conversion *a, const struct unit_conversion *b)
{
    return fabs(a->factor - b->factor) <= 1e-12 * fabs(a->factor) &&
           fabs(a->offset - b->offset) <= 1e-12 * fabs(a->offset);
}

/* What to write, where it is not for the user to choose. */
static const char *advice(const char *unit)
{
    return strcmp(unit, "1") == 0
               ? "; write unit: 1 for a plain number, unit: \"%\" for a share in %"
               : "";
}

static enum status undeclared(const struct header *header, size_t cell, const char *unit,
                              struct fault *fault)
{
    enum status status = FAIL(fault, BAD_INPUT,
                              "unit undeclared: column '%.80s' has none in the log and none in the "
                              "channel map; declare it there as unit%s",
                              header->cells[cell].name, advice(unit));
    header_place(header, cell, fault);
    return status;
}

static enum status contradiction(const struct header *header, size_t cell,
                                 const char *const texts[PLACES], int a, int b, struct fault *fault)
{
    enum status status = FAIL(fault, BAD_INPUT,
                              "the unit of column '%.80s' is '%.40s' in %s and '%.40s' in %s; "
                              "limit: the same unit; correct the wrong one",
                              header->cells[cell].name, texts[a], places[a], texts[b], places[b]);
    place_unit(header, cell, a == IN_ROW ? a : b, fault);
    return status;
}

/* Names the column in a refusal of the unit database. */
static enum status wrong_unit(const struct header *header, size_t cell, int place,
                              struct fault *fault)
{
    char text[400];
    (void)strncpy(text, fault != NULL ? fault->text : "", sizeof text - 1);
    text[sizeof text - 1] = '\0';
    enum status status = FAIL(fault, BAD_INPUT, "column '%.80s', unit in %s: %s",
                              header->cells[cell].name, places[place], text);
    place_unit(header, cell, place, fault);
    return status;
}

enum status column_unit_find(const struct header *header, size_t cell, const char *map_unit,
                             const char *si_unit, struct units *units, struct column_unit *unit,
                             struct fault *fault)
{
    const char *texts[PLACES];
    int found = -1;

    collect(&header->cells[cell], map_unit, texts);
    for (int i = 0; i < PLACES; i++) {
        struct unit_conversion conversion;
        if (texts[i] == NULL)
            continue;
        enum status status = units_conversion(units, texts[i], si_unit, &conversion, fault);
        if (status == BAD_INPUT && i == IN_NAME && header->cells[cell].in_round)
            continue;
        if (status == BAD_INPUT)
            return wrong_unit(header, cell, i, fault);
        if (status != OK)
            return status;
        if (found >= 0 && !agree(&unit->conversion, &conversion))
            return contradiction(header, cell, texts, found, i, fault);
        if (found >= 0)
            continue;
        found = i;
        *unit = (struct column_unit){texts[i], conversion};
    }
    return found >= 0 ? OK : undeclared(header, cell, si_unit, fault);
}

enum status column_unit_of_any(const struct header *header, size_t cell, const char *map_unit,
                               struct units *units, struct column_unit *unit, const char **kept,
                               struct fault *fault)
{
    const char *texts[PLACES];
    collect(&header->cells[cell], map_unit, texts);
    *kept = "1";
    for (int i = 0; i < PLACES; i++) {
        if (texts[i] == NULL)
            continue;
        enum status status = units_kind(units, texts[i], kept, fault);
        if (status == BAD_INPUT && i == IN_NAME && header->cells[cell].in_round)
            continue;
        if (status == BAD_INPUT)
            return wrong_unit(header, cell, i, fault);
        return status != OK ? status
                            : column_unit_find(header, cell, map_unit, *kept, units, unit, fault);
    }
    return undeclared(header, cell, *kept, fault);
}

enum status column_unit_of_output(const struct header *header, size_t cell, const char *map_unit,
                                  const char *output_unit, struct column_unit *unit,
                                  struct fault *fault)
{
    const char *texts[PLACES];
    int found = -1;

    collect(&header->cells[cell], map_unit, texts);
    for (int i = 0; i < PLACES; i++) {
        if (texts[i] == NULL || (i == IN_NAME && header->cells[cell].in_round && found >= 0))
            continue;
        found = i;
        if (strcmp(texts[i], output_unit) == 0)
            continue;
        enum status status =
            FAIL(fault, BAD_INPUT,
                 "column '%.80s' is in '%.40s' (%s), the balance's outputs are in '%.40s'; limit: "
                 "the same text; correct the wrong one",
                 header->cells[cell].name, texts[i], places[i], output_unit);
        place_unit(header, cell, i, fault);
        return status;
    }
    if (found < 0)
        return undeclared(header, cell, output_unit, fault);
    *unit = (struct column_unit){texts[found], {1, 0}};
    return OK;
}
