/* record_words.h - what the history of a channel says, as a sentence. */
#ifndef LAPWING_RECORD_WORDS_H
#define LAPWING_RECORD_WORDS_H

#include <stddef.h>

#include "reduce/run_data.h"
#include "reduce/statistics/channel_history.h"

/* Writes the detail of a finding: what was seen, what is usual, and for a unit the factor and the two
 * units that would explain it. */
void record_say_history(const struct channel_row *channel,
                        const struct history_judgement *judgement, char *text, size_t size);

/* What stands after a number: a blank and the unit, or two times nothing where the unit is 1. */
const char *record_unit_gap(const char *unit);
const char *record_unit_word(const char *unit);

#endif
