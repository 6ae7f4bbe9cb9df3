/* messy_cases.h - logs as they come, one of each class, and what must become of each.
 *
 * Every number in them is invented. The usual log has the columns t (s), pt, CD and CL; the map may be
 * changed by lines with '|' between them, and has comma, point and samples where it is not.         */
#ifndef LAPWING_MESSY_CASES_H
#define LAPWING_MESSY_CASES_H

#include <stddef.h>

enum messy_form { AS_IT_IS, MARKED_LITTLE, MARKED_BIG, PLAIN_LITTLE, PLAIN_BIG };

struct messy_case {
    const char *name;
    const char *map; /* "" for the usual one */
    const char *bytes;
    size_t size;          /* 0: up to the NUL */
    enum messy_form form; /* the bytes, or those characters as UTF-16 with or without a mark */
    const char *place;    /* of the refusal, ":3:9: "; NULL: the log is read */
    const char *words;    /* of the refusal; of a flag's detail when the log is read, or NULL */
    double value;         /* mean CL of the first point when it is read */
    double missing;       /* samples of it that are declared missing */
};

extern const struct messy_case messy_texts[];
extern const size_t messy_texts_n;
extern const struct messy_case messy_numbers[];
extern const size_t messy_numbers_n;
extern const struct messy_case messy_times[];
extern const size_t messy_times_n;
extern const struct messy_case messy_points[];
extern const size_t messy_points_n;
extern const struct messy_case messy_shapes[];
extern const size_t messy_shapes_n;
extern const struct messy_case messy_units[];
extern const size_t messy_units_n;

#endif
