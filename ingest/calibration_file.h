/* calibration_file.h - a balance's calibration file, of one of two forms.
 *
 * Direct, loads from outputs: a row a load Fx Fy Fz Mx My Mz, in any order; columns load, unit (of the load per
 * unit of output, to the power of the term), the six terms R1 .. R6 or those and the 21 products R1*R1 ..
 * R6*R6; if wanted rated, lowest, highest (in the row's unit) and residual_sd (% of the rated load).
 *
 * Iterative, outputs from loads: the column output says what a row is of. Rows R1 .. R6 hold coefficients
 * in units of output, columns are terms of loads over their rated value: Fx .. Mz and any of the
 * other 90 (schema/calibration.h); what has no column is 0. Rows rated, lowest and highest hold the loads with
 * their unit ("1500 N") below Fx .. Mz, residual_sd, if wanted, per cent of the rated load.
 *
 * Both: if wanted balance, outputs (the unit of the outputs; both must be the campaign's), valid_from and
 * valid_until (a date with zone), outputs_from (natural zero: of outputs as logged; zero: minus the run's zero,
 * as without the column), loadings_sha256 and the temperatures with their unit, temperature_reference,
 * temperature_lowest and temperature_highest, where every row says the same. Nothing else but the
 * terms in temperature, dT, dT*dT and R1*dT .. (direct) or Fx*dT .. (iterative), which need those temperatures. The
 * linear terms must tell six loads apart.                                                          */
#ifndef LAPWING_CALIBRATION_FILE_H
#define LAPWING_CALIBRATION_FILE_H

#include "ingest/problems.h"
#include "schema/calibration.h"
#include "schema/units.h"

/* Reads path (name as the user knows it), the calibration of that balance of the campaign. What is wrong
 * becomes problems, and *calibration is then not whole. Gives OK unless memory or the like fails. */
enum status calibration_file_read(const char *path, const char *name, const struct balance *balance,
                                  struct units *units, struct problems *problems,
                                  struct calibration *calibration, struct fault *fault);

#endif
