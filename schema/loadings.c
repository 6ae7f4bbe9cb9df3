/* loadings.c - see loadings.h. */
#include "schema/loadings.h"

#include <stdlib.h>
#include <string.h>

void loadings_free(struct loadings *loadings)
{
    for (size_t i = 0; loadings->series != NULL && i < loadings->n_series; i++)
        free(loadings->series[i]);
    free(loadings->series);
    free(loadings->rows);
    free(loadings->name);
    memset(loadings, 0, sizeof *loadings);
}
