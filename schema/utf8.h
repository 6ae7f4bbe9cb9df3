/* utf8.h - is a run of bytes well-formed UTF-8, and what are its characters?
 *
 * Control characters are C0, DEL, C1 and the marks that turn the direction of writing: in a name they
 * change what a terminal shows, not what is compared.                                              */
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

/* Bytes of the character at text and its code point in *point; 0, and *point the byte, when it is not
 * well-formed. length > 0. */
size_t utf8_character(const char *text, size_t length, unsigned *point);

/* 1 for C0, DEL, C1 (U+0080 .. U+009F), U+202A .. U+202E and U+2066 .. U+2069.
 * Source: The Unicode Standard 15.0 (2022), 23.1 control codes; UAX #9, table 1, explicit formatting
 * characters (the embeddings, overrides and isolates). */
int utf8_is_control(unsigned point);

/* Offset of the first control character of a text that ends in NUL, and the character in *point;
 * strlen(text) and 0 when there is none. */
size_t utf8_find_control(const char *text, unsigned *point);

/* 1 for what shows as nothing or as a blank without being one: no-break and thin spaces (U+00A0,
 * U+2000 .. U+200A, U+202F, U+205F, U+3000), soft hyphen U+00AD, zero-width characters and marks of
 * direction U+200B .. U+200F, word joiner U+2060 and the byte-order mark U+FEFF. */
int utf8_is_invisible(unsigned point);

/* Writes the character as UTF-8 and gives its bytes, 1 to 4. point <= U+10FFFF and no surrogate.
 * Source: RFC 3629 (2003), section 3. */
size_t utf8_write(unsigned point, unsigned char out[4]);

#endif
