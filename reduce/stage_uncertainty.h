/* stage_uncertainty.h - what every point of a configuration is uncertain by, after its points are brought to
 * their targets, whose slopes tell what an error of the attitude does. Writes point_uncertainty,
 * point_budget and uncertainty_source.                                                             */
#ifndef LAPWING_STAGE_UNCERTAINTY_H
#define LAPWING_STAGE_UNCERTAINTY_H

#include "reduce/groups.h"

enum status stage_uncertainty(const struct night *night, const struct run_group *group, int *fresh,
                              struct fault *fault);

/* Adds the declared uncertainties of a facility to a key. */
struct key_text;
void uncertainty_key_add(const struct campaign *campaign, const char *facility,
                         struct key_text *key);

#endif
