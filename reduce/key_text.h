/* key_text.h - the canonical text of everything a reduction depends on, built line by line.
 *
 * Its SHA-256 is the key of the reduction, and `lapwing explain` prints it, so it is written for
 * people: "name = value" lines in a fixed order. Numbers carry 17 digits, which read back as the
 * same double. A failed allocation is remembered and reported once, by key_text_status().          */
#ifndef LAPWING_KEY_TEXT_H
#define LAPWING_KEY_TEXT_H

#include <stddef.h>

#include "schema/fault.h"

struct key_text {
    char *text; /* owned; NULL until the first line */
    size_t length, capacity;
    int failed;
};

/* One line "name = value". A NAN is written "not given". */
void key_text_word(struct key_text *key, const char *name, const char *value);
void key_text_number(struct key_text *key, const char *name, double value);
/* "name = v1 v2 ..." */
void key_text_numbers(struct key_text *key, const char *name, const double *values, size_t n);

/* Appends formatted text as it is, without a line end; a piece of more than 1000 bytes is cut. */
void key_text_say(struct key_text *key, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* OK, or NO_MEMORY when a line was lost. */
enum status key_text_status(const struct key_text *key, struct fault *fault);
void key_text_end(struct key_text *key); /* frees the text; the struct may be used again */

#endif
