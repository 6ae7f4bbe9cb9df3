/* glance_words.h - places and amounts in the sentences of a verdict. */
#ifndef LAPWING_GLANCE_WORDS_H
#define LAPWING_GLANCE_WORDS_H

#include "reduce/key_text.h"
#include "schema/glance.h"

/* Points, by index in increasing order. */
struct glance_places {
    const int *points;
    size_t n;
};

/* "F20 R36", "F8 R24 and F8 R30", "5 points": the short form, targets by name. */
void glance_say_short(const struct glance *glance, const struct glance_places *places,
                      struct key_text *text);

/* "point 24 (F20 R36)", "points 3 (F8 R36), 7 (F10 R30) and 4 more". */
void glance_say_points(const struct glance *glance, const struct glance_places *places,
                       struct key_text *text);

/* "+7.2 counts", "0.31 %", in the unit a delta of the main metric is printed in. */
void glance_say_amount(const struct glance *glance, double amount, int with_sign,
                       struct key_text *text);

#endif
