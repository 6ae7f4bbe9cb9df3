/* title_lines.h - lines that are no row: comments, and the titles of blocks.
 *
 * Some files hold several tables below each other, each under a line that says what it is:
 *
 *   # M = 0.15                      a comment, with the mark "#"
 *   zone, t="80 grit"               a title, with the mark "zone": 80 grit
 *   -4.04  -.4417  .00871           a row of it
 *
 * One log is one block; the others are passed over.                                               */
#ifndef LAPWING_TITLE_LINES_H
#define LAPWING_TITLE_LINES_H

#include <stddef.h>

#include "ingest/text_lines.h"
#include "schema/fault.h"

struct title_lines {
    const char *comment, *blocks, *block; /* as struct table_format says */
    int in_block;                         /* 1: rows that follow are wanted */
    size_t found_line;                    /* of the wanted block's title; 0 before it */
    char titles[240];                     /* those passed over, for a message */
};

struct title_lines title_lines_for(const char *comment, const char *blocks, const char *block);

/* *is_row is 1 when the line is a row to be read, 0 when it is to be passed over. BAD_INPUT, without a
 * place: a second block where none was named, or a second one of the wanted title. */
enum status title_lines_take(struct title_lines *titles, const struct text_line *line, int *is_row,
                             struct fault *fault);

/* At the end of the file: BAD_INPUT once, without a place, when the wanted block was not there. */
enum status title_lines_finish(struct title_lines *titles, struct fault *fault);

/* The title in a line that begins with a mark of this length; points into the line. */
const char *title_of_line(const char *text, size_t length, size_t mark, size_t *title_length);

#endif
