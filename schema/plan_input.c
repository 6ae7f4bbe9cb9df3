/* plan_input.c - see plan_input.h. */
#include "schema/plan_input.h"

#include <stdlib.h>

void plan_input_end(struct plan_input *input)
{
    for (size_t i = 0; input->configurations != NULL && i < input->n_configurations; i++) {
        free(input->configurations[i].name);
        free(input->configurations[i].change);
    }
    free(input->configurations);
    campaign_free(input->campaign);
    *input = (struct plan_input){.campaign = NULL};
}
