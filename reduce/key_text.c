/* key_text.c - building the canonical inputs of a reduction; see key_text.h. */
#include "reduce/key_text.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

static void append(struct key_text *key, const char *text)
{
    size_t size = strlen(text);
    if (key->failed)
        return;
    void *array = key->text;
    if (array_reserve(&array, &key->capacity, key->length + size + 1, 1, NULL) != OK) {
        key->failed = 1;
        return;
    }
    key->text = array;
    memcpy(key->text + key->length, text, size + 1);
    key->length += size;
}

static void append_number(struct key_text *key, double value)
{
    char number[32];
    if (isnan(value)) {
        append(key, "not given");
        return;
    }
    (void)snprintf(number, sizeof number, "%.17g", value);
    append(key, number);
}

void key_text_word(struct key_text *key, const char *name, const char *value)
{
    append(key, name);
    append(key, " = ");
    append(key, value);
    append(key, "\n");
}

void key_text_number(struct key_text *key, const char *name, double value)
{
    key_text_numbers(key, name, &value, 1);
}

void key_text_numbers(struct key_text *key, const char *name, const double *values, size_t n)
{
    append(key, name);
    append(key, " =");
    for (size_t i = 0; i < n; i++) {
        append(key, " ");
        append_number(key, values[i]);
    }
    append(key, "\n");
}

void key_text_say(struct key_text *key, const char *format, ...)
{
    char piece[1024];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(piece, sizeof piece, format, arguments);
    va_end(arguments);
    append(key, piece);
}

enum status key_text_status(const struct key_text *key, struct fault *fault)
{
    if (key->failed)
        return FAIL(fault, NO_MEMORY, "no memory for the inputs of a reduction");
    return OK;
}

void key_text_end(struct key_text *key)
{
    free(key->text);
    *key = (struct key_text){NULL, 0, 0, 0};
}
