/* units.c - unit text to SI; see units.h. */
#include "schema/units.h"

#include <ctype.h>
#include <math.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <udunits2.h>

#include "schema/number.h"
#include "schema/units_alias.h"

struct units {
    ut_system *system;
};

/* UDUNITS-2 keeps its parser's state and its last status in variables of the whole program, so only
 * one thread may be inside it, whatever handle it uses. */
static pthread_mutex_t library_lock = PTHREAD_MUTEX_INITIALIZER;

/* What a unit has to be, for messages. */
static const char *wanted(const char *si_unit)
{
    static const struct {
        const char *si_unit;
        const char *words;
    } kinds[] = {
        {"1", "a pure number or %"},
        {"%", "a share in %"},
        {"m", "a length (m, mm, in ...)"},
        {"m2", "an area (m2, mm2 ...)"},
        {"m3", "a volume (m3, l ...)"},
        {"1/m", "one over a length (1/m ...)"},
        {"s", "a time (s, ms ...)"},
        {"Hz", "a frequency (Hz, kHz ...)"},
        {"Pa", "a pressure (Pa, mbar, inH2O ...)"},
        {"1/Pa", "one over a pressure (1/Pa ...)"},
        {"1/Pa2", "one over a squared pressure (1/Pa2 ...)"},
        {"K", "a temperature (K, degC, degF)"},
        {"rad", "an angle (deg, rad ...)"},
        {"N", "a force (N, lbf, kgf ...)"},
        {"N m", "a moment (N m, ft lbf ...)"},
        {"m/s", "a speed (m/s, km/h, mph ...)"},
    };
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
        if (strcmp(kinds[i].si_unit, si_unit) == 0)
            return kinds[i].words;
    return si_unit;
}

static ut_unit *parse_expression(struct units *units, const char *text)
{
    return ut_parse(units->system, text, UT_UTF8);
}

/* Our spellings become symbols of the system, so that they also hold inside "mph/s". */
static int add_aliases(struct units *units)
{
    size_t n = 0;
    const struct unit_alias *aliases = unit_aliases(&n);
    for (size_t i = 0; i < n; i++) {
        ut_unit *unit = parse_expression(units, aliases[i].meaning);
        ut_status status = UT_SUCCESS;
        if (unit == NULL)
            return 0;
        status = ut_map_symbol_to_unit(aliases[i].spelling, UT_UTF8, unit);
        ut_free(unit);
        if (status != UT_SUCCESS)
            return 0;
    }
    return 1;
}

static enum status load(struct units *units, struct fault *fault)
{
    (void)ut_set_error_message_handler(ut_ignore);
    units->system = ut_read_xml(NULL);
    if (units->system == NULL)
        return FAIL(fault, STORE_FAILED,
                    "the unit database of UDUNITS-2 cannot be read; install udunits2's data "
                    "(Debian: libudunits2-data)");
    if (!add_aliases(units))
        return FAIL(fault, STORE_FAILED,
                    "the unit database of UDUNITS-2 does not fit this program's own spellings; "
                    "version 2.2.28 does");
    return OK;
}

