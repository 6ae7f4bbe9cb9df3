/* fault_gusts.h - wind with gusts, made of a log of steady wind. */
#ifndef LAPWING_TESTS_FAULT_GUSTS_H
#define LAPWING_TESTS_FAULT_GUSTS_H

#include <stdint.h>

#include "tests/faults/fault_log.h"

/* In every point of a force log one gust, a raised cosine of 0.6 s, in the first two seconds: p0 - p rises
 * or falls by 2 to 4 %, the outputs R1, R3 and R5 with it (whole: their zeros are small), and the
 * belt, which follows the speed, by half. 0 on failure. */
int gusts_add(struct fault_log *log, uint64_t *state);

#endif
