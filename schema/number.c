/* number.c - reading and printing numbers; see number.h.
 *
 * Most numbers of a log have few digits: mantissa and power of ten are then exact doubles and one
 * multiplication or division rounds once, correctly (W. D. Clinger, How to read floating point
 * numbers accurately, 1990). The rest is handed to strtod() as digits and exponent without any
 * decimal mark, so that the locale has nothing to say. */
#include "schema/number.h"

#include <float.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    EXACT_POWER_MAX = 22,    /* 10^22 is the largest power of ten that is an exact double */
    MANTISSA_DIGITS = 19,    /* that many digits always fit into 64 bits */
    SIGNIFICANT_MAX = 800,   /* a double and the middle between two have at most 767 digits */
    EXPONENT_MAX = 100000000 /* larger ones are counted as this one: zero or overflow */
};

static const uint64_t exact_mantissa_max = (uint64_t)1 << 53;

static const double powers_of_ten[EXACT_POWER_MAX + 1] = {
    1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
    1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

/* A number taken apart: digits * 10^exponent. */
struct parts {
    int negative;
    size_t n_digits;    /* of the mantissa, leading zeros and all */
    size_t significant; /* digits from the first that is not zero */
    uint64_t mantissa;  /* of the first 19 significant digits */
    int64_t exponent;   /* of the last digit read */
    const char *first;  /* first significant digit in the text, NULL for zero */
};

static int is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static void take_digit(struct parts *parts, const char *at)
{
    parts->n_digits++;
    if (parts->first == NULL && *at == '0')
        return;
    if (parts->first == NULL)
        parts->first = at;
    if (parts->significant < MANTISSA_DIGITS)
        parts->mantissa = parts->mantissa * 10 + (uint64_t)(*at - '0');
    parts->significant++;
}

static size_t take_mantissa(struct parts *parts, const char *text, size_t at, size_t length,
                            char mark)
{
    for (; at < length && is_digit(text[at]); at++)
        take_digit(parts, &text[at]);
    if (at >= length || text[at] != mark)
        return at;
    for (at++; at < length && is_digit(text[at]); at++) {
        take_digit(parts, &text[at]);
        parts->exponent--;
    }
    return at;
}

/* Reads e[+-]digits at offset at, if it is there; *whole is 0 when it is cut short. */
static size_t take_exponent(struct parts *parts, const char *text, size_t at, size_t length,
                            int *whole)
{
    *whole = 1;
    if (at >= length || (text[at] != 'e' && text[at] != 'E'))
        return at;
    at++;
    int negative = at < length && text[at] == '-';
    if (at < length && (text[at] == '-' || text[at] == '+'))
        at++;
    *whole = at < length && is_digit(text[at]);
    int64_t exponent = 0;
    for (; at < length && is_digit(text[at]); at++)
        if (exponent < EXPONENT_MAX)
            exponent = exponent * 10 + (text[at] - '0');
    parts->exponent += negative ? -exponent : exponent;
    return at;
}

static int exact(const struct parts *parts, double *value)
{
    if (parts->significant > MANTISSA_DIGITS || parts->mantissa > exact_mantissa_max)
        return 0;
    if (parts->exponent < -EXACT_POWER_MAX || parts->exponent > EXACT_POWER_MAX)
        return 0;
    double mantissa = (double)parts->mantissa;
    *value = parts->exponent < 0 ? mantissa / powers_of_ten[-parts->exponent]
                                 : mantissa * powers_of_ten[parts->exponent];
    return 1;
}

/* What lies beyond the digits that can matter is kept as a last digit: 1 for more than nothing. */
static double rounded(const struct parts *parts)
{
    char plain[SIGNIFICANT_MAX + 32];
    size_t n = 0;
    char rest = '0';
    const char *at = parts->first;
    for (size_t taken = 0; taken < parts->significant; at++) {
        if (!is_digit(*at))
            continue; /* the decimal mark */
        if (n < SIGNIFICANT_MAX)
            plain[n++] = *at;
        else if (*at != '0')
            rest = '1';
        taken++;
    }
    int64_t exponent = parts->exponent + (int64_t)(parts->significant - n) - 1;
    plain[n++] = rest;
    if (exponent > EXPONENT_MAX)
        exponent = EXPONENT_MAX;
    if (exponent < -EXPONENT_MAX)
        exponent = -EXPONENT_MAX;
    (void)snprintf(plain + n, sizeof plain - n, "e%lld", (long long)exponent);
    return strtod(plain, NULL);
}

enum number_outcome number_parse(const char *text, size_t length, char decimal_mark, double *value,
                                 size_t *stop)
{
    struct parts parts = {0};
    size_t unused = 0;
    size_t *end = stop != NULL ? stop : &unused;
    int whole = 1;

    *end = 0;
    if (length == 0)
        return NUMBER_EMPTY;
    parts.negative = text[0] == '-';
    *end = take_mantissa(&parts, text, text[0] == '-' || text[0] == '+', length, decimal_mark);
    if (parts.n_digits == 0)
        return NUMBER_MALFORMED;
    *end = take_exponent(&parts, text, *end, length, &whole);
    if (!whole || *end != length)
        return NUMBER_MALFORMED;
    double magnitude = 0;
    if (parts.first != NULL && !exact(&parts, &magnitude))
        magnitude = rounded(&parts);
    if (isinf(magnitude))
        return NUMBER_OVERFLOW;
    *value = parts.negative ? -magnitude : magnitude;
    return NUMBER_OK;
}
