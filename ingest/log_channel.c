/* log_channel.c - see log_channel.h. */
#include "ingest/log_channel.h"

#include <stdlib.h>

void log_channel_free(struct log_channel *channel)
{
    free(channel->column);
    free(channel->tap);
    free(channel->unit);
    free(channel->written_unit);
    *channel = (struct log_channel){0};
}

int role_in_covariance(enum role role)
{
    return (role >= ROLE_BALANCE_OUTPUT_1 && role <= ROLE_YAW_COEFFICIENT) ||
           (role >= ROLE_TOTAL_PRESSURE && role <= ROLE_DYNAMIC_PRESSURE) ||
           (role >= ROLE_HEIGHT_SENSOR_1 && role <= ROLE_BELT_LOAD);
}