enum status units_open(struct units **units, struct fault *fault)
{
    *units = NULL;
    struct units *made = calloc(1, sizeof *made);
    if (made == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the unit database");
    (void)pthread_mutex_lock(&library_lock);
    enum status status = load(made, fault);
    (void)pthread_mutex_unlock(&library_lock);
    if (status != OK) {
        units_close(made);
        return status;
    }
    *units = made;
    return OK;
}

void units_close(struct units *units)
{
    if (units == NULL)
        return;
    (void)pthread_mutex_lock(&library_lock);
    ut_free_system(units->system);
    (void)pthread_mutex_unlock(&library_lock);
    free(units);
}

/* UDUNITS-2 reads numbers inside a unit as factors and offsets ("2 m", "K - 273"): in a log or a
 * campaign that is a slip. Digits may only be exponents, or the 1 of "1/m". */
static int has_factor(const char *text)
{
    if (strcmp(text, "1") == 0)
        return 0;
    const char *rest = strncmp(text, "1/", 2) == 0 ? text + 2 : text;
    char before = ' ';
    for (const char *c = rest; *c != '\0'; before = *c++) {
        int begins = strchr(" \t./*(", before) != NULL;
        if (begins && (isdigit((unsigned char)*c) || *c == '-' || *c == '+'))
            return 1;
        if (*c == '@')
            return 1;
    }
    return 0;
}

static ut_unit *find_unit(struct units *units, const char *text)
{
    ut_unit *unit = ut_get_unit_by_symbol(units->system, text);
    if (unit != NULL)
        return unit;
    return has_factor(text) ? NULL : parse_expression(units, text);
}

/* UDUNITS-2 counts the radian as 1; an angle must not pass for a share, nor a count for one. */
static int has_angle(const ut_unit *unit)
{
    char definition[256];
    int length = ut_format(unit, definition, sizeof definition, UT_ASCII | UT_DEFINITION);
    return length > 0 && (size_t)length < sizeof definition && strstr(definition, "rad") != NULL;
}

/* UDUNITS-2 also converts a unit to its reciprocal, a frequency to a time: that is another dimension. */
static int is_reciprocal(const ut_unit *unit, const ut_unit *si)
{
    ut_unit *ratio = ut_divide(unit, si);
    int differs = ratio == NULL || !ut_is_dimensionless(ratio);
    ut_free(ratio);
    return differs;
}

static int same_dimension(const ut_unit *unit, const ut_unit *si)
{
    return ut_are_convertible(unit, si) && !is_reciprocal(unit, si) &&
           has_angle(unit) == has_angle(si);
}

static enum status convert(const ut_unit *unit, const ut_unit *si,
                           struct unit_conversion *conversion, struct fault *fault)
{
    /* Taken far from the offset, so that the offset's digits do not wear the factor's. */
    const double far = 0x1p80;
    cv_converter *converter = ut_get_converter((ut_unit *)unit, (ut_unit *)si);
    if (converter == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a unit conversion");
    conversion->offset = cv_convert_double(converter, 0.0);
    conversion->factor = conversion->offset == 0.0
                             ? cv_convert_double(converter, 1.0)
                             : (cv_convert_double(converter, far) - conversion->offset) / far;
    cv_free(converter);
    return OK;
}

static enum status find_conversion(struct units *units, const char *text, const char *si_unit,
                                   struct unit_conversion *conversion, struct fault *fault)
{
    ut_unit *si = parse_expression(units, si_unit);
    ut_unit *unit = find_unit(units, text);
    const char *hint = unit_hint(text, si_unit);
    const char *colon = hint[0] == '\0' ? "" : ": ";
    enum status status = OK;
    if (si == NULL)
        status = FAIL(fault, STORE_FAILED, "the unit database does not know %s", si_unit);
    else if (unit == NULL)
        status = FAIL(fault, BAD_INPUT, "unit '%s' is not known%s%s; %s is needed", text, colon,
                      hint, wanted(si_unit));
    else if (!same_dimension(unit, si))
        status = FAIL(fault, BAD_INPUT, "unit '%s' is of another kind%s%s; %s is needed", text,
                      colon, hint, wanted(si_unit));
    else
        status = convert(unit, si, conversion, fault);
    ut_free(unit);
    ut_free(si);
    return status;
}

enum status units_conversion(struct units *units, const char *text, const char *si_unit,
                             struct unit_conversion *conversion, struct fault *fault)
{
    *conversion = (struct unit_conversion){1.0, 0.0};
    size_t length = strlen(text);
    char trimmed[64];
    while (length > 0 && isspace((unsigned char)text[length - 1]))
        length--;
    while (length > 0 && isspace((unsigned char)*text)) {
        text++;
        length--;
    }
    if (length == 0)
        return FAIL(fault, BAD_INPUT, "no unit is given; %s is needed", wanted(si_unit));
    if (length >= sizeof trimmed)
        return FAIL(fault, BAD_INPUT, "unit '%.40s...' is not known; at most %zu characters", text,
                    sizeof trimmed - 1);
    memcpy(trimmed, text, length);
    trimmed[length] = '\0';
    (void)pthread_mutex_lock(&library_lock);
    enum status status = find_conversion(units, trimmed, si_unit, conversion, fault);
    (void)pthread_mutex_unlock(&library_lock);
    return status;
}

enum status units_kind(struct units *units, const char *text, const char **si_unit,
                       struct fault *fault)
{
    static const char *const kinds[] = {"1",    "m",     "m2",  "m3",   "1/m",   "s",    "1/s",
                                        "kg",   "N",     "N m", "N/m",  "Pa",    "Pa s", "K",
                                        "rad",  "rad/s", "m/s", "m/s2", "m2/s2", "m2/s", "m3/s",
                                        "kg/s", "kg/m3", "V",   "A",    "W",     "ohm",  "kg m2"};
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        struct unit_conversion conversion;
        struct fault other;
        enum status status = units_conversion(units, text, kinds[i], &conversion, &other);
        if (status == OK)
            *si_unit = kinds[i];
        if (status == BAD_INPUT)
            continue;
        if (status != OK && fault != NULL)
            *fault = other;
        return status;
    }
    return FAIL(
        fault, BAD_INPUT,
        "unit '%.40s' is not known, or of no kind that is kept; a unit of mechanics, heat or "
        "electricity is needed, or 1 for a plain number",
        text);
}

/* The number at the head of text; *unit is what follows it, "" for nothing. */
static enum status split_quantity(const char *text, const char *si_unit, double *number,
                                  const char **unit, struct fault *fault)
{
    size_t length = strcspn(text, " \t");
    size_t stop = 0;
    enum number_outcome outcome = number_parse(text, length, '.', number, &stop);
    if (outcome == NUMBER_MALFORMED && stop > 0) { /* "45%": the unit follows at once */
        length = stop;
        outcome = number_parse(text, length, '.', number, NULL);
    }
    if (outcome == NUMBER_OK && text[length] == ',')
        outcome = NUMBER_MALFORMED;
    if (outcome == NUMBER_OVERFLOW)
        return FAIL(fault, BAD_INPUT, "'%.80s' is too large a number", text);
    if (outcome != NUMBER_OK)
        return FAIL(fault, BAD_INPUT,
                    "'%.80s' is not a number; digits with a decimal point, then %s, are needed",
                    text, wanted(si_unit));
    *unit = text + length + strspn(text + length, " \t");
    return OK;
}

enum status units_quantity(struct units *units, const char *text, const char *si_unit,
                           double *value, struct fault *fault)
{
    struct unit_conversion conversion = {1.0, 0.0};
    const char *unit = NULL;
    double number = 0;
    text += strspn(text, " \t");
    enum status status = split_quantity(text, si_unit, &number, &unit, fault);
    if (status != OK)
        return status;
    if (*unit == '\0' && strcmp(si_unit, "1") != 0)
        return FAIL(fault, BAD_INPUT,
                    "'%.80s' has no unit; %s is needed: write '%.80s %s' if it is in %s", text,
                    wanted(si_unit), text, si_unit, si_unit);
    if (*unit != '\0')
        status = units_conversion(units, unit, si_unit, &conversion, fault);
    if (status != OK)
        return status;
    number = conversion.factor * number + conversion.offset;
    if (!isfinite(number))
        return FAIL(fault, BAD_INPUT, "'%.80s' is too large a number", text);
    *value = number;
    return OK;
}
