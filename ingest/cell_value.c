/* cell_value.c - see cell_value.h. */
#include "ingest/cell_value.h"

#include <math.h>
#include <string.h>

#include "schema/number.h"

enum { LOG_NUMBER_MAX = 64 };

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

/* The two further ways to write a number in a log: both say the same as plain ASCII, without doubt. */
static enum number_outcome number_of_log(const struct table_cell *cell, char mark, double *value)
{
    static const char minus[] = "\xE2\x88\x92"; /* U+2212 */
    char plain[LOG_NUMBER_MAX];
    size_t n = 0;
    for (size_t i = 0; i < cell->length && n < sizeof plain; i++) {
        char c = cell->text[i];
        int may_be_sign = n == 0 || plain[n - 1] == 'e' || plain[n - 1] == 'E';
        int is_minus =
            may_be_sign && cell->length - i >= 3 && memcmp(cell->text + i, minus, 3) == 0;
        plain[n++] = (char)(is_minus ? '-' : c == 'D' || c == 'd' ? 'e' : c);
        i += is_minus ? 2 : 0;
    }
    return n < sizeof plain ? number_parse(plain, n, mark, value, NULL) : NUMBER_MALFORMED;
}

static int is_sentinel(const struct channel_map *map, double value)
{
    for (size_t i = 0; i < map->n_sentinels; i++)
        if (map->sentinels[i] == value)
            return 1;
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
    if (outcome == NUMBER_MALFORMED)
        outcome = number_of_log(cell, reader->map->decimal_mark, value);
    if (outcome == NUMBER_OK && !is_sentinel(reader->map, *value))
        return CELL_NUMBER;
    *value = NAN;
    if (outcome == NUMBER_OK)
        return CELL_MISSING;
    return outcome == NUMBER_OVERFLOW ? CELL_OUT_OF_RANGE : CELL_WRONG;
}
