/* label_index.c - open addressing with FNV-1a; see label_index.h. */
#include "ingest/label_index.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { SIZE_MIN = 64 };

/* Fowler, Noll, Vo: hash FNV-1a of 64 bits. */
static uint64_t hash_of(const char *label, size_t length)
{
    uint64_t hash = 14695981039346656037U;
    for (size_t i = 0; i < length; i++)
        hash = (hash ^ (unsigned char)label[i]) * 1099511628211U;
    return hash;
}

static int is_label(const struct log_point *point, const char *label, size_t length)
{
    return strncmp(point->label, label, length) == 0 && point->label[length] == '\0';
}

/* The slot of the label, or the free one where it belongs. */
static size_t slot_of(const struct label_index *index, const struct log_point *points,
                      const char *label, size_t length)
{
    size_t slot = (size_t)hash_of(label, length) & (index->size - 1);
    while (index->slots[slot] != 0 && !is_label(&points[index->slots[slot] - 1], label, length))
        slot = (slot + 1) & (index->size - 1);
    return slot;
}

struct log_point *label_index_find(const struct label_index *index, struct log_point *points,
                                   const char *label, size_t length)
{
    if (index->n == 0)
        return NULL;
    size_t place = index->slots[slot_of(index, points, label, length)];
    return place == 0 ? NULL : &points[place - 1];
}

/* At least half of the slots stay free. */
static int make_room(struct label_index *index, const struct log_point *points)
{
    struct label_index larger = {NULL, 2 * index->size, index->n};
    if (2 * (index->n + 1) <= index->size)
        return 1;
    larger.size = larger.size < SIZE_MIN ? SIZE_MIN : larger.size;
    larger.slots = calloc(larger.size, sizeof *larger.slots);
    if (larger.slots == NULL)
        return 0;
    for (size_t i = 0; i < index->size; i++) {
        if (index->slots[i] == 0)
            continue;
        const char *label = points[index->slots[i] - 1].label;
        larger.slots[slot_of(&larger, points, label, strlen(label))] = index->slots[i];
    }
    free(index->slots);
    *index = larger;
    return 1;
}

int label_index_add(struct label_index *index, const struct log_point *points, size_t at)
{
    const char *label = points[at].label;
    if (!make_room(index, points))
        return 0;
    index->slots[slot_of(index, points, label, strlen(label))] = at + 1;
    index->n++;
    return 1;
}

int label_index_fill(struct label_index *index, const struct log_record *record)
{
    for (size_t i = 0; i < record->n_points; i++) {
        const char *label = record->points[i].label;
        if (label_index_find(index, record->points, label, strlen(label)) == NULL &&
            !label_index_add(index, record->points, i))
            return 0;
    }
    return 1;
}

void label_index_end(struct label_index *index)
{
    free(index->slots);
    *index = (struct label_index){NULL, 0, 0};
}
