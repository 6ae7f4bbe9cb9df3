/* glance_halves.c - the first and the second half of a point, each reduced as a point of its own.
 *
 * A trend within a point shows as the difference of its halves: in the metric itself, so that loads and
 * wind that move together cancel as they do in the point.                                          */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/glance_parts.h"
#include "reduce/inputs.h"
#include "reduce/point_rows.h"

/* The point's channels with the mean of one half in place of the whole. */
static void take_half(const struct point_row *point, size_t n, int half,
                      struct channel_statistics *channels)
{
    memcpy(channels, point->channels, n * sizeof *channels);
    for (size_t i = 0; i < n; i++)
        channels[i].mean = half == 0 ? channels[i].mean_first_half : channels[i].mean_second_half;
}

static double reduce_half(const struct run_work *work, const struct reduced_point *made,
                          enum quantity quantity, struct channel_statistics *channels)
{
    struct tunnel_inputs inputs;
    struct tunnel_result result;
    double values[QUANTITY_COUNT];
    struct point_row point = *made->point;
    point.channels = channels;
    inputs_fill(&work->recipe, &work->data, &point, &work->zeros, &inputs);
    boundary_taps_fill(work, &point, &inputs);
    memcpy(inputs.tare, made->inputs.tare, sizeof inputs.tare);
    memcpy(inputs.belt_tare, made->inputs.belt_tare, sizeof inputs.belt_tare);
    memcpy(inputs.support, made->inputs.support, sizeof inputs.support);
    memcpy(inputs.interference, made->inputs.interference, sizeof inputs.interference);
    memcpy(inputs.cell_tare, made->inputs.cell_tare, sizeof inputs.cell_tare);
    if (tunnel_point_reduce(&work->recipe.tunnel, &inputs, &result) != OUTCOME_OK)
        return (double)NAN;
    quantities_from_coefficients(result.corrected, work->recipe.tunnel.reference_area, values);
    return values[quantity];
}

void glance_halves(const struct run_work *work, const struct reduced_point *made,
                   enum quantity quantity, double half[2])
{
    size_t n = work->data.n_channels;
    struct channel_statistics *channels = calloc(n + 1, sizeof *channels);
    half[0] = half[1] = (double)NAN;
    if (channels == NULL)
        return; /* no halves is what a reader sees of a point without them */
    for (int i = 0; i < 2; i++) {
        take_half(made->point, n, i, channels);
        half[i] = reduce_half(work, made, quantity, channels);
    }
    free(channels);
}
