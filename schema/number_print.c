/* number_print.c - printing numbers; see number.h.
 *
 * The fewest of 15 to 17 digits that read back the same double. All 17 are printed once; fewer are those,
 * rounded, and are read back to see. Only where what is cut off is a tie, which may be one or may only
 * look like one, are they asked for again: a table of a large night has millions of numbers. */
#include <float.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "schema/number.h"

enum { DIGITS_LEAST = 15, DIGITS_MOST = 17, TEXT_MOST = 64 };

/* d.ddd x 10^exponent */
struct decimal {
    char digits[DIGITS_MOST + 1];
    int n, exponent;
};

static int is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* snprintf() writes the locale's decimal mark, of one byte or more; ours is a point. */
static void put_point(char *text)
{
    char *mark = text + (text[0] == '-');
    while (is_digit(*mark))
        mark++;
    if (*mark == '\0' || *mark == 'e')
        return;
    char *rest = mark;
    while (*rest != '\0' && !is_digit(*rest))
        rest++;
    *mark = '.';
    memmove(mark + 1, rest, strlen(rest) + 1);
}

/* Of a normal number without its sign. */
static struct decimal decimal_of(double magnitude)
{
    struct decimal decimal = {.n = DIGITS_MOST};
    char text[TEXT_MOST];
    int n = 0;

    (void)snprintf(text, sizeof text, "%.*e", DIGITS_MOST - 1, magnitude);
    const char *at = text;
    for (; *at != '\0' && *at != 'e'; at++)
        if (is_digit(*at) && n < DIGITS_MOST)
            decimal.digits[n++] = *at;
    if (*at == 'e')
        at++;
    int is_negative = *at == '-';
    for (at++; is_digit(*at); at++)
        decimal.exponent = 10 * decimal.exponent + (*at - '0');
    if (is_negative)
        decimal.exponent = -decimal.exponent;
    return decimal;
}

/* Rounded to n digits; 0 where the digits cut off are a five and zeros. */
static int shorten(const struct decimal *all, int n, struct decimal *out)
{
    const char *rest = all->digits + n;
    int at = n;

    *out = *all;
    out->n = n;
    out->digits[n] = '\0';
    if (rest[0] == '5' && strspn(rest + 1, "0") == strlen(rest + 1))
        return 0;
    if (rest[0] < '5')
        return 1;
    while (at > 0 && out->digits[at - 1] == '9')
        out->digits[--at] = '0';
    if (at > 0) {
        out->digits[at - 1]++;
        return 1;
    }
    out->digits[0] = '1'; /* 9.99 became 10.0 */
    out->exponent++;
    return 1;
}

static int reads_back(const char *text, double value)
{
    double back = 0;

    return number_parse(text, strlen(text), '.', &back, NULL) == NUMBER_OK && back == value;
}

/* ---- text, piece by piece: printf() costs more than the digits ----------------------------------- */

static char *put(char *at, const char *bytes, int n)
{
    memcpy(at, bytes, (size_t)n);
    return at + n;
}

static char *put_zeros(char *at, int n)
{
    memset(at, '0', (size_t)n);
    return at + n;
}

/* e, sign, and two digits or three. */
static void put_exponent(char *at, int exponent)
{
    int size = exponent < 0 ? -exponent : exponent;

    *at++ = 'e';
    *at++ = exponent < 0 ? '-' : '+';
    if (size >= 100)
        *at++ = (char)('0' + size / 100);
    *at++ = (char)('0' + size / 10 % 10);
    *at++ = (char)('0' + size % 10);
    *at = '\0';
}

static int is_enough(const struct decimal *decimal, double magnitude)
{
    char text[TEXT_MOST];

    put_exponent(put(text, decimal->digits, decimal->n), decimal->exponent + 1 - decimal->n);
    return reads_back(text, magnitude);
}

