/* calibration_read.h - a balance's calibration out of the store, and into the key of a reduction. */
#ifndef LAPWING_CALIBRATION_READ_H
#define LAPWING_CALIBRATION_READ_H

#include "reduce/key_text.h"
#include "reduce/physics/balance.h"
#include "schema/fault.h"
#include "schema/store.h"

/* Reads all coefficients of a balance: terms "R1" .. "R6" and, for a second-order one, "R1*R1" ..
 * "R6*R6", in N or N m per output unit. NO_RESULT: the store has no calibration of that name, one
 * without all 36 linear terms, or a term that is none of these. */
enum status calibration_read(struct store *store, const char *balance,
                             struct balance_calibration *calibration, struct fault *fault);

/* Adds the file's hash and every coefficient to a key. */
enum status calibration_key(struct store *store, const char *balance, struct key_text *key,
                            struct fault *fault);

#endif
