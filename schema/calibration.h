/* calibration.h - a balance's calibration as declared in its file, and where the store keeps it.
 *
 * Direct form, loads from outputs, i = Fx Fy Fz Mx My Mz:
 *
 *   F_i = sum_j A_ij R_j + sum_{j<=k} B_ijk R_j R_k
 *
 * Iterative form, outputs from loads, i = R1 .. R6, T the 96 terms of loads over their rated value:
 *
 *   R_i = sum_t C_it T_t(F / rated)
 *
 * Either may have terms in dT, the balance's temperature from a reference: with x_j the outputs R_j of
 * the direct form, the loads over their rated value of the iterative one, a row gains
 *
 *   a dT + b dT^2 + sum_j d_j x_j dT
 *
 * R_j are outputs minus their zero, or as logged where the file says outputs_from natural zero, in the balance's output unit; A and B give N and N m, C the output unit.
 * Products in the order (1,1) (1,2) .. (1,6) (2,2) .. (6,6); terms of loads in that of
 * calibration_load_term_name(). Ingest reads the file and writes it here; reduce reads it back.    */
#ifndef LAPWING_CALIBRATION_H
#define LAPWING_CALIBRATION_H

#include <stddef.h>

#include "schema/campaign.h"
#include "schema/digest.h"
#include "schema/fault.h"

struct store;

enum {
    CALIBRATION_PRODUCTS = 21,
    CALIBRATION_TERMS = LOAD_COUNT + CALIBRATION_PRODUCTS,
    CALIBRATION_LOAD_TERMS = 96,
    CALIBRATION_TEMPERATURE_TERMS = 2 + LOAD_COUNT
};

enum calibration_form { CALIBRATION_DIRECT, CALIBRATION_ITERATIVE };

struct calibration {
    enum calibration_form form;
    double linear[LOAD_COUNT][LOAD_COUNT];            /* direct: N or N m per output unit */
    double product[LOAD_COUNT][CALIBRATION_PRODUCTS]; /* direct: per output unit squared */
    int second_order;                                 /* direct; 0: products are not given, all 0 */
    double output[LOAD_COUNT]
                 [CALIBRATION_LOAD_TERMS]; /* iterative: output unit; 0 where not given */
    double rated[LOAD_COUNT];              /* N, N m; NAN where the file does not say, */
    double lowest[LOAD_COUNT];             /*   which an iterative one always does */
    double highest[LOAD_COUNT];            /* loads that the calibration went to */
    double residual_sd[LOAD_COUNT];        /* of the fit, share of rated; NAN */
    double temperature[LOAD_COUNT]
                      [CALIBRATION_TEMPERATURE_TERMS]; /* a, b, d_1 .. d_6 of each row */
    int has_temperature; /* 1: any of them is not 0; then the next are known */
    double temperature_reference, temperature_lowest, temperature_highest; /* K; NAN */
    int from_natural_zero; /* 1: R are outputs as logged, from the natural zero; 0: minus the run's zero */
    double valid_from,
        valid_until;          /* s since 1970-01-01T00:00:00Z; NAN where the file does not say */
    char sha256[DIGEST_TEXT]; /* of the file's bytes */
};

/* One that says nothing: NAN and 0. */
struct calibration calibration_empty(void);

/* "Fx" .. "Mz", and the SI unit "N" or "N m"; load 0 .. 5. */
const char *calibration_load_name(size_t load);
const char *calibration_load_unit(size_t load);

/* "R1" .. "R6", "R1*R1", "R1*R2" .. "R6*R6"; term 0 .. 26. */
const char *calibration_term_name(size_t term);

/* "Fx" .. "Mz", "|Fx|" .., "Fx*Fx" .., "Fx*|Fx|" .., "Fx*Fy" .., "|Fx*Fy|" .., "Fx*|Fy|" ..,
 * "|Fx|*Fy" .., "Fx*Fx*Fx" .., "|Fx*Fx*Fx|" ..; term 0 .. 95. */
const char *calibration_load_term_name(size_t term);

/* The term of loads with this name; CALIBRATION_LOAD_TERMS when there is none. */
size_t calibration_load_term(const char *name);

/* "dT", "dT*dT", then "R1*dT" .. of the direct form or "Fx*dT" .. of the iterative one; term 0 .. 7. */
const char *calibration_temperature_name(enum calibration_form form, size_t term);

/* The temperature term with this name; CALIBRATION_TEMPERATURE_TERMS when there is none. */
size_t calibration_temperature_term(enum calibration_form form, const char *name);

/* 1 when any temperature term is not 0. */
int calibration_has_temperature(const struct calibration *calibration);

/* 1 when the linear terms do not tell the six loads apart: six outputs do not give six loads, nor six
 * loads six outputs. Judged after rows and columns are brought to a largest element of 1, so that units
 * do not matter, by elimination with complete pivoting; a pivot below 1e-9 counts as 0.
 * Source of the method: G. H. Golub, C. F. Van Loan, Matrix Computations (4th ed., 2013), 3.4.8;
 * common practice, no source, for the limit. */
int calibration_is_singular(const struct calibration *calibration);

/* 1 when the linear terms look as if rows and columns were exchanged: every output answers most to the
 * load of its own number only after turning the matrix round. rated: N, N m, 0 or NAN where not known; a
 * direct form with a load not rated is not judged. Common practice, no source. */
int calibration_is_transposed(const struct calibration *calibration,
                              const double rated[LOAD_COUNT]);

/* Writes, or replaces, the calibration of a balance read from `file` with outputs in output_unit. */
enum status calibration_store(struct store *store, const char *balance, const char *file,
                              const char *output_unit, const struct calibration *calibration,
                              struct fault *fault);

#endif
