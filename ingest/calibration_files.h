/* calibration_files.h - the calibrations that campaign.yaml names, one after the other. */
#ifndef LAPWING_CALIBRATION_FILES_H
#define LAPWING_CALIBRATION_FILES_H

#include "schema/calibration.h"
#include "schema/campaign.h"
#include "schema/fault.h"

typedef void calibration_taker(void *context, const struct balance *balance,
                               const struct calibration *calibration);

/* Hands each calibration that could be read without a problem to take; ingest tells of the others. Gives OK
 * unless memory or the unit database fails. */
enum status calibration_files_each(const char *folder, const struct campaign *campaign,
                                   calibration_taker *take, void *context, struct fault *fault);

#endif
