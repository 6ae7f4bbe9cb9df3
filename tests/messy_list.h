/* messy_list.h - the list of what logs do in practice, and the fixture of each.
 *
 * What concerns whole files and the run sheet - packed, too long, other bytes below one name, dates that a
 * spreadsheet turned round - is in test_messy_files.c; the same bytes in two runs and one run number
 * twice in test_named_refusals.c. Not told, because nothing in a log tells it: whether a stamp stands at
 * the beginning or the end of its interval, and a run that was edited and exported again. */
#ifndef LAPWING_MESSY_LIST_H
#define LAPWING_MESSY_LIST_H

#include <stddef.h>

struct messy_reality {
    const char *what;
    const char *fixture; /* name in the tables of messy_cases.h */
};

enum { MESSY_CLASSES_MIN = 70 };

extern const struct messy_reality messy_realities[];
extern const size_t messy_realities_n;

#endif
