/* groups.c - grouping the runs of a night; see groups.h. */
#include "reduce/groups.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

enum status group_subject(const struct run_row *run, const char *name, char **subject,
                          struct fault *fault)
{
    size_t size = strlen(run->facility) + strlen(run->entry) + strlen(name) + 3;
    *subject = malloc(size);
    if (*subject == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the name of a group of runs");
    (void)snprintf(*subject, size, "%s/%s/%s", run->facility, run->entry, name);
    return OK;
}

static const char *group_name(const struct night *night, const struct run_row *run,
                              enum grouping grouping)
{
    return grouping == GROUP_BY_FAMILY ? night_baseline(night, run->configuration)
                                       : run->configuration;
}

static struct run_group *find_group(struct group_list *list, const struct run_row *run,
                                    const char *name)
{
    for (size_t i = 0; i < list->n_groups; i++)
        if (strcmp(list->groups[i].name, name) == 0 && run_same_entry(list->groups[i].runs[0], run))
            return &list->groups[i];
    return NULL;
}

/* A group gets room for every run of the night at once: pointers, and few groups. */
static enum status add_group(const struct night *night, const struct run_row *run, const char *name,
                             struct group_list *list, struct fault *fault)
{
    struct run_group *group = &list->groups[list->n_groups];
    void *array = NULL;
    enum status status = group_subject(run, name, &group->subject, fault);
    if (status != OK)
        return status;
    list->n_groups++;
    group->name = name;
    status = array_make(&array, night->n_runs, sizeof(void *), fault);
    group->runs = array;
    return status;
}

/* Keeps time order while adding; runs come in sheet order, so this rarely moves anything. */
static void insert_run(struct run_group *group, const struct run_row *run)
{
    size_t at = group->n_runs++;
    for (; at > 0 && group->runs[at - 1]->start > run->start; at--)
        group->runs[at] = group->runs[at - 1];
    group->runs[at] = run;
}

static double entry_start(const struct night *night, const struct run_row *of)
{
    double start = of->start;
    for (size_t i = 0; i < night->n_runs; i++)
        if (run_same_entry(&night->runs[i], of) && night->runs[i].start < start)
            start = night->runs[i].start;
    return start;
}

/* What the season knew before an entry must have been made before the entry is. */
static enum status sort_by_entry(const struct night *night, struct group_list *list,
                                 struct fault *fault)
{
    void *array = NULL;
    enum status status = array_make(&array, list->n_groups, sizeof(double), fault);
    double *starts = array;
    for (size_t i = 0; status == OK && i < list->n_groups; i++) {
        struct run_group group = list->groups[i];
        double start = entry_start(night, group.runs[0]);
        size_t at = i;
        for (; at > 0 && starts[at - 1] > start; at--) {
            starts[at] = starts[at - 1];
            list->groups[at] = list->groups[at - 1];
        }
        starts[at] = start;
        list->groups[at] = group;
    }
    free(array);
    return status;
}

enum status groups_make(const struct night *night, enum grouping grouping, struct group_list *list,
                        struct fault *fault)
{
    void *array = NULL;
    memset(list, 0, sizeof *list);
    enum status status = array_make(&array, night->n_runs, sizeof *list->groups, fault);
    list->groups = array;
    for (size_t i = 0; status == OK && i < night->n_runs; i++) {
        const struct run_row *run = &night->runs[i];
        if (!run->usable || !run_is_wind_on(run))
            continue;
        const char *name = group_name(night, run, grouping);
        struct run_group *group = find_group(list, run, name);
        if (group == NULL) {
            status = add_group(night, run, name, list, fault);
            group = &list->groups[list->n_groups - 1];
        }
        if (status == OK)
            insert_run(group, run);
    }
    if (status == OK)
        status = sort_by_entry(night, list, fault);
    if (status != OK)
        groups_end(list);
    return status;
}

void groups_end(struct group_list *list)
{
    for (size_t i = 0; i < list->n_groups; i++) {
        free(list->groups[i].subject);
        free((void *)list->groups[i].runs);
    }
    free(list->groups);
    memset(list, 0, sizeof *list);
}
