/* repeat_section.h - what campaign.yaml says of repeats: by which channels two points are the same.
 *
 *   repeats: {match: {tsr_nom: 0.001, air_speed: 0.01 m/s}}
 *
 * A key is a role, or a column with the role other; its value how far two points may be apart in it. The
 * attitudes' tolerances hold beside. Without the section nothing is looked for.                     */
#ifndef LAPWING_REPEAT_SECTION_H
#define LAPWING_REPEAT_SECTION_H

#include <stddef.h>

struct repeat_match {
    char *channel;    /* name of a role, or of a column; owned */
    double tolerance; /* in unit */
    const char *unit; /* SI, a constant text; NULL where it could not be told, which is reported */
};

struct repeat_section {
    int given;                    /* 1: the section is there */
    struct repeat_match *matches; /* owned */
    size_t n;
};

void repeat_section_end(struct repeat_section *repeats); /* frees what it holds */

#endif
