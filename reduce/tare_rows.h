/* tare_rows.h - the fit of a run's weight tare in the store. */
#ifndef LAPWING_TARE_ROWS_H
#define LAPWING_TARE_ROWS_H

#include <stdint.h>

#include "reduce/reduced_point.h"

/* Keeps what was fitted with a point reduction; nothing when nothing was. */
enum status tare_fit_write(const struct run_work *work, int64_t reduction, struct fault *fault);

#endif
