/* header.c - the cells of a head, found and placed; see header.h. Read in header_read.c. */
#include "ingest/header.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/header_missing.h"

void header_free(struct header *header)
{
    if (header == NULL)
        return;
    for (size_t i = 0; header->cells != NULL && i < header->n; i++) {
        free(header->cells[i].name);
        free(header->cells[i].own_unit);
        free(header->cells[i].row_unit);
    }
    free(header->cells);
    free(header->file);
    free(header);
}

void header_place(const struct header *header, size_t index, struct fault *fault)
{
    if (header->map_line > 0)
        fault_where(fault, "campaign.yaml:%zu", header->map_line);
    else
        fault_where(fault, "%s:%zu:%zu", header->file, header->line, header->cells[index].column);
}

void header_place_unit(const struct header *header, size_t index, struct fault *fault)
{
    fault_where(fault, "%s:%zu:%zu", header->file, header->unit_line,
                header->cells[index].unit_column);
}

static int begins_name(const char *name, const struct table_cell *cell)
{
    static const char mark[] =
        "\xEF\xBB\xBF"; /* the byte-order mark of a file put behind another */
    const char *text = cell->text;
    size_t length = cell->length;
    if (length >= 3 && memcmp(text, mark, 3) == 0) {
        text += 3;
        length -= 3;
    }
    return strncmp(name, text, length) == 0 && (name[length] == '\0' || name[length] == ' ');
}

int header_is_repeated(const struct header *header, const struct table_row *row)
{
    int has_text = 0;
    if (header->map_line > 0) /* numbers may name columns too */
        return 0;
    for (size_t i = 0; i < header->n && i < row->n; i++) {
        if (!begins_name(header->cells[i].name, &row->cells[i]))
            return 0;
        has_text = has_text || row->cells[i].length > 0;
    }
    return has_text;
}

enum status header_find(const struct header *header, const char *name, size_t *index,
                        struct fault *fault)
{
    size_t length = strlen(name);
    size_t found = SIZE_MAX;
    for (size_t i = 0; i < header->n; i++) {
        if (strcmp(header->cells[i].name, name) == 0) {
            *index = i;
            return OK;
        }
    }
    for (size_t i = 0; i < header->n; i++) {
        if (header->cells[i].bare != length || length == 0 ||
            memcmp(header->cells[i].name, name, length) != 0)
            continue;
        if (found != SIZE_MAX) {
            enum status status =
                FAIL(fault, BAD_INPUT,
                     "'%.80s' may be column %zu '%.80s' or column %zu '%.80s'; name the whole "
                     "header cell in the channel map",
                     name, found + 1, header->cells[found].name, i + 1, header->cells[i].name);
            header_place(header, i, fault);
            return status;
        }
        found = i;
    }
    if (found == SIZE_MAX)
        return header_missing(header, name, fault);
    *index = found;
    return OK;
}
