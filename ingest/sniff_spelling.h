/* sniff_spelling.h - the trade's spellings of a column's name, one row each.
 *
 * Spellings are common practice, without a source. A row says how far the name alone can be believed;
 * what the unit and the values say is weighed by sniff_roles.c.                                    */
#ifndef LAPWING_SNIFF_SPELLING_H
#define LAPWING_SNIFF_SPELLING_H

#include <stddef.h>

#include "ingest/sniff.h"

struct spelling {
    const char *text; /* small letters, without blanks and _ - . / : ; or as it is, when exact */
    int exact;
    enum role role;
    enum confidence confidence;
};

/* The table. */
const struct spelling *sniff_spellings(size_t *n);

/* A name taken apart: what is left without "mean", "sd" and the like, as it is and folded. */
enum { SPELLING_ROOM = 96 };
struct spelled_name {
    char plain[SPELLING_ROOM];
    char folded[SPELLING_ROOM];
    char last[SPELLING_ROOM]; /* its last word, as it is; "" when it has one word only */
    enum map_statistic statistic;
    int is_extreme; /* 1: "min", "max" and the like, which no role holds */
};

void sniff_spell(const char *name, size_t length, struct spelled_name *spelled);

/* 1 when the word names a statistic: mean, sd, max ... */
int sniff_names_statistic(const char *word, size_t length);

/* Small letters, without blanks and _ - . / : */
void sniff_fold(const char *text, char out[SPELLING_ROOM]);

#endif
