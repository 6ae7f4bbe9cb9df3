/* sniff.h - everything that was guessed about an unknown log, each guess with its reason.
 *
 * Order of the work: bytes to lines (sniff_text), what is no row (sniff_titles), delimiter, decimal mark and head (sniff_shape), the
 * columns' contents (sniff_columns), what each column means (sniff_roles), what a row is (sniff_rows).
 * Nothing here decides: the user reviews what is printed, and the strict reader judges the map.    */
#ifndef LAPWING_SNIFF_H
#define LAPWING_SNIFF_H

#include <stddef.h>

#include "ingest/cell_list.h"
#include "ingest/sniff_text.h"
#include "schema/campaign.h"
#include "schema/fault.h"
#include "schema/role.h"
#include "schema/units.h"

enum confidence { CONFIDENCE_NONE, CONFIDENCE_GUESS, CONFIDENCE_LIKELY, CONFIDENCE_SURE };

enum { SNIFF_CELL = 32, SNIFF_WORDS = 8, SNIFF_SENTENCE = 200 };

struct sniff_column {
    char *name;       /* as the strict reader makes it: trimmed, two rows joined with a blank */
    size_t bare;      /* bytes of the name without the unit in it */
    char *unit;       /* as written: in the unit row, else in the name; NULL when nowhere */
    int unit_in_name; /* 1: it stands in the name only */
    const char *words_unit; /* that the name's last words are, where none is written; else NULL */

    size_t n_numbers, n_missing, n_other; /* cells of the rows of data */
    size_t n_whole, n_clock;              /* numbers without a fraction; texts H:M:S */
    size_t n_flag;                        /* cells that a recording flag may hold */
    size_t n_empty;                       /* missing cells without a character */
    size_t last_number;                   /* row, from 1, of the last number */
    size_t spacing, n_spaced; /* rows from the first number to the next; and as many as that */
    size_t n_rises, n_falls, n_changes; /* from one row to the next; changes of the text */
    double min, max;                    /* of the numbers, NAN without one */
    double previous;
    char first[SNIFF_CELL], last[SNIFF_CELL];

    enum role role; /* ROLE_COUNT: none; ROLE_TAP: one of a family of taps */
    enum map_statistic statistic;
    enum confidence confidence;
    enum map_hold hold;       /* proposed */
    char proposed_unit[8];    /* "" when the log tells the unit, or nothing can be proposed */
    char why[SNIFF_SENTENCE]; /* of the role, or why there is none */
    const char *of;           /* the column an sd with the role other belongs to, else NULL */
    int may_be_kept;          /* 1: without a role, but the role other would keep it */
    int unit_is_known;        /* of such a column */
};

struct sniff_shape {
    char delimiter;
    double delimiter_score; /* share of rows of one length times share of numbers in them */
    char second;            /* the delimiter that comes nearest, 0 when none does */
    double second_score;
    char decimal_mark;
    size_t n_point, n_comma; /* numbers with either mark */
    int decimal_doubtful;    /* 1: none has a mark, both are there, or thousands are possible */
    size_t n;                /* cells of a row */
    size_t widest;           /* cells of a row that is too long to be looked at; 0: none */
    int trailing;            /* 1: rows end in more delimiters than the names; n is of the names */
    size_t first_name;       /* line number, from 0, of the first row of names */
    unsigned name_rows;
    int unit_row;
    size_t first_data; /* line number, from 0 */
};

struct sniff_rows {
    size_t n;                     /* rows of data */
    size_t n_wrong, first_wrong;  /* with another number of cells; its line, from 1 */
    int last_complete;            /* the last line has all cells and a line end */
    size_t first_line, last_line; /* from 1 */
    enum map_rows kind;
    enum confidence confidence;
    int point_by_row;
    const char *why;
    size_t time_column;            /* SIZE_MAX when no column tells the time */
    double rate;                   /* Hz, NAN when not known */
    double step;                   /* s, median */
    size_t n_gaps, n_back, n_same; /* steps over 1.5 medians, below 0, and 0 */
    size_t n_wraps;                /* of a clock: back by more than half a day */
    double largest_gap;            /* s */
    size_t largest_line;           /* from 1 */
};

/* What is no row, and is passed over by the steps after it. */
struct sniff_titles {
    char comment[4]; /* lines that begin so are comments; "" when there are none */
    size_t n_comments;
    char blocks[8]; /* lines that begin so are titles of blocks; "" when there are none */
    size_t n_blocks;
    size_t first_title;     /* line of the first block's title, from 0 */
    char title[SNIFF_CELL]; /* of the first block */
    size_t variables;       /* line VARIABLES=, from 0; SIZE_MAX when there is none */
    char *passed;           /* 1 for each line that is passed over */
    char **names;           /* of the columns, when no row of the log holds them; NULL: one does */
    size_t n_names;
    const char *names_why; /* where they were found */
    int names_are_numbers; /* 1: nothing names them; they are numbered */
};

struct sniff {
    struct sniff_text text;
    struct sniff_titles titles;
    struct sniff_shape shape;
    struct sniff_column *columns;
    struct sniff_rows rows;
    char words[SNIFF_WORDS][SNIFF_CELL]; /* texts that look like "missing" */
    size_t n_words;
    size_t n_taps;
    enum map_taps taps_measured;
    struct units *units;
    struct cell_list cells; /* of the line cut last */
    char *scratch;
    size_t scratch_size;
};

/* Looks at bytes[0..size). On OK the caller owns *sniff and ends it with sniff_free(). BAD_INPUT: it
 * cannot be read as a table; the text says why. */
enum status sniff_bytes(const unsigned char *bytes, size_t size, struct sniff **sniff,
                        struct fault *fault);
void sniff_free(struct sniff *sniff); /* NULL is fine */

/* Cuts line number `line` (from 0) into sniff->cells, without empty cells beyond shape.n where
 * shape.trailing is set; 0 when quotes are wrong or memory ends. */
int sniff_cut(struct sniff *sniff, size_t line, char delimiter);

/* 1 when the line (from 0) holds blanks and tabs at most, or is passed over as no row. */
int sniff_line_is_empty(const struct sniff *sniff, size_t line);

/* The first line that is not empty, from `line` on; text.n_lines at the end. */
size_t sniff_filled_line(const struct sniff *sniff, size_t line);

/* The steps, in this order; each fills its part. */
enum status sniff_find_shape(struct sniff *sniff, struct fault *fault);
enum status sniff_read_columns(struct sniff *sniff, struct fault *fault);
void sniff_find_roles(struct sniff *sniff);
enum status sniff_find_rows(struct sniff *sniff, struct fault *fault);

/* "comma", "tab" ..., as campaign.yaml writes it. */
const char *sniff_delimiter_name(char delimiter);
const char *sniff_confidence_name(enum confidence confidence);

#endif
