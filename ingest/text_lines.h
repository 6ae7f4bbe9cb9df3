/* text_lines.h - bytes to physical lines, counted, with memory that does not grow with the file.
 *
 * One buffer of a mebibyte; what is left of a line at its end is carried to the front before the
 * next read. LF and CR LF both end a line. Where the first mebibyte has no line feed at all but a
 * carriage return, carriage returns end the lines of the whole file. A UTF-8 byte-order mark at the
 * very beginning is dropped; UTF-16 is refused by name here, and transcoded before (decoded_source.h)
 * where a channel map may declare it.                                                              */
#ifndef LAPWING_TEXT_LINES_H
#define LAPWING_TEXT_LINES_H

#include <stddef.h>

#include "ingest/byte_source.h"
#include "schema/fault.h"

enum { LINE_LENGTH_MAX = 1 << 20 }; /* bytes, without the line's end */

struct text_line {
    char *text;     /* belongs to the lines, valid until the next call */
    size_t length;  /* without its end: LF, CR LF or CR */
    size_t number;  /* from 1 */
    int terminated; /* 0: the file ends without a line end here */
};

struct text_lines;

/* name is the file as the user knows it, for messages; copied. On OK the caller owns *lines and ends
 * it with text_lines_close(). The source must outlive the lines. */
enum status text_lines_open(struct byte_source source, const char *name, struct text_lines **lines,
                            struct fault *fault);

/* *got is 1 with a line, 0 at the end. BAD_INPUT: UTF-16, a line longer than LINE_LENGTH_MAX,
 * or a line feed in a file whose lines end in carriage returns;
 * after it there is nothing more to read. */
enum status text_lines_next(struct text_lines *lines, struct text_line *line, int *got,
                            struct fault *fault);
const char *text_lines_name(const struct text_lines *lines);
void text_lines_close(struct text_lines *lines); /* NULL is fine */

#endif
