/* cell_trouble.c - see cell_trouble.h. */
#include "ingest/cell_trouble.h"

#include <string.h>
#include <strings.h>

#include "schema/number.h"
#include "schema/utf8.h"

/* A cell, taken apart: the longest number it begins with, and what follows that. */
struct seen {
    const char *text;
    size_t length;
    size_t number;    /* bytes of the number; 0 when it begins with none */
    size_t digits;    /* of them before the decimal mark */
    int has_fraction; /* the number has its decimal mark */
    const char *rest;
    size_t rest_length;
    unsigned next;     /* first character of the rest; 0 at the end */
    size_t next_bytes; /* of that character */
    char mark;         /* decimal, as declared */
};

static int is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static int is_letter(unsigned point)
{
    return (point >= 'a' && point <= 'z') || (point >= 'A' && point <= 'Z');
}

static struct seen take_apart(const struct table_cell *cell, char mark)
{
    struct seen seen = {.text = cell->text, .length = cell->length, .mark = mark};
    double value = 0;
    size_t stop = cell->length;
    (void)number_parse(cell->text, cell->length, mark, &value, &stop);
    while (stop > 0 && number_parse(cell->text, stop, mark, &value, NULL) != NUMBER_OK)
        stop--; /* an exponent that is cut short belongs to the rest */
    seen.number = stop;
    for (size_t i = 0; i < stop && cell->text[i] != mark; i++)
        if (is_digit(cell->text[i]))
            seen.digits++;
    seen.has_fraction = stop > 0 && memchr(cell->text, mark, stop) != NULL;
    seen.rest = cell->text + stop;
    seen.rest_length = cell->length - stop;
    if (seen.rest_length > 0)
        seen.next_bytes = utf8_character(seen.rest, seen.rest_length, &seen.next);
    return seen;
}

/* Digits of the rest after its first character. */
static size_t digits_after(const struct seen *seen)
{
    size_t n = 0;
    for (size_t i = seen->next_bytes; i < seen->rest_length && is_digit(seen->rest[i]); i++)
        n++;
    return n;
}

static int ends_after(const struct seen *seen, size_t digits)
{
    return seen->next_bytes + digits == seen->rest_length;
}

static int has_foreign_mark(const struct seen *seen)
{
    return seen->number > 0 && !seen->has_fraction && seen->next == (seen->mark == '.' ? ',' : '.');
}

static int could_be_thousands(const struct seen *seen)
{
    return has_foreign_mark(seen) && seen->digits <= 3 && digits_after(seen) == 3;
}

/* 1,234 - and with another group or a decimal mark after it there is no doubt any more. */
static int is_doubtful_mark(const struct seen *seen)
{
    return could_be_thousands(seen) && ends_after(seen, 3);
}

static int has_thousands_mark(const struct seen *seen)
{
    return could_be_thousands(seen) && !ends_after(seen, 3);
}

static int has_decimal_comma(const struct seen *seen)
{
    return has_foreign_mark(seen) && seen->next == ',';
}

static int is_date_with_points(const struct seen *seen)
{
    return seen->number > 0 && seen->next == '.';
}

static int has_decimal_point(const struct seen *seen)
{
    return has_foreign_mark(seen) && seen->next == '.' && ends_after(seen, digits_after(seen));
}

static int has_thousands_quote(const struct seen *seen)
{
    int is_quote = seen->next == '\'' || seen->next == 0x2019 || seen->next == 0x02BC;
    return seen->number > 0 && is_quote && digits_after(seen) >= 3;
}

static int has_thousands_blank(const struct seen *seen)
{
    return seen->number > 0 && (seen->next == ' ' || utf8_is_invisible(seen->next)) &&
           digits_after(seen) >= 3;
}

static int has_invisible(const struct seen *seen)
{
    for (size_t i = 0; i < seen->length;) {
        unsigned point = 0;
        size_t n = utf8_character(seen->text + i, seen->length - i, &point);
        if (utf8_is_invisible(point))
            return 1;
        i += n > 0 ? n : 1;
    }
    return 0;
}

static int has_percent(const struct seen *seen)
{
    return seen->number > 0 && seen->rest[seen->rest_length - 1] == '%';
}

static int is_not_finite_of_old(const struct seen *seen)
{
    return seen->number > 0 && seen->next == '#';
}

