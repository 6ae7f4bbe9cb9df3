/* drawn_cell.h - an interval in a table's cell as it is drawn, and the word that follows from the drawing. */
#ifndef LAPWING_TEST_DRAWN_CELL_H
#define LAPWING_TEST_DRAWN_CELL_H

#include "tests/svg_axis.h"

struct drawn_cell {
    double lower, upper, value; /* on the axis */
    double strip;               /* its half-width on the axis; NAN: none is drawn */
    int is_hollow;
    const char *svg; /* its tag */
};

/* The axis in a column's head: three marks and what is written at them. */
struct svg_axis drawn_head_axis(struct svg head);

/* Where no axis is printed: by the zero line and the strip, whose half-width is printed in words. */
struct svg_axis drawn_strip_axis(struct svg cell, double strip);

/* 0 when no interval is drawn. Asserts that ends are in order, zero is at zero, caps stand at the ends, and
 * that the dot is hollow where zero is within what is drawn. */
int drawn_cell_read(struct svg cell, const struct svg_axis *axis, struct drawn_cell *out);

/* The decided rule, written once more: an interval wholly inside the strip is no change that matters; else
 * one without zero is a gain or a loss by the better side ("higher", "lower"), or changed; else it can't be
 * told yet. */
const char *drawn_word(const struct drawn_cell *cell, const char *better);

/* 1 when no end is so near to zero or to the strip's edge that the drawing leaves the word open. */
int drawn_is_told(const struct drawn_cell *cell, const struct svg_axis *axis);

/* The word of the first chip between from and stop; asserts that chip and symbol are those of the word. */
void drawn_chip(const char *from, const char *stop, char out[40]);

/* Asserts that the cell has the tone of the word: better, worse, neither, or not to be told. */
void drawn_tone(const struct drawn_cell *cell, const char *word);

#endif
