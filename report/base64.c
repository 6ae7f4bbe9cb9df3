/* base64.c - see base64.h. */
#include "report/base64.h"

#include <string.h>

void base64_encode(const unsigned char *bytes, size_t n, char *out)
{
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    size_t at = 0;

    for (size_t i = 0; i < n; i += 3) {
        unsigned second = i + 1 < n ? bytes[i + 1] : 0;
        unsigned third = i + 2 < n ? bytes[i + 2] : 0;
        unsigned group = (unsigned)bytes[i] << 16 | second << 8 | third;
        out[at++] = digits[group >> 18 & 63];
        out[at++] = digits[group >> 12 & 63];
        out[at++] = i + 1 < n ? digits[group >> 6 & 63] : '=';
        out[at++] = i + 2 < n ? digits[group & 63] : '=';
    }
    out[at] = '\0';
}

static int digit_value(char digit)
{
    static const char lower[] = "0123456789abcdef";
    static const char upper[] = "0123456789ABCDEF";
    const char *found = digit != '\0' ? strchr(lower, digit) : NULL;

    if (found != NULL)
        return (int)(found - lower);
    found = digit != '\0' ? strchr(upper, digit) : NULL;
    return found != NULL ? (int)(found - upper) : -1;
}

size_t base64_bytes_from_hex(const char *hex, unsigned char *bytes, size_t limit)
{
    size_t n = strlen(hex) / 2;

    if (strlen(hex) % 2 != 0 || n > limit)
        return 0;
    for (size_t i = 0; i < n; i++) {
        int high = digit_value(hex[2 * i]);
        int low = digit_value(hex[2 * i + 1]);
        if (high < 0 || low < 0)
            return 0;
        bytes[i] = (unsigned char)(high * 16 + low);
    }
    return n;
}
