/* cell_refusal.h - the refusals of one cell, with the place and the name of its column. */
#ifndef LAPWING_CELL_REFUSAL_H
#define LAPWING_CELL_REFUSAL_H

#include "ingest/cell_value.h"
#include "ingest/header.h"
#include "ingest/text_table.h"

/* BAD_INPUT: the cell of the row is no number, or one out of range. */
enum status cell_refusal_number(const struct cell_reader *reader, const struct header *header,
                                const struct text_table *table, const struct table_row *row,
                                size_t cell, struct fault *fault);

/* BAD_INPUT: the cell of the row does not tell whether the row is recorded. */
enum status cell_refusal_recording(const struct header *header, const struct text_table *table,
                                   const struct table_row *row, size_t cell, struct fault *fault);

/* BAD_INPUT: the point's label, in this cell of the last row, holds a control character. */
enum status cell_refusal_label(const struct text_table *table, size_t cell,
                               const struct table_cell *label, struct fault *fault);

#endif
