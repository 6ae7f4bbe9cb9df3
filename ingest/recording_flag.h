/* recording_flag.h - the cell of a column with the role recording: is the row recorded? */
#ifndef LAPWING_RECORDING_FLAG_H
#define LAPWING_RECORDING_FLAG_H

#include "ingest/cell_value.h"

/* The state that a cell tells: 0 for off (0, false, off, no), and for on 1 (true, on, yes) or the whole
 * number from 1 on that stands there, of a counter. Letters of either size. -1: it says nothing of the
 * kind; a word declared as missing says nothing either, nor does a number beyond 2^53. */
double recording_flag_state(const struct cell_reader *reader, const struct table_cell *cell);

/* The same for a word only: 0, 1, or -1 for any other text, numbers too. */
double recording_flag_word(const struct table_cell *cell);

#endif
