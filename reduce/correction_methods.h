/* correction_methods.h - every boundary correction in force, in words, for explain and the page: its
 * equation, how far it is known to hold, where it is from, what could not be verified, and what was found
 * from the measurements that the campaign declares.                                                */
#ifndef LAPWING_CORRECTION_METHODS_H
#define LAPWING_CORRECTION_METHODS_H

#include "schema/campaign.h"
#include "schema/store.h"

/* Fills the table correction_method anew, in a transaction of its own. */
enum status correction_methods_write(struct store *store, const struct campaign *campaign,
                                     struct fault *fault);

#endif
