/* repeat_first.h - which configuration is worth another run first: most doubt taken away per minute.
 *
 * Doubt is how much too wide an interval is to be read, with the delta where it is: a verdict needs it
 * to leave zero out, half-width below |delta|, or to lie within what does not matter, half-width at most
 * worthwhile - |delta|; the nearer of both is taken. So a delta of nothing needs the whole strip, and
 * one of half of it is hardest to tell. Configurations without any interval come first: there is
 * nothing to hold them against. Only those without a verdict count, and those whose verdict is not firm by the checks on the night;
 * any other decided one needs no repeat.                                                            */
#ifndef LAPWING_REPORT_REPEAT_FIRST_H
#define LAPWING_REPORT_REPEAT_FIRST_H

#include "report/findings.h"

struct repeat_row {
    const struct finding_configuration *configuration;
    double minutes; /* that a run of it takes; NAN: not known */
    double needed;  /* half-width at which it could be read, stored unit; NAN without a delta */
    double doubt;   /* half-width beyond that; NAN without an interval */
};

/* Half-width that would be read as a verdict; NAN for a delta that is none. */
double repeat_needed(double delta, double worthwhile);

/* The rows worth repeating, best first: without an interval, then by doubt per minute; a row whose
 * minutes are not known comes last of its kind, and equal rows keep the table's order. minutes has a
 * number for each of the findings' configurations. *rows is the caller's to free(), NULL for none. */
enum status repeat_first(const struct findings *findings, const double *minutes,
                         struct repeat_row **rows, size_t *n, struct fault *fault);

#endif
