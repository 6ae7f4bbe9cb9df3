/* glance_made.h - a run at a glance without a fault, for tests of its verdict, text and page.
 *
 * Eight points at eight targets, of which the first five are needed; metrics CL (0.010 worthwhile,
 * counts of 0.001) and CD; two earlier runs; zeros on both sides. All values are invented.          */
#ifndef LAPWING_GLANCE_MADE_H
#define LAPWING_GLANCE_MADE_H

#include "schema/glance.h"

enum { MADE_POINTS = 8, MADE_NEEDED = 5 };

/* The caller ends it with glance_end(). Asserts through CUnit. */
void glance_made(struct glance *glance);

/* One more flag of the run; point GLANCE_WHOLE_RUN for the run as a whole. */
struct glance_flag *glance_made_flag(struct glance *glance, enum flag_rule rule, int point,
                                     const char *subject, double value, double limit);

#endif
