/* what_if_print.h - deltas as they stand and without steps, as text or CSV. */
#ifndef LAPWING_WHAT_IF_PRINT_H
#define LAPWING_WHAT_IF_PRINT_H

#include "reduce/key_text.h"
#include "reduce/what_if.h"

/* A table, and a sentence that names the verdicts that flip, or says that none does. count: the size of a
 * count of a coefficient. */
void what_if_print_text(const struct what_if *made, double count, struct key_text *text);

/* A row a delta with both readings, below a row of titles and one of units. */
void what_if_print_csv(const struct what_if *made, double count, struct key_text *text);

#endif
