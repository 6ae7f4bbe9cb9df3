/* sniff_text.h - the bytes of an unknown log as UTF-8 lines, with what was found on the way.
 *
 * The strict reader refuses what it does not know; this one takes every byte and tells what it took it
 * for. The whole text is kept in memory, at most SNIFF_BYTES_MAX of it.                            */
#ifndef LAPWING_SNIFF_TEXT_H
#define LAPWING_SNIFF_TEXT_H

#include <stddef.h>

#include "schema/fault.h"

enum { SNIFF_BYTES_MAX = 256 << 20 };

enum sniff_encoding {
    SNIFF_ASCII,
    SNIFF_UTF8,
    SNIFF_UTF16_LE,
    SNIFF_UTF16_BE,
    SNIFF_WINDOWS_1252, /* suspected: high bytes that are not UTF-8 */
    SNIFF_ENCODINGS
};

struct sniff_line {
    size_t begin; /* offset in the text */
    size_t length;
};

struct sniff_text {
    char *text; /* UTF-8, without byte-order mark; length bytes and a NUL */
    size_t length;
    size_t bytes; /* of the file, as far as it was read */
    struct sniff_line *lines;
    size_t n_lines;
    enum sniff_encoding encoding;
    int has_mark;                       /* 1: begins with a byte-order mark */
    size_t high_bytes;                  /* above 0x7F; of UTF-16, 0 */
    size_t degree_signs, micro_signs;   /* in the text, whatever the encoding */
    size_t ends_lf, ends_crlf, ends_cr; /* line ends of each kind */
    int terminated;                     /* 1: the last line has a line end */
    size_t nul_bytes;                   /* in a text that is not UTF-16: no text at all */
    char separator;                     /* of a first line "sep=;", else 0 */
};

/* Reads bytes[0..size), which need not live on. On OK the caller ends *text with sniff_text_free().
 * BAD_INPUT: no bytes, or NUL bytes in what is not UTF-16. */
enum status sniff_text_read(const unsigned char *bytes, size_t size, struct sniff_text *text,
                            struct fault *fault);
void sniff_text_free(struct sniff_text *text);

/* "UTF-8", "Windows-1252 (suspected)" ... */
const char *sniff_encoding_name(enum sniff_encoding encoding);

#endif
