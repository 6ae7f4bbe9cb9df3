/* record_temperature.h - are the balance and the pressure scanner at the temperature of their zero? */
#ifndef LAPWING_RECORD_TEMPERATURE_H
#define LAPWING_RECORD_TEMPERATURE_H

#include "reduce/record_run.h"

/* Flags, each once a run with the points it concerns: the balance's rear end more than 2 K from its
 * front; either end, or the scanner, more than 1 K from where it was in the zero before the run (common
 * practice, no source). Runs without the zero's temperature have no drift to be judged. */
enum status record_temperature_judge(struct record_run *run, struct fault *fault);

#endif
