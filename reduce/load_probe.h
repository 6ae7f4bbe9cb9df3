/* load_probe.h - what a change of loads would do to the results of a run, asked at one of its points.
 *
 * The first point of the run that has a number is reduced again with the change; the difference goes
 * through every step, at that point's own wind.                                                     */
#ifndef LAPWING_LOAD_PROBE_H
#define LAPWING_LOAD_PROBE_H

#include "reduce/reduced_point.h"
#include "schema/quantity.h"

struct load_probe {
    struct reduced_point made; /* of the point; made.point NULL: no point has a number */
    double quantity[QUANTITY_COUNT];
};

void load_probe_find(const struct run_work *work, struct load_probe *probe);

/* Quantities of the point with other loads in balance axes: change[6], N and N m, is added to what the
 * balance reads. 0 when there is no number. */
int load_probe_add(const struct run_work *work, const struct load_probe *probe,
                   const double change[6], double quantity[QUANTITY_COUNT]);

/* Which metric a change of the quantities matters most for, as a share of its smallest worthwhile
 * delta; metric NULL: for none. The balance counts only where the point has one. */
struct metric_share {
    const struct metric *metric;
    enum quantity quantity;
    double change; /* of the quantity, in its own unit */
    double share;  /* of the metric's worthwhile delta, not negative */
};
struct metric_share metric_share_of(const struct campaign *campaign, const struct load_probe *probe,
                                    const double change[QUANTITY_COUNT]);

/* "CL +3.2 counts", "balance -0.1 %": a change of a quantity in words. */
void quantity_change_say(const struct campaign *campaign, enum quantity quantity, double change,
                         char *out, size_t size);

/* The smallest worthwhile delta of any coefficient that has a metric; one count where none has. */
double smallest_worthwhile(const struct campaign *campaign);

#endif
