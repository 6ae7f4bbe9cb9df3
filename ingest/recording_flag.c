/* recording_flag.c - see recording_flag.h. */
#include "ingest/recording_flag.h"

#include <math.h>
#include <string.h>
#include <strings.h>

static const struct {
    const char *text;
    double state;
} words[] = {{"true", 1}, {"false", 0}, {"on", 1}, {"off", 0}, {"yes", 1}, {"no", 0}};

static const double counter_most = 9007199254740992.0; /* 2^53: beyond it neighbours are one */

double recording_flag_word(const struct table_cell *cell)
{
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strlen(words[i].text) == cell->length &&
            strncasecmp(words[i].text, cell->text, cell->length) == 0)
            return words[i].state;
    return -1;
}

double recording_flag_state(const struct cell_reader *reader, const struct table_cell *cell)
{
    double value = NAN;
    if (cell_is_missing(reader, cell))
        return -1;
    if (cell_value(reader, cell, &value) == CELL_NUMBER)
        return value >= 0 && value <= counter_most && value == floor(value) ? value : -1;
    return recording_flag_word(cell);
}