static int is_hexadecimal(const struct seen *seen)
{
    return seen->number > 0 && seen->digits == 1 && seen->text[seen->number - 1] == '0' &&
           (seen->next == 'x' || seen->next == 'X');
}

static int is_cut_exponent(const struct seen *seen)
{
    static const char *const ends[] = {"e", "e+", "e-", "d", "d+", "d-"};
    for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++)
        if (seen->number > 0 && strlen(ends[i]) == seen->rest_length &&
            strncasecmp(ends[i], seen->rest, seen->rest_length) == 0)
            return 1;
    return 0;
}

static int is_sign(unsigned point)
{
    return point == '+' || point == '-';
}

static int is_exponent_without_letter(const struct seen *seen)
{
    return seen->number > 0 && seen->has_fraction && is_sign(seen->next) &&
           digits_after(seen) >= 2 && ends_after(seen, digits_after(seen));
}

static int has_sign_behind(const struct seen *seen)
{
    return seen->number > 0 && is_sign(seen->next) && seen->rest_length == 1;
}

static int is_date(const struct seen *seen)
{
    return seen->number > 0 && (seen->next == '-' || seen->next == '/') && seen->rest_length > 1;
}

static int is_clock(const struct seen *seen)
{
    return seen->number > 0 && seen->next == ':';
}

/* "mm", "m2" and "1/Pa", but not the o of 1o13.25, which is a slip of the pen. */
static int has_unit(const struct seen *seen)
{
    for (size_t i = 0; i + 1 < seen->rest_length; i++)
        if (is_digit(seen->rest[i]) && is_digit(seen->rest[i + 1]))
            return 0;
    return seen->number > 0 && (seen->next == ' ' || is_letter(seen->next) || seen->next == 0xB0 ||
                                seen->next == 0xB5 || seen->next == 0x3BC || seen->next == '[');
}

static int is_filled_with(const struct seen *seen, char c)
{
    for (size_t i = 0; i < seen->length; i++)
        if (seen->text[i] != c)
            return 0;
    return seen->length >= 2;
}

static int is_too_wide(const struct seen *seen)
{
    return is_filled_with(seen, '*');
}

static int is_too_wide_in_a_sheet(const struct seen *seen)
{
    return is_filled_with(seen, '#');
}

static int is_sheet_error(const struct seen *seen)
{
    return seen->text[0] == '#';
}

static int is_in_brackets(const struct seen *seen)
{
    return seen->text[0] == '(' && seen->text[seen->length - 1] == ')';
}

static int is_formula(const struct seen *seen)
{
    return seen->text[0] == '=' || seen->text[0] == '\'';
}

static int is_bound(const struct seen *seen)
{
    return seen->number == 0 &&
           (strchr("<>~", seen->text[0]) != NULL || seen->next == 0x2264 || seen->next == 0x2265);
}

static int has_dash(const struct seen *seen)
{
    return seen->number == 0 && seen->rest_length > seen->next_bytes &&
           ((seen->next >= 0x2010 && seen->next <= 0x2015) || seen->next == 0xFE63 ||
            seen->next == 0xFF0D);
}

static int is_word_of(const struct seen *seen, const char *const *words)
{
    size_t signs = seen->length > 0 && is_sign((unsigned char)seen->text[0]);
    for (; *words != NULL; words++) {
        if (strlen(*words) == seen->length && strncasecmp(*words, seen->text, seen->length) == 0)
            return 1;
        if (strlen(*words) + signs == seen->length &&
            strncasecmp(*words, seen->text + signs, seen->length - signs) == 0)
            return 1;
    }
    return 0;
}

static int is_not_finite(const struct seen *seen)
{
    static const char *const words[] = {"nan",  "inf",  "infinity", "nanq", "qnan",
                                        "snan", "-nan", "nan(ind)", "ind",  NULL};
    return is_word_of(seen, words);
}

static int is_word_for_nothing(const struct seen *seen)
{
    static const char *const words[] = {
        "null", "na",  "n/a",     "n.a.",      "nil",      "none",         "-",
        "--",   "---", "----",    "?",         "???",      "no data",      "no value",
        "void", ".",   "..",      "error",     "overflow", "ovf",          "ovl",
        "ol",   "bad", "missing", "undefined", "x",        "\xE2\x80\x93", "\xE2\x80\x94",
        NULL};
    return is_word_of(seen, words);
}

