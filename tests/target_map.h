/* target_map.h - a night whose downforce is a plane in both ride heights, about the target "low". */
#ifndef LAPWING_TEST_TARGET_MAP_H
#define LAPWING_TEST_TARGET_MAP_H

#include "tests/night_fixture.h"

/* CL at these ride heights, m; 3 at the target. A local fit must find it exactly. */
double target_map_downforce(double front, double rear);

/* Adds point P<number> to run r1, or to r2 from 21 on, with CL raised by level. */
void target_map_add(struct night_fixture *fixture, int number, double front, double rear,
                    double level);

/* Opens the fixture with two runs whose levels are 0.02 apart, each with a grid of points 4 mm wide
 * about the target, and P1 of r1 at these offsets from it, m. */
void target_map_open(struct night_fixture *fixture, double front, double rear);

void target_map_reduce(struct night_fixture *fixture);

/* A column, or an expression, of P1 in target_result; its method. */
double target_map_value(struct night_fixture *fixture, const char *column);
const char *target_map_method(struct night_fixture *fixture);

#endif
