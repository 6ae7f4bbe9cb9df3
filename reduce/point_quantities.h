/* point_quantities.h - a point's quantities from inputs that may be other than those logged, and what
 * the difference is worth on the main metric.                                                      */
#ifndef LAPWING_POINT_QUANTITIES_H
#define LAPWING_POINT_QUANTITIES_H

#include <stddef.h>

#include "reduce/reduced_point.h"
#include "schema/quantity.h"

/* The inputs of a point with its weight tare; 0 when it has none at its attitude. point may be a copy
 * with other channel means. */
int point_inputs_fill(const struct run_work *work, const struct point_row *point,
                      struct tunnel_inputs *inputs);

/* All quantities from inputs, corrected, at the attained attitude; 0 when there is no number. */
int point_quantities(const struct run_work *work, const struct tunnel_inputs *inputs,
                     double quantity[QUANTITY_COUNT]);

/* What takes the main metric from one set of quantities to another, in counts; NAN when there is no
 * main metric or its quantity is not counted (balance, L/D and areas have units of their own). */
double effect_in_counts(const struct campaign *campaign, const double from[QUANTITY_COUNT],
                        const double to[QUANTITY_COUNT]);

/* Size of one count; 0.001 where the campaign does not say. */
double count_size(const struct campaign *campaign);

/* Appends "; effect on CL +3.2 counts" or "; effect on CL not known" to a sentence of `size` bytes;
 * nothing where the main metric is not counted. */
void effect_say(const struct campaign *campaign, double effect, char *detail, size_t size);

#endif
