/* line_bytes.h - the bytes that a line of text cannot have. */
#ifndef LAPWING_LINE_BYTES_H
#define LAPWING_LINE_BYTES_H

#include "ingest/text_lines.h"
#include "schema/fault.h"

/* BAD_INPUT with file:line:column for a NUL byte, a carriage return inside the line, or a byte that is
 * not UTF-8. map is the name of the log's channel map, where another encoding may be declared; NULL
 * for a sheet. */
enum status line_bytes_check(const struct text_line *line, const char *file, const char *map,
                             struct fault *fault);

#endif
