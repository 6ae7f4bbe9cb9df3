/* calibration_read.h - a balance's calibration out of the store, and into the key of a reduction. */
#ifndef LAPWING_CALIBRATION_READ_H
#define LAPWING_CALIBRATION_READ_H

#include "reduce/key_text.h"
#include "reduce/physics/balance.h"
#include "schema/fault.h"
#include "schema/store.h"

/* Reads the calibration of a balance, of either form, and makes it ready (calibration_make.h). NO_RESULT: the
 * store has no calibration of that name, one without all 36 linear terms, a term that is none of its form's,
 * or one that can't be used. */
enum status calibration_read(struct store *store, const char *balance,
                             struct balance_calibration *calibration, struct fault *fault);

/* Adds the file's hash and every coefficient to a key. */
enum status calibration_key(struct store *store, const char *balance, struct key_text *key,
                            struct fault *fault);

#endif
