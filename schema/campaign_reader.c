/* campaign_reader.c - noting problems and reading single values; see campaign_reader.h. */
#include "schema/campaign_reader.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct campaign_trouble *next_trouble(struct campaign_reader *reader)
{
    if (reader->n_troubles == reader->capacity) {
        size_t capacity = reader->capacity == 0 ? 16 : 2 * reader->capacity;
        struct campaign_trouble *grown =
            realloc(reader->troubles, capacity * sizeof reader->troubles[0]);
        if (grown == NULL) {
            reader->failed =
                FAIL(&reader->failure, NO_MEMORY, "no memory to read %s", reader->path);
            return NULL;
        }
        reader->troubles = grown;
        reader->capacity = capacity;
    }
    struct campaign_trouble *trouble = &reader->troubles[reader->n_troubles];
    *trouble = (struct campaign_trouble){.sequence = reader->n_troubles};
    reader->n_troubles++;
    return trouble;
}

void campaign_trouble_fault(struct campaign_reader *reader, int node, const struct fault *fault)
{
    if (fault->status != BAD_INPUT) {
        reader->failed = fault->status;
        reader->failure = *fault;
        return;
    }
    struct campaign_trouble *trouble = next_trouble(reader);
    if (trouble == NULL)
        return;
    trouble->fault = *fault;
    trouble->line = yaml_tree_line(reader->tree, node);
    trouble->column = yaml_tree_column(reader->tree, node);
    fault_where(&trouble->fault, "%s:%zu:%zu", reader->path, trouble->line, trouble->column);
}

void campaign_trouble(struct campaign_reader *reader, int node, const char *format, ...)
{
    struct fault fault;
    char text[sizeof fault.text];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    (void)FAIL(&fault, BAD_INPUT, "%s", text);
    campaign_trouble_fault(reader, node, &fault);
}

void *campaign_allocate(struct campaign_reader *reader, size_t n, size_t size)
{
    void *made = calloc(n > 0 ? n : 1, size);
    if (made == NULL)
        reader->failed = FAIL(&reader->failure, NO_MEMORY, "no memory to read %s", reader->path);
    return made;
}

/* A scalar that says something. */
static int has_text(struct campaign_reader *reader, int node, const char *what)
{
    if (yaml_tree_kind(reader->tree, node) != YAML_TEXT) {
        campaign_trouble(reader, node, "%s is a list or a block; one value is needed", what);
        return 0;
    }
    if (yaml_tree_text(reader->tree, node)[0] == '\0') {
        campaign_trouble(reader, node, "%s is empty; write its value or remove the line", what);
        return 0;
    }
    return 1;
}

int campaign_text(struct campaign_reader *reader, int node, const char *what, char **target)
{
    if (!has_text(reader, node, what))
        return 0;
    const char *text = yaml_tree_text(reader->tree, node);
    char *copy = campaign_allocate(reader, strlen(text) + 1, 1);
    if (copy == NULL)
        return 0;
    memcpy(copy, text, strlen(text) + 1);
    free(*target);
    *target = copy;
    return 1;
}

int campaign_quantity(struct campaign_reader *reader, int node, const char *what, const char *unit,
                      double *target)
{
    struct fault fault;
    struct fault named;
    double value = 0;
    if (!has_text(reader, node, what))
        return 0;
    enum status status =
        units_quantity(reader->units, yaml_tree_text(reader->tree, node), unit, &value, &fault);
    if (status == OK) {
        *target = value;
        return 1;
    }
    fault_set(&named, status, __FILE__, __LINE__, "%s: %.500s", what, fault.text);
    campaign_trouble_fault(reader, node, &named);
    return 0;
}

static void list_words(const struct campaign_word *words, char *out, size_t size)
{
    size_t used = 0;
    out[0] = '\0';
    for (; words->text != NULL && used < size; words++)
        used +=
            (size_t)snprintf(out + used, size - used, "%s%s", used > 0 ? ", " : "", words->text);
}

int campaign_word(struct campaign_reader *reader, int node, const char *what,
                  const struct campaign_word *words, int *target)
{
    char allowed[256];
    if (!has_text(reader, node, what))
        return 0;
    const char *text = yaml_tree_text(reader->tree, node);
    for (const struct campaign_word *word = words; word->text != NULL; word++) {
        if (strcmp(word->text, text) != 0)
            continue;
        *target = word->value;
        return 1;
    }
    list_words(words, allowed, sizeof allowed);
    campaign_trouble(reader, node, "%s: '%.80s' is not one of its words; write one of: %s", what,
                     text, allowed);
    return 0;
}
