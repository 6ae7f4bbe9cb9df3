/* sniff_points.h - which rows of an unknown log are one point, and which columns are slower than the rows;
 * see sniff.h. */
#ifndef LAPWING_SNIFF_POINTS_H
#define LAPWING_SNIFF_POINTS_H

#include <stdio.h>

#include "ingest/sniff.h"

/* A map takes a column of labels or a recording flag and not both: the better believed keeps its role, of
 * two alike the labels. After the columns were read by name. */
void sniff_settle_points(struct sniff *sniff);

/* Proposes hold: blank for columns of samples that are written in every second, third ... row and empty in
 * the others; drops a recording flag beside averages. After the rows were judged. */
void sniff_find_holds(struct sniff *sniff);

/* 1 when the rows are samples and no column tells their points: the map is refused. */
int sniff_lacks_points(const struct sniff *sniff);

/* A sweep: to be filled in, of the attitude that moves most, in comment signs. */
void sniff_print_sweep(const struct sniff *sniff, FILE *out);

/* 1 when empty cells are to be declared missing: some column has them that no hold explains. */
int sniff_empty_is_missing(const struct sniff *sniff);

#endif
