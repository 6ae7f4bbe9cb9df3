/* trust.h - checks on the night itself: may its deltas be used at all?
 *
 * A verdict is right only if the night was what the verdict's model takes it for. Each check looks at
 * one way in which it was not, gives a sentence with the numbers, and one of four states. One that fails
 * takes the place of the winner at the top of the page, since a gain of a night that moved is none.
 *
 * What fails, all of it common practice without a source:
 *   baseline   a step between neighbouring returns of more than matters and more than twice the widest
 *              judged half-width: a mounting between them is off by up to half the step, which no interval
 *              holds
 *   brackets   a flag bracket-wide of a decided configuration, half of whose movement exceeds its interval
 *   change     an undeclared change whose effect is more than matters
 *   methods    the whole night's model and the local bracket disagree on the configuration that leads
 *   exclusion  the leading verdict is reversed by what is left out
 * Scatter beyond what the declared uncertainties say is only to be looked at: intervals rest on the
 * scatter itself, so they stand.                                                                    */
#ifndef LAPWING_REPORT_TRUST_H
#define LAPWING_REPORT_TRUST_H

#include <stddef.h>

enum trust_state { TRUST_HOLDS, TRUST_LOOK, TRUST_FAILS, TRUST_UNKNOWN };

enum { TRUST_CHECKS = 7 };

struct trust_check {
    const char *name; /* "Baseline" */
    enum trust_state state;
    const char *says;   /* a sentence with the numbers in it */
    const char *action; /* what to do; "" where it holds */
};

struct trust {
    struct trust_check checks[TRUST_CHECKS];
    size_t n; /* of a night of baselines alone fewer; 0: nothing was measured */
};

struct findings;
struct finding_configuration;

/* The configuration whose verdict the last check says to repeat: the leading one when it is not firm, else
 * the first that is not; NULL where all are firm. */
const struct finding_configuration *trust_not_firm(const struct findings *findings);

/* The best gain of the leading family; NULL for none. */
const struct finding_configuration *trust_leader(const struct findings *findings);

/* The first check that fails; NULL when none does. */
const struct trust_check *trust_failed(const struct trust *trust);
size_t trust_count(const struct trust *trust, enum trust_state state);

#endif
