/* glance.c - memory of a glance; see glance.h. */
#include "schema/glance.h"

#include <stdlib.h>
#include <string.h>

void *glance_add(void **items, size_t *n, size_t *capacity, size_t size, struct fault *fault)
{
    if (*n == *capacity) {
        size_t wanted = *capacity == 0 ? 16 : 2 * *capacity;
        void *more = realloc(*items, wanted * size);
        if (more == NULL) {
            (void)FAIL(fault, NO_MEMORY, "no memory for what a run shows");
            return NULL;
        }
        *items = more;
        *capacity = wanted;
    }
    void *added = (char *)*items + *n * size;
    memset(added, 0, size);
    (*n)++;
    return added;
}

enum status glance_keep(struct glance *glance, const char *text, const char **kept,
                        struct fault *fault)
{
    void *items = glance->texts;
    *kept = "";
    char *copy = strdup(text != NULL ? text : "");
    if (copy == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for what a run shows");
    char **place =
        glance_add(&items, &glance->n_texts, &glance->texts_capacity, sizeof *glance->texts, fault);
    glance->texts = items;
    if (place == NULL) {
        free(copy);
        return NO_MEMORY;
    }
    *place = copy;
    *kept = copy;
    return OK;
}

void glance_end(struct glance *glance)
{
    for (size_t i = 0; i < glance->n_points; i++)
        free(glance->points[i].values);
    for (size_t i = 0; i < glance->n_texts; i++)
        free(glance->texts[i]);
    free(glance->metrics);
    free(glance->targets);
    free(glance->points);
    free(glance->flags);
    free(glance->rows);
    free(glance->marks);
    free(glance->reasons);
    free(glance->notes);
    free(glance->texts);
    memset(glance, 0, sizeof *glance);
}
