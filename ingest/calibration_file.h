/* calibration_file.h - a balance's calibration file.
 *
 * Columns load, unit, and if wanted balance, valid_from and valid_until (a date with zone; the name must
 * be the campaign's; every row says the same); then the six terms R1 .. R6 or those and the 21 products R1*R1 .. R6*R6, in any
 * order, nothing else; six rows Fx Fy Fz Mx My Mz, in any order, whose linear terms tell six loads
 * apart. unit is the load's unit per unit of
 * output (to the power of the term).                                                               */
#ifndef LAPWING_CALIBRATION_FILE_H
#define LAPWING_CALIBRATION_FILE_H

#include "ingest/problems.h"
#include "schema/calibration.h"
#include "schema/units.h"

/* Reads path (name as the user knows it), the calibration of the balance of that name. What is wrong becomes problems, and *calibration is then
 * not whole. Gives OK unless memory or the like fails. */
enum status calibration_file_read(const char *path, const char *name, const char *balance,
                                  struct units *units, struct problems *problems,
                                  struct calibration *calibration, struct fault *fault);

#endif
