/* sniff_others.h - the columns of an unknown log that mean nothing known: what can still be kept of them;
 * see sniff.h. */
#ifndef LAPWING_SNIFF_OTHERS_H
#define LAPWING_SNIFF_OTHERS_H

#include <stdio.h>

#include "ingest/sniff.h"

/* Finds which columns without a role may be kept with the role other, and in which unit. Where no column
 * of the log is known to measure anything (a bench, a table of results), those whose unit is known get
 * the role, so that the map gives statistics at once. After all other roles. */
void sniff_find_others(struct sniff *sniff);

/* Columns without a role, each as a line of the map behind a comment sign: without the sign it is kept. */
void sniff_print_others(const struct sniff *sniff, FILE *out);

#endif
