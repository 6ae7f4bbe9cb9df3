/* terminal_text.h - text for a terminal: what would command it is shown instead, columns line up. */
#ifndef LAPWING_REPORT_TERMINAL_TEXT_H
#define LAPWING_REPORT_TERMINAL_TEXT_H

#include "report/buffer.h"

/* Adds text with its control characters, and bytes that are not UTF-8, shown as \x1b or \u202e. */
void terminal_text(struct buffer *out, const char *text);

/* The same in a column of at least width characters, and a blank after it; text stands at the left, or
 * at the right when is_number. */
void terminal_cell(struct buffer *out, const char *text, size_t width, int is_number);

/* Characters that terminal_text() would show. */
size_t terminal_width(const char *text);

#endif
