/* calibration.h - a balance's calibration as declared in its file, and where the store keeps it.
 *
 *   F_i = sum_j A_ij R_j + sum_{j<=k} B_ijk R_j R_k        i = Fx Fy Fz Mx My Mz
 *
 * R_j are outputs minus their zero in the balance's output unit; A and B give N and N m. Products in
 * the order (1,1) (1,2) .. (1,6) (2,2) .. (6,6). Ingest reads the file and writes it here; reduce
 * reads it back.                                                                                   */
#ifndef LAPWING_CALIBRATION_H
#define LAPWING_CALIBRATION_H

#include <stddef.h>

#include "schema/campaign.h"
#include "schema/digest.h"
#include "schema/fault.h"

struct store;

enum { CALIBRATION_PRODUCTS = 21, CALIBRATION_TERMS = LOAD_COUNT + CALIBRATION_PRODUCTS };

struct calibration {
    double linear[LOAD_COUNT][LOAD_COUNT];            /* N or N m per output unit */
    double product[LOAD_COUNT][CALIBRATION_PRODUCTS]; /* per output unit squared */
    int second_order;                                 /* 0: products are not given, all 0 */
    double valid_from,
        valid_until;          /* s since 1970-01-01T00:00:00Z; NAN where the file does not say */
    char sha256[DIGEST_TEXT]; /* of the file's bytes */
};

/* "Fx" .. "Mz", and the SI unit "N" or "N m"; load 0 .. 5. */
const char *calibration_load_name(size_t load);
const char *calibration_load_unit(size_t load);

/* "R1" .. "R6", "R1*R1", "R1*R2" .. "R6*R6"; term 0 .. 26. */
const char *calibration_term_name(size_t term);

/* 1 when the linear terms do not tell the six loads apart: six outputs do not give six loads, nor six
 * loads six outputs. Judged after rows and columns are brought to a largest element of 1, so that units
 * do not matter, by elimination with complete pivoting; a pivot below 1e-9 counts as 0.
 * Source of the method: G. H. Golub, C. F. Van Loan, Matrix Computations (4th ed., 2013), 3.4.8;
 * common practice, no source, for the limit. */
int calibration_is_singular(const struct calibration *calibration);

/* Writes, or replaces, the calibration of a balance read from `file` with outputs in output_unit. */
enum status calibration_store(struct store *store, const char *balance, const char *file,
                              const char *output_unit, const struct calibration *calibration,
                              struct fault *fault);

#endif
