/* cell_value.c - see cell_value.h. */
#include "ingest/cell_value.h"

#include <math.h>
#include <string.h>

#include "schema/number.h"

struct cell_reader cell_reader_for(const struct channel_map *map)
{
    struct cell_reader reader = {.map = map};
    for (size_t i = 0; i < map->n_missing_words; i++) {
        if (map->missing_words[i][0] == '\0')
            reader.empty_is_missing = 1;
        else
            reader.begins_word[(unsigned char)map->missing_words[i][0]] = 1;
    }
    return reader;
}

int cell_is_missing(const struct cell_reader *reader, const struct table_cell *cell)
{
    if (cell->length == 0)
        return reader->empty_is_missing;
    if (!reader->begins_word[(unsigned char)cell->text[0]])
        return 0;
    for (size_t i = 0; i < reader->map->n_missing_words; i++) {
        const char *word = reader->map->missing_words[i];
        if (strlen(word) == cell->length && memcmp(word, cell->text, cell->length) == 0)
            return 1;
    }
    return 0;
}

enum cell_outcome cell_value(const struct cell_reader *reader, const struct table_cell *cell,
                             double *value)
{
    *value = NAN;
    if (cell_is_missing(reader, cell))
        return CELL_MISSING;
    enum number_outcome outcome =
        number_parse(cell->text, cell->length, reader->map->decimal_mark, value, NULL);
    if (outcome == NUMBER_OK)
        return CELL_NUMBER;
    *value = NAN;
    return outcome == NUMBER_OVERFLOW ? CELL_OUT_OF_RANGE : CELL_WRONG;
}
