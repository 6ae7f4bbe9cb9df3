/* problem_fold.c - see problem_fold.h. */
#include "ingest/problem_fold.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct folded_problem {
    const char *map, *file; /* belong to the run sheet */
    const char *place;      /* what follows the file's name in where, inside problem */
    size_t order;
    size_t more; /* logs with the same problem, besides this one */
    int is_told;
    struct fault *problem; /* owned */
};

/* ":12:3" of "logs/a.csv:12:3"; all of it when it does not begin with the log. */
static const char *place_in(const struct fault *problem, const char *file)
{
    size_t length = strlen(file);
    return strncmp(problem->where, file, length) == 0 ? problem->where + length : problem->where;
}

void problem_fold_take(void *context, const struct fault *problem)
{
    struct problem_fold *fold = context;
    if (fold->n == fold->capacity) {
        size_t capacity = 2 * fold->capacity + 16;
        struct folded_problem *items = realloc(fold->items, capacity * sizeof *items);
        if (items == NULL) {
            fold->failed = 1;
            return;
        }
        fold->items = items;
        fold->capacity = capacity;
    }
    struct fault *copy = malloc(sizeof *copy);
    if (copy == NULL) {
        fold->failed = 1;
        return;
    }
    *copy = *problem;
    fold->items[fold->n] = (struct folded_problem){.map = fold->map,
                                                   .file = fold->file,
                                                   .place = place_in(copy, fold->file),
                                                   .order = fold->n,
                                                   .is_told = 1,
                                                   .problem = copy};
    fold->n++;
}

static int compare_content(const struct folded_problem *a, const struct folded_problem *b)
{
    int map = strcmp(a->map, b->map);
    if (map != 0)
        return map;
    int place = strcmp(a->place, b->place);
    return place != 0 ? place : strcmp(a->problem->text, b->problem->text);
}

static int by_content(const void *first, const void *second)
{
    const struct folded_problem *a = first;
    const struct folded_problem *b = second;
    int content = compare_content(a, b);
    return content != 0 ? content : (a->order > b->order) - (a->order < b->order);
}

static int by_order(const void *first, const void *second)
{
    const struct folded_problem *a = first;
    const struct folded_problem *b = second;
    return (a->order > b->order) - (a->order < b->order);
}

/* One log has each problem once; two runs may share a log. */
static void fold_equal(struct problem_fold *fold)
{
    struct folded_problem *first = NULL;
    const char *file = "";
    for (size_t i = 0; i < fold->n; i++) {
        struct folded_problem *item = &fold->items[i];
        if (first == NULL || compare_content(first, item) != 0) {
            first = item;
            file = item->file;
            continue;
        }
        item->is_told = 0;
        first->more += strcmp(file, item->file) != 0;
        file = item->file;
    }
}

static void add_more(struct folded_problem *item)
{
    char *text = item->problem->text;
    char more[48];
    if (item->more == 0)
        return;
    (void)snprintf(more, sizeof more, " (and %zu more log%s)", item->more,
                   item->more > 1 ? "s" : "");
    size_t used = strlen(text);
    size_t most = sizeof item->problem->text - sizeof more;
    (void)snprintf(text + (used < most ? used : most), sizeof more, "%s", more);
}

enum status problem_fold_tell(struct problem_fold *fold, campaign_problem *report, void *context,
                              struct fault *fault)
{
    if (fold->failed)
        return FAIL(fault, NO_MEMORY, "no memory for the problems of the logs");
    if (fold->n == 0 || report == NULL)
        return OK;
    qsort(fold->items, fold->n, sizeof *fold->items, by_content);
    fold_equal(fold);
    qsort(fold->items, fold->n, sizeof *fold->items, by_order);
    for (size_t i = 0; i < fold->n; i++) {
        if (!fold->items[i].is_told)
            continue;
        add_more(&fold->items[i]);
        report(context, fold->items[i].problem);
    }
    return OK;
}

void problem_fold_end(struct problem_fold *fold)
{
    for (size_t i = 0; i < fold->n; i++)
        free(fold->items[i].problem);
    free(fold->items);
    *fold = (struct problem_fold){0};
}
