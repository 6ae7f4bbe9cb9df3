/* sniff_cell.c - see sniff_cell.h. */
#include "ingest/sniff_cell.h"

#include <math.h>
#include <string.h>
#include <strings.h>

#include "ingest/iso_time.h"
#include "ingest/recording_flag.h"
#include "schema/number.h"
#include "schema/utf8.h"

static int looks_missing(const struct table_cell *cell)
{
    static const char *const words[] = {"nan",  "na",   "n/a",  "-",      "--",  "---",
                                        "null", "none", "#n/a", "#nv",    "inf", "-inf",
                                        "+inf", "-nan", "nv",   "#value!"};
    if (cell->length == 0)
        return 1;
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (cell->length == strlen(words[i]) &&
            strncasecmp(cell->text, words[i], cell->length) == 0)
            return 1;
    return 0;
}

enum sniff_kind sniff_cell_kind(const struct table_cell *cell, char decimal_mark, double *value)
{
    static const char marks[] = {'.', ','};
    for (size_t i = 0; i < sizeof marks; i++)
        if ((decimal_mark == 0 || decimal_mark == marks[i]) &&
            number_parse(cell->text, cell->length, marks[i], value, NULL) == NUMBER_OK)
            return SNIFF_NUMBER;
    if (clock_parse(cell->text, cell->length, value))
        return SNIFF_CLOCK;
    *value = NAN;
    return looks_missing(cell) ? SNIFF_MISSING : SNIFF_OTHER;
}

int sniff_may_be_flag(const struct table_cell *cell, enum sniff_kind kind, double value)
{
    if (kind == SNIFF_NUMBER)
        return value >= 0 && value == floor(value);
    return recording_flag_word(cell) >= 0;
}

enum unit_fit sniff_unit_fit(struct units *units, const char *unit, const char *si_unit,
                             struct unit_conversion *conversion)
{
    static const char *const kinds[] = {"1", "m", "Pa", "K", "s", "N", "N m", "m/s", "rad", "Hz"};
    static const char *const of_outputs[] = {"1", "V"};
    struct unit_conversion unused;
    if (unit == NULL)
        return UNIT_ABSENT;
    for (size_t i = 0; si_unit == NULL && i < sizeof of_outputs / sizeof of_outputs[0]; i++)
        if (units_conversion(units, unit, of_outputs[i], &unused, NULL) == OK)
            return UNIT_FITS;
    if (si_unit != NULL && units_conversion(units, unit, si_unit, conversion, NULL) == OK)
        return UNIT_FITS;
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
        if (units_conversion(units, unit, kinds[i], &unused, NULL) == OK)
            return UNIT_OF_ANOTHER_KIND;
    return UNIT_UNKNOWN;
}

int sniff_is_unit(struct units *units, const char *text)
{
    static const char *const others[] = {"H:M:S",  "HH:MM:SS", "h:m:s", "C",  "F",     "kg",
                                         "lb",     "V",        "mV",    "A",  "mA",    "counts",
                                         "kg/m^3", "kg/m3",    "W",     "kW", "Nm/deg"};
    struct unit_conversion unused;
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++)
        if (strcasecmp(others[i], text) == 0)
            return 1;
    return sniff_unit_fit(units, text, "1", &unused) != UNIT_UNKNOWN;
}

void sniff_cell_copy(const struct table_cell *cell, char *out, size_t size)
{
    size_t length = cell->length < size ? cell->length : size - 1;
    length = utf8_valid_length(cell->text, length);
    memcpy(out, cell->text, length);
    out[length] = '\0';
}
