/* fact.c - chips of facts; see fact.h. */
#include "report/fact.h"

#include <stdio.h>

static void set(struct fact *fact, enum chip chip, const char *symbol, const char *word)
{
    fact->chip = chip;
    fact->symbol = symbol;
    (void)snprintf(fact->word, sizeof fact->word, "%s", word);
}

void fact_good(struct fact *fact, const char *word)
{
    set(fact, CHIP_GOOD, "\xE2\x9C\x93", word);
}

void fact_look(struct fact *fact, const char *word)
{
    set(fact, CHIP_LOOK, "!", word);
}

void fact_plain(struct fact *fact, const char *word)
{
    set(fact, CHIP_PLAIN, "\xE2\x80\x93", word);
}
