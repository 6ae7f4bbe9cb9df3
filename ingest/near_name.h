/* near_name.h - is a name in a log nearly the one that is looked for? */
#ifndef LAPWING_NEAR_NAME_H
#define LAPWING_NEAR_NAME_H

#include <stddef.h>

/* In words how the two differ: "in an invisible character", "in capitals", "in blanks, underscores or
 * hyphens", "by being cut short", "in a letter or two", but never in a digit. NULL when they are the same or not near. Both
 * are well-formed UTF-8 of the given lengths; no allocation. */
const char *near_name_difference(const char *wanted, size_t wanted_length, const char *seen,
                                 size_t seen_length);

/* Letters to put in, take out or change to make one name of the other; capitals count for nothing
 * against small letters. Names longer than 120 bytes are as far apart as they are long. */
size_t near_name_distance(const char *a, size_t a_length, const char *b, size_t b_length);

#endif
