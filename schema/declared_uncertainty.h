/* declared_uncertainty.h - an elemental source of error as campaign.yaml declares it. */
#ifndef LAPWING_DECLARED_UNCERTAINTY_H
#define LAPWING_DECLARED_UNCERTAINTY_H

#include <stddef.h>

#include "schema/uncertain_input.h"

enum { DECLARED_UNCERTAINTIES_MAX = 20 };

/* How far one draw of the error reaches. */
enum declared_reach { DECLARED_POINT, DECLARED_RUN, DECLARED_ENTRY, DECLARED_ALWAYS };
enum declared_shape {
    DECLARED_NORMAL,
    DECLARED_RECTANGULAR,
    DECLARED_TRIANGULAR,
    DECLARED_ARCSINE
};

struct declared_uncertainty {
    char *source; /* in the user's words, unique in its facility */
    enum uncertain_input of;
    double standard; /* > 0, SI or the balance's output unit, or a share of the input's value */
    int is_relative;
    char *output_unit; /* of a balance output that is not relative; else NULL */
    double freedom;    /* infinite when not given */
    enum declared_reach reach;
    enum declared_shape shape;
    char *correlated_with; /* another source of the facility; NULL: none */
    double correlation;
    char *evidence;
};

/* Those of one facility. */
struct facility_uncertainties {
    char *facility;
    struct declared_uncertainty *items;
    size_t n;
};

const char *declared_reach_word(enum declared_reach reach); /* "point", "run", "entry", "always" */
const char *declared_shape_word(enum declared_shape shape);

/* Correlations of a facility's n sources, n x n. 0 when they contradict each other: then they are those
 * of no errors. */
int declared_correlations(const struct facility_uncertainties *list, double *correlation);

void facility_uncertainties_end(struct facility_uncertainties *list);

#endif
