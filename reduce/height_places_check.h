/* height_places_check.h - do the places of a facility's height sensors fix the ride heights at all? */
#ifndef LAPWING_HEIGHT_PLACES_CHECK_H
#define LAPWING_HEIGHT_PLACES_CHECK_H

#include <stddef.h>

#include "schema/campaign.h"

/* Writes what is wrong into text (size bytes) and gives the sensor it is told at; NULL when nothing is.
 * Two at one place (within a millimetre) are told first, then too few or on one line, with the rank and
 * what stays open. */
const struct height_sensor *height_places_check(const struct facility *facility, char *text,
                                                size_t size);

#endif
