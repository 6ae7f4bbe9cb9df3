/* fact.h - one of the facts below the headline: a value, a chip, and a note.
 *
 * A fact is filled by the file that knows its numbers and written by panel_facts.c.                */
#ifndef LAPWING_REPORT_FACT_H
#define LAPWING_REPORT_FACT_H

#include "report/page.h"
#include "report/panel.h"

enum { FACT_TEXT = 320 };

struct fact {
    const char *name;
    char value[FACT_TEXT];
    char unit[FACT_TEXT]; /* small, after the value */
    enum chip chip;
    const char *symbol;
    char word[FACT_TEXT]; /* in the chip */
    char note[FACT_TEXT];
};

/* The chip: all is well, look at it, or neither. word is copied. */
void fact_good(struct fact *fact, const char *word);
void fact_look(struct fact *fact, const char *word);
void fact_plain(struct fact *fact, const char *word);

/* How the leading family's baseline moved over its returns, on the main measure. */
enum status fact_baseline(const struct night_page *night, struct fact *fact, struct fault *fault);

/* The widest interval that a verdict of the leading family was read from. */
void fact_half_width(const struct findings *findings, struct fact *fact);

#endif