static int is_switch(const struct seen *seen)
{
    static const char *const words[] = {"true", "false", "on", "off", "yes", "no", NULL};
    return is_word_of(seen, words);
}

static const struct {
    int (*fits)(const struct seen *seen);
    const char *what;
    int may_be_missing;
} troubles[] = {
    {is_too_wide_in_a_sheet,
     "is what a spreadsheet shows where its column is too narrow; limit: the number itself; widen "
     "the column and export again",
     0},
    {is_sheet_error, "is a spreadsheet's error value; limit: a number", 1},
    {is_too_wide,
     "is what Fortran prints where a number does not fit its field; limit: a number; widen the "
     "field",
     1},
    {is_not_finite, "is not a finite number; limit: a number", 1},
    {is_not_finite_of_old, "is not a finite number (NaN or infinity); limit: a number", 1},
    {is_word_for_nothing, "looks like a word for no value that is not declared; limit: a number",
     1},
    {is_switch,
     "is a text for yes or no, not a number; limit: a number; map another column, or take the role "
     "from this one",
     0},
    {is_hexadecimal, "is a hexadecimal number; limit: decimal numbers; export it so", 0},
    {is_in_brackets,
     "is a number in brackets, which may be negative; limit: a minus sign; export it so", 0},
    {is_formula,
     "is a spreadsheet's formula or a number forced to be text; limit: the number itself; export "
     "the values",
     0},
    {is_bound, "is a bound, not a value; limit: a number", 1},
    {has_dash,
     "has a dash in place of a minus sign; limit: - or U+2212 before the digits; correct the "
     "export",
     0},
    {is_doubtful_mark,
     "may have a decimal mark or one between thousands, which are a factor of 1000 apart; limit: "
     "the declared decimal mark and no thousands separators; declare decimal, or export without "
     "separators",
     0},
    {has_thousands_mark,
     "has a mark between thousands; limit: no thousands separators; export without them", 0},
    {has_thousands_quote,
     "has an apostrophe between thousands; limit: no thousands separators; export without them", 0},
    {has_thousands_blank,
     "has a blank between thousands; limit: no thousands separators; export without them", 0},
    {has_decimal_comma,
     "has a decimal comma; limit: the decimal mark of the channel map, a point; declare decimal: "
     "comma there",
     0},
    {has_decimal_point,
     "has a decimal point; limit: the decimal mark of the channel map, a comma; declare decimal: "
     "point there",
     0},
    {is_date_with_points,
     "has two decimal marks: a date, or marks between thousands; limit: a number; correct the "
     "export",
     0},
    {has_percent,
     "has a percent sign in the cell; limit: the bare number; take the sign out of the export and "
     "declare unit: \"%\"",
     0},
    {is_cut_exponent,
     "ends within its exponent; limit: a whole number; the cell was cut: export the log again", 0},
    {is_exponent_without_letter,
     "has an exponent without its letter, as Fortran prints three digits of it; limit: E or D "
     "before it; widen the field to E12.4E3",
     0},
    {has_sign_behind,
     "has its sign behind it; limit: the sign before the digits; correct the export", 0},
    {is_date,
     "is a date, as a spreadsheet makes of 3-1 or 1/2; limit: a number; export the log from the "
     "logger again",
     0},
    {is_clock, "is a clock time, not a number; limit: a number; map the column with role clock", 0},
    {has_invisible,
     "has an invisible character in it (a no-break blank or the like); limit: the bare number; "
     "correct the export",
     0},
    {has_unit,
     "has a unit in the cell; limit: the bare number; take the unit out of the export and declare "
     "it as unit in the channel map",
     0},
};

struct cell_trouble cell_trouble_of(const struct table_cell *cell, char decimal_mark)
{
    if (cell->length == 0)
        return (struct cell_trouble){NULL, 1};
    struct seen seen = take_apart(cell, decimal_mark);
    for (size_t i = 0; i < sizeof troubles / sizeof troubles[0]; i++)
        if (troubles[i].fits(&seen))
            return (struct cell_trouble){troubles[i].what, troubles[i].may_be_missing};
    return (struct cell_trouble){NULL, 0};
}
