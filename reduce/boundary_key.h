/* boundary_key.h - the part of a point reduction's key that is the facility's boundary corrections. */
#ifndef LAPWING_BOUNDARY_KEY_H
#define LAPWING_BOUNDARY_KEY_H

#include "reduce/key_text.h"
#include "schema/campaign.h"

/* Adds every block that is given, number by number. */
void boundary_key(const struct boundary *boundary, struct key_text *key);

#endif
