/* calibration_card.h - a calibration made from loadings, and how good it is: from reduce to report.
 *
 * Shares are of the rated load of the component. An error of a load is what the calibration reads less what was
 * applied.                                                                                          */
#ifndef LAPWING_CALIBRATION_CARD_H
#define LAPWING_CALIBRATION_CARD_H

#include <stddef.h>

#include "schema/loadings.h"

/* What became of a term. */
enum card_state { CARD_NOT_ASKED, CARD_KEPT, CARD_WEAK, CARD_ALIKE, CARD_BLIND };

/* The 96 terms, of loads or (direct) of outputs, and: */
enum {
    CARD_INTERCEPT = CALIBRATION_LOAD_TERMS,
    CARD_TEMPERATURE,        /* per kelvin from the mean temperature */
    CARD_TEMPERATURE_SQUARE, /* per kelvin squared */
    CARD_SENSITIVITY,        /* LOAD_COUNT of them: of the linear terms, per kelvin */
    CARD_TERMS = CARD_SENSITIVITY + LOAD_COUNT
};

struct card_term {
    enum card_state state;
    double coefficient, error; /* of a kept one, with its standard error */
    double inflation;          /* variance inflation factor, of a dropped one when it went */
    double t;                  /* |t| of a dropped one when it went */
};

struct card_component {
    int is_present;
    double rated, lowest, highest; /* N, N m; the ends of the fitted loads, tare included */
    struct card_term terms[CARD_TERMS];
    double freedom;
    double fit_sd;           /* of the regression: output unit, or N and N m of the direct form */
    double fit_share;        /* the same as a share */
    double press_share;      /* root of PRESS over the number of rows, share */
    double residual_sd;      /* of the loads, share */
    double residual_largest; /* signed, share */
    size_t residual_line;    /* of the sheet, where that is */
    size_t checks;           /* held-out rows */
    double check_rms, check_largest;
    int has_hysteresis; /* 1: there are rows reached by unloading, and the others bear a fit */
    double hysteresis_largest; /* signed error of those rows by the fit of the others, share */
};

struct calibration_card {
    struct calibration calibration; /* to be written; whole when it is one of six components */
    struct card_component component[LOAD_COUNT];
    const struct loadings *loadings;         /* not owned */
    const struct calibrate_request *request; /* not owned */
    int is_whole;                            /* 1: six components, so that the program can use it */
    size_t n_fit, n_check;
    double (*tare)[LOAD_COUNT]; /* one a series, N and N m; NULL when there is no series */
    int tare_steps;
    double temperature;                             /* K, mean; NAN when not given */
    double temperature_lowest, temperature_highest; /* K */
    double contraction; /* largest spectral radius over the box; NAN: not an iterative one of six */
    char (*missing)[200]; /* which loading is missing, and the term that can't be told without it */
    size_t n_missing;
};

/* "Fx*Fy", or "R1*R2" of a direct form; "1", "dT", "dT*dT", "Fx*dT" or "R1*dT". */
struct card_name {
    char text[32];
};
struct card_name card_term_name(enum calibration_form form, size_t term);

/* Place of a term of the 96 among the 27 of the direct form; CALIBRATION_TERMS when it has none. */
size_t card_direct_term(size_t term);

void calibration_card_free(struct calibration_card *card); /* one filled with 0 is fine */

#endif
