/* calibration_validity.h - was the balance's calibration valid when the run was made? */
#ifndef LAPWING_CALIBRATION_VALIDITY_H
#define LAPWING_CALIBRATION_VALIDITY_H

#include "reduce/flagging.h"
#include "reduce/night.h"

/* *expired is 1, and *note says by how much, when the run began before valid_from or after valid_until of
 * the calibration file of its balance; 0 where the file gives no such date. Gives OK unless the store
 * fails. */
enum status calibration_validity(const struct night *night, const struct run_row *run, int *expired,
                                 struct flag_note *note, struct fault *fault);

#endif
