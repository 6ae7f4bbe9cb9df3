/* text_file.c - a buffer, and numbers made digit by digit. */
#include "sample_runs/text_file.h"

#include <math.h>
#include <string.h>

enum { DIGITS = 32 };

static void flush(struct text_file *text)
{
    if (fwrite(text->buffer, 1, text->used, text->file) != text->used)
        text->failed = 1;
    text->used = 0;
}

int text_open(struct text_file *text, const char *folder, const char *name)
{
    char path[1024];

    text->used = 0;
    text->failed = 0;
    int length = snprintf(path, sizeof path, "%s/%s", folder, name);
    text->file = length < (int)sizeof path ? fopen(path, "w") : NULL;
    if (text->file == NULL)
        (void)fprintf(stderr, "make_night: cannot write %s/%s\n", folder, name);
    return text->file != NULL;
}

void text_string(struct text_file *text, const char *string)
{
    size_t length = strlen(string);

    if (text->used + length > TEXT_BUFFER)
        flush(text);
    memcpy(text->buffer + text->used, string, length);
    text->used += length;
}

void text_fixed(struct text_file *text, double value, int decimals)
{
    static const double power[] = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8};
    char digits[DIGITS];
    int at = DIGITS - 1, made = 0;
    long long scaled = llround(value * power[decimals]);
    int negative = scaled < 0;

    digits[at] = '\0';
    scaled = negative ? -scaled : scaled;
    do {
        digits[--at] = (char)('0' + scaled % 10);
        scaled /= 10;
        if (++made == decimals)
            digits[--at] = '.';
    } while (scaled > 0 || made <= decimals);
    if (negative)
        digits[--at] = '-';
    text_string(text, digits + at);
}

void text_whole(struct text_file *text, int value)
{
    text_fixed(text, value, 0);
}

int text_close(struct text_file *text)
{
    flush(text);
    if (fclose(text->file) != 0)
        text->failed = 1;
    if (text->failed)
        (void)fprintf(stderr, "make_night: a file could not be written in full\n");
    return !text->failed;
}
