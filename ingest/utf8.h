/* utf8.h - is a run of bytes well-formed UTF-8? */
#ifndef LAPWING_UTF8_H
#define LAPWING_UTF8_H

#include <stddef.h>

/* Offset of the first byte that does not belong to well-formed UTF-8, or length when all is well.
 * Overlong forms, surrogates and what lies beyond U+10FFFF are not well-formed.
 * Source: RFC 3629 (2003), section 4, the ABNF. */
size_t utf8_valid_length(const char *text, size_t length);

/* Characters (code points) in the first length bytes of well-formed text; of other text, the bytes
 * that are not continuation bytes. */
size_t utf8_characters(const char *text, size_t length);

#endif
