/* point_statistics.c - packing statistics into a blob, little endian whatever the machine. */
#include "schema/point_statistics.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

enum { DOUBLE_BYTES = 8 };

static void put_double(unsigned char *out, double value)
{
    uint64_t bits = 0;
    memcpy(&bits, &value, sizeof bits);
    for (unsigned i = 0; i < DOUBLE_BYTES; i++)
        out[i] = (unsigned char)(bits >> (8 * i));
}

static double get_double(const unsigned char *in)
{
    uint64_t bits = 0;
    double value = 0;
    for (unsigned i = 0; i < DOUBLE_BYTES; i++)
        bits |= (uint64_t)in[i] << (8 * i);
    memcpy(&value, &bits, sizeof value);
    return value;
}

void point_statistics_pack(const struct channel_statistics *channels, size_t n, unsigned char *out)
{
    for (size_t i = 0; i < n; i++) {
        const struct channel_statistics *c = &channels[i];
        const double fields[STATISTICS_PER_CHANNEL] = {c->n,
                                                       c->n_missing,
                                                       c->mean,
                                                       c->sd,
                                                       c->n_effective,
                                                       c->minimum,
                                                       c->maximum,
                                                       c->mean_first_half,
                                                       c->mean_second_half,
                                                       c->clipped,
                                                       c->stuck,
                                                       c->spiked,
                                                       c->mean_without_spikes,
                                                       c->local_deviation,
                                                       c->resolution,
                                                       c->repeated};
        for (size_t k = 0; k < STATISTICS_PER_CHANNEL; k++, out += DOUBLE_BYTES)
            put_double(out, fields[k]);
    }
}

enum status point_statistics_unpack(const void *blob, size_t size,
                                    struct channel_statistics *channels, size_t n,
                                    struct fault *fault)
{
    const size_t each = (size_t)STATISTICS_PER_CHANNEL * DOUBLE_BYTES;
    if (size / each != n || size % each != 0)
        return FAIL(fault, BAD_INPUT,
                    "a point's statistics have %zu bytes, its %zu channels need %zu; the database "
                    "is damaged: ingest the run again",
                    size, n, n * each);
    const unsigned char *in = blob;
    for (size_t i = 0; i < n; i++) {
        double fields[STATISTICS_PER_CHANNEL];
        for (size_t k = 0; k < STATISTICS_PER_CHANNEL; k++, in += DOUBLE_BYTES)
            fields[k] = get_double(in);
        channels[i] = (struct channel_statistics){
            fields[0],  fields[1],  fields[2],  fields[3],  fields[4],  fields[5],
            fields[6],  fields[7],  fields[8],  fields[9],  fields[10], fields[11],
            fields[12], fields[13], fields[14], fields[15], (double)NAN};
    }
    return OK;
}

double channel_standard_error(const struct channel_statistics *channel)
{
    if (!isfinite(channel->sd) || !isfinite(channel->n_effective) || channel->n_effective <= 0)
        return NAN;
    return channel->sd / sqrt(channel->n_effective);
}
