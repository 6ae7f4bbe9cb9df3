/* init_scaffold.h - the files that `lapwing init` writes, as lines of text. */
#ifndef LAPWING_INIT_SCAFFOLD_H
#define LAPWING_INIT_SCAFFOLD_H

#include <stddef.h>

struct scaffold_file {
    const char *name;         /* relative to the campaign folder */
    const char *const *lines; /* without their line ends; NULL ends the list */
};

/* All of them, *n. */
const struct scaffold_file *init_scaffold(size_t *n);

#endif