/* As "%.*g" writes it, the precision being the number of digits. */
static void write_decimal(const struct decimal *decimal, int is_negative, char *at)
{
    const char *digits = decimal->digits;
    int n = decimal->n, exponent = decimal->exponent, whole = exponent + 1;

    while (n > 1 && digits[n - 1] == '0')
        n--;
    if (is_negative)
        *at++ = '-';
    if (exponent < -4 || exponent >= decimal->n) {
        *at++ = digits[0];
        if (n > 1)
            at = put(put(at, ".", 1), digits + 1, n - 1);
        put_exponent(at, exponent);
        return;
    }
    if (whole <= 0)
        at = put(put_zeros(put(at, "0.", 2), -whole), digits, n);
    else if (n <= whole)
        at = put_zeros(put(at, digits, n), whole - n);
    else
        at = put(put(put(at, digits, whole), ".", 1), digits + whole, n - whole);
    *at = '\0';
}

/* ---- which digits -------------------------------------------------------------------------------- */

/* A whole number over a small power of ten, both exact, so that their quotient is rounded once: as few
 * digits as these are those of the number, for there is no other text of 15 digits that reads as it. */
static int short_decimal(double magnitude, struct decimal *decimal)
{
    static const double powers[] = {1, 10, 100, 1e3, 1e4, 1e5, 1e6};
    char reversed[DIGITS_MOST];
    int n = 0;

    for (int k = 0; k < (int)(sizeof powers / sizeof powers[0]); k++) {
        double whole = nearbyint(magnitude * powers[k]);
        if (!(whole < 1e15) || whole < 1)
            continue;
        if (whole / powers[k] != magnitude)
            continue;
        for (uint64_t rest = (uint64_t)whole; rest > 0; rest /= 10)
            reversed[n++] = (char)('0' + rest % 10);
        for (int i = 0; i < DIGITS_LEAST; i++)
            decimal->digits[i] = i < n ? reversed[n - 1 - i] : '0';
        decimal->n = DIGITS_LEAST;
        decimal->exponent = n - 1 - k;
        return 1;
    }
    return 0;
}

/* What has no seventeen digits, or a tie: each number of digits in turn. Any 15 digits survive the way to
 * a double and back, but not among the subnormal ones. */
static void print_by_trial(double value, char text[TEXT_MOST])
{
    int digits = fabs(value) < DBL_MIN ? 1 : DIGITS_LEAST;

    for (; digits <= DIGITS_MOST; digits++) {
        (void)snprintf(text, TEXT_MOST, "%.*g", digits, value);
        put_point(text);
        if (reads_back(text, value))
            return;
    }
}

static int print_shortest(double value, char text[TEXT_MOST])
{
    struct decimal all, decimal;

    if (short_decimal(fabs(value), &decimal)) {
        write_decimal(&decimal, value < 0, text);
        return 1;
    }
    all = decimal_of(fabs(value));
    for (int n = DIGITS_LEAST; n < DIGITS_MOST; n++) {
        if (!shorten(&all, n, &decimal))
            return 0;
        if (is_enough(&decimal, fabs(value))) {
            write_decimal(&decimal, value < 0, text);
            return 1;
        }
    }
    write_decimal(&all, value < 0, text);
    return 1;
}

int number_print(double value, char *out, size_t size)
{
    char text[TEXT_MOST];

    if (value == 0)
        return snprintf(out, size, "0");
    if (!isnormal(value) || !print_shortest(value, text))
        print_by_trial(value, text);
    size_t length = strlen(text);
    if (length >= size)
        return snprintf(out, size, "%s", text);
    memcpy(out, text, length + 1);
    return (int)length;
}

int number_print_fixed(double value, int decimals, char *out, size_t size)
{
    char text[384]; /* the largest double has 309 digits before its mark */
    (void)snprintf(text, sizeof text, "%.*f", decimals, value);
    put_point(text);
    int is_zero = strspn(text, "-0.") == strlen(text);
    return snprintf(out, size, "%s", is_zero && text[0] == '-' ? text + 1 : text);
}
