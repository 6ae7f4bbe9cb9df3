/* groups.h - runs that belong together: of one configuration, or of one family, in one entry. */
#ifndef LAPWING_GROUPS_H
#define LAPWING_GROUPS_H

#include <stddef.h>

#include "reduce/night.h"

/* The usable wind-on runs of a group, in time order; runs of the same start keep sheet order. */
struct run_group {
    char *subject;    /* "facility/entry/configuration" or "facility/entry/baseline" */
    const char *name; /* configuration or baseline; belongs to the night */
    const struct run_row **runs;
    size_t n_runs;
};

struct group_list {
    struct run_group
        *groups; /* earlier entries first; else in the order of their first run in the sheet */
    size_t n_groups;
};

enum grouping { GROUP_BY_CONFIGURATION, GROUP_BY_FAMILY };

/* Groups the night. On OK the caller ends *list with groups_end(). */
enum status groups_make(const struct night *night, enum grouping grouping, struct group_list *list,
                        struct fault *fault);
void groups_end(struct group_list *list);

/* "facility/entry/name". On OK the caller owns *subject and ends it with free(). */
enum status group_subject(const struct run_row *run, const char *name, char **subject,
                          struct fault *fault);

#endif
