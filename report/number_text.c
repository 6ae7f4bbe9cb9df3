/* number_text.c - see number_text.h. */
#include "report/number_text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/number.h"

static const char minus[] = "\xE2\x88\x92";      /* U+2212 */
static const char thin_space[] = "\xE2\x80\xAF"; /* U+202F, does not break */
static const char plus_minus[] = "\xC2\xB1 ";    /* U+00B1 */

static struct number_text not_available(void)
{
    return (struct number_text){"n/a"};
}

/* 1 when only zeros are printed, so that "-0.0" never shows. */
static int prints_zero(const char *digits)
{
    return strspn(digits, "-0.") == strlen(digits);
}

static struct number_text with_sign(double value, int decimals, const char *positive)
{
    struct number_text result;
    char digits[48];

    if (!isfinite(value) || fabs(value) >= 1e15)
        return not_available();
    (void)number_print_fixed(value, decimals, digits, sizeof digits);
    const char *unsigned_digits = digits[0] == '-' ? digits + 1 : digits;
    const char *sign = digits[0] == '-' ? minus : positive;
    if (prints_zero(digits))
        sign = "";
    (void)snprintf(result.text, sizeof result.text, "%s%s", sign, unsigned_digits);
    return result;
}

struct number_text number_text_plain(double value, int decimals)
{
    return with_sign(value, decimals, "");
}

struct number_text number_text_delta(double value, int decimals)
{
    return with_sign(value, decimals, "+");
}

struct number_text number_text_declared(double value)
{
    int decimals = 0;

    while (decimals < 6 &&
           fabs(value - round(value * pow(10, decimals)) / pow(10, decimals)) > 1e-9 * fabs(value))
        decimals++;
    return number_text_plain(value, decimals);
}

int number_text_decimals(double half_width, int fallback)
{
    if (!isfinite(half_width) || !(half_width >= 0.5 * pow(10, -(fallback + 2))))
        return fallback;
    int decimals = 1 - (int)floor(log10(half_width));
    if (decimals > 0 && decimals <= 9 && round(half_width * pow(10, decimals)) >= 100)
        decimals--;
    if (decimals < 0)
        return 0;
    return decimals > 9 ? 9 : decimals;
}

struct number_text number_text_width(double half_width, int fallback)
{
    int decimals = number_text_decimals(half_width, fallback);
    struct number_text width = number_text_plain(half_width, decimals);
    struct number_text result = {""};

    if (!isfinite(half_width))
        return result;
    if (prints_zero(width.text))
        (void)snprintf(result.text, sizeof result.text, "%s<%.24s", plus_minus,
                       number_text_plain(pow(10, -decimals), decimals).text);
    else
        (void)snprintf(result.text, sizeof result.text, "%s%.24s", plus_minus, width.text);
    return result;
}

struct number_text number_text_pair(double delta, double half_width, int fallback)
{
    int decimals = number_text_decimals(half_width, fallback);
    struct number_text value = number_text_delta(delta, decimals);
    struct number_text result;

    if (!isfinite(delta) || !isfinite(half_width))
        return value;
    (void)snprintf(result.text, sizeof result.text, "%.24s %.36s", value.text,
                   number_text_width(half_width, fallback).text);
    return result;
}

struct number_text number_text_range(double low, double high, int decimals)
{
    struct number_text first = number_text_plain(low, decimals);
    struct number_text last = number_text_plain(high, decimals);
    struct number_text result;

    if (strcmp(first.text, last.text) == 0)
        return first;
    (void)snprintf(result.text, sizeof result.text, "%.24s to %.24s", first.text, last.text);
    return result;
}

struct number_text number_text_size(double bytes)
{
    int is_small = bytes < 1e5;
    struct number_text result;

    (void)snprintf(result.text, sizeof result.text, "%.24s %s",
                   number_text_plain(bytes / (is_small ? 1e3 : 1e6), 1).text,
                   is_small ? "kB" : "MB");
    return result;
}

struct number_text number_text_whole(long long value)
{
    struct number_text result = {""};
    char digits[32];
    size_t at = 0;
    int n = snprintf(digits, sizeof digits, "%llu",
                     value < 0 ? 0ULL - (unsigned long long)value : (unsigned long long)value);

    if (value < 0)
        at = (size_t)snprintf(result.text, sizeof result.text, "%s", minus);
    for (int i = 0; i < n; i++) {
        if (i > 0 && (n - i) % 3 == 0) {
            memcpy(result.text + at, thin_space, sizeof thin_space - 1);
            at += sizeof thin_space - 1;
        }
        result.text[at++] = digits[i];
    }
    result.text[at] = '\0';
    return result;
}
