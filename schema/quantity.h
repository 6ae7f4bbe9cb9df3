/* quantity.h - the quantities that results are given in: symbol, unit, sign, meaning.
 *
 * One table (quantity.c) serves the ledger, the deltas, every CSV header and the data dictionary, so
 * a symbol can mean one thing only. Coefficients are referred to q and the reference area; moments
 * also to the wheelbase; downforce is positive.                                                    */
#ifndef LAPWING_QUANTITY_H
#define LAPWING_QUANTITY_H

#include <stddef.h>

enum quantity {
    QUANTITY_CD,      /* drag, aft positive */
    QUANTITY_CY,      /* side force, to the car's right positive */
    QUANTITY_CL,      /* downforce positive */
    QUANTITY_CLF,     /* downforce on the front axle */
    QUANTITY_CLR,     /* downforce on the rear axle */
    QUANTITY_CRM,     /* rolling moment, right-handed about x aft */
    QUANTITY_CPM,     /* pitching moment, right-handed about y right: nose up positive */
    QUANTITY_CYM,     /* yawing moment, right-handed about z up */
    QUANTITY_BALANCE, /* 100 CLF / CL, percent of the downforce on the front axle */
    QUANTITY_LD,      /* CL / CD */
    QUANTITY_CDA,     /* m2, as tested */
    QUANTITY_CLA,     /* m2, as tested */
    QUANTITY_COUNT,
    COEFFICIENT_COUNT = QUANTITY_CYM + 1 /* the eight that corrections act on come first */
};

struct quantity_row {
    const char *symbol;  /* "CL" */
    const char *column;  /* database column: "downforce_coefficient" */
    const char *unit;    /* "1", "%", "m2" */
    const char *sign;    /* "+ is more downforce" */
    const char *meaning; /* one sentence */
    int in_counts;       /* 1: the page may print it in counts */
};

/* The row of a quantity; never NULL for 0 <= quantity < QUANTITY_COUNT. */
const struct quantity_row *quantity_row(enum quantity quantity);

/* By symbol, exactly; QUANTITY_COUNT when there is none. */
enum quantity quantity_from_symbol(const char *symbol);

#endif
