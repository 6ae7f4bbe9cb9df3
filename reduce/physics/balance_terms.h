/* balance_terms.h - the terms of six loads that an output of a balance may depend on.
 *
 *   F  |F|  F^2  F|F|     6 each, in the order of the loads Fx Fy Fz Mx My Mz
 *   FG  |FG|  F|G|  |F|G  15 each, pairs F before G in the order (1,2) (1,3) .. (1,6) (2,3) .. (5,6)
 *   F^3  |F^3|            6 each
 *
 * 96 in all, in this order; |F| and what is built of it serve gauges whose sensitivity differs with the
 * sense of the load. Loads are shares of their rated value, so that coefficients compare.
 * Source: number and kinds of the terms as in AIAA R-091-2003, Calibration and Use of Internal
 * Strain-Gage Balances, from memory; the order is ours.                                             */
#ifndef LAPWING_BALANCE_TERMS_H
#define LAPWING_BALANCE_TERMS_H

enum { BALANCE_LOADS = 6, BALANCE_PAIRS = 15, BALANCE_TERMS = 96 };

enum balance_term_kind {
    TERM_LINEAR,             /* F */
    TERM_ABSOLUTE,           /* |F| */
    TERM_SQUARE,             /* F^2 */
    TERM_SIGNED_SQUARE,      /* F|F| */
    TERM_PRODUCT,            /* F G */
    TERM_ABSOLUTE_PRODUCT,   /* |F G| */
    TERM_FIRST_BY_ABSOLUTE,  /* F |G| */
    TERM_ABSOLUTE_BY_SECOND, /* |F| G */
    TERM_CUBE,               /* F^3 */
    TERM_ABSOLUTE_CUBE       /* |F^3| */
};

struct balance_term {
    enum balance_term_kind kind;
    int first, second; /* loads 0 .. 5; the same one where a term has one load only */
};

/* What term 0 .. 95 is made of. */
struct balance_term balance_term(int term);

/* The term of this kind and these loads, first < second where it has two; -1 when there is none. */
int balance_term_index(enum balance_term_kind kind, int first, int second);

/* Values of all terms at the loads, 1. NAN in a load is NAN in its terms. */
void balance_term_values(const double load[BALANCE_LOADS], double value[BALANCE_TERMS]);

/* Derivatives of all terms by the loads. At 0 the derivative of |F| is taken as 1, that from above. */
void balance_term_slopes(const double load[BALANCE_LOADS],
                         double slope[BALANCE_TERMS][BALANCE_LOADS]);

#endif
