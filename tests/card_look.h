/* card_look.h - sheets of loadings for `lapwing calibrate`, and what its card says. */
#ifndef LAPWING_TEST_CARD_LOOK_H
#define LAPWING_TEST_CARD_LOOK_H

#include <stddef.h>

/* Runs calibrate on folder/NAME.csv with these options and --write folder/NAME; gives its exit status, what it
 * printed in out (PROGRAM_OUTPUT). */
int card_make(char *out, const char *folder, const char *name, const char *options);

enum card_column { CARD_VALUE = 3, CARD_ERROR, CARD_INFLATION, CARD_T };

/* A number of folder/NAME_card.csv: load "Fx", item "term Fx*Fx"; -1e99 and a failed check when there is none. */
double card_number(const char *folder, const char *name, const char *load, const char *item,
                   enum card_column column);

#endif
