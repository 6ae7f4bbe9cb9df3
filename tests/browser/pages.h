/* pages.h - every kind of page that the program writes, made once for all browser tests.
 *
 * Of an invented night by the built program; of the report's fixture; and of the same fixture with
 * names, notes, units and taps that are attacks.                                                   */
#ifndef LAPWING_BROWSER_PAGES_H
#define LAPWING_BROWSER_PAGES_H

#include "schema/store.h"

enum page_kind {
    PAGE_NIGHT,          /* the demo's night */
    PAGE_GLANCE,         /* one of its runs at a glance */
    PAGE_CARD,           /* a balance's calibration */
    PAGE_FIXTURE,        /* the fixture's night */
    PAGE_HOSTILE,        /* the same with hostile texts */
    PAGE_HOSTILE_GLANCE, /* a run at a glance with hostile texts */
    PAGE_EIGHT,          /* the fixture's night with eight configurations and their baseline */
    PAGE_MANY,           /* with more than a dozen */
    PAGE_LARGE,          /* as large as they come, its configurations with long names */
    PAGE_EMPTY,          /* the night of a season without anything */
    PAGE_PROOF,          /* the demo's proof sheet of a part, with a picture */
    PAGE_INDEX,          /* the demo's season */
    PAGE_COMPARE,        /* its family compared at the main measure's attitude */
    PAGE_PAIR,           /* two of its configurations at all attitudes */
    PAGE_HOSTILE_PROOF,  /* a sheet with hostile texts, many of them long */
    PAGE_HOSTILE_INDEX,  /* and the index beside it */
    PAGE_COUNT
};

/* Writes them all; 0 when one could not be made, which has failed a check. */
int pages_make(void);
void pages_remove(void);

const char *page_path(enum page_kind kind);
const char *page_name(enum page_kind kind);

/* The season that a night's page was made from, opened for reading; NULL on failure. The caller closes
 * it. PAGE_NIGHT, PAGE_GLANCE, PAGE_FIXTURE or PAGE_HOSTILE. */
struct store *folder_of_page(enum page_kind kind);

/* What all hostile names begin with, as text. */
extern const char *const hostile_name;

#endif
