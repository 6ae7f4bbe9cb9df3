/* log_record.c - see log_record.h. */
#include "ingest/log_record.h"

#include <stdlib.h>
#include <string.h>

void log_point_free(struct log_point *point)
{
    free(point->label);
    free(point->statistics);
    free(point->covariance);
    *point = (struct log_point){0};
}

void log_record_free(struct log_record *record)
{
    if (record == NULL)
        return;
    for (size_t i = 0; record->channels != NULL && i < record->n_channels; i++)
        log_channel_free(&record->channels[i]);
    for (size_t i = 0; i < record->n_points; i++)
        log_point_free(&record->points[i]);
    for (size_t i = 0; i < record->n_traces; i++)
        log_trace_end(&record->traces[i]);
    free(record->traces);
    free(record->channels);
    free(record->covaried);
    free(record->points);
    free(record);
}

struct log_point *log_record_point(const struct log_record *record, const char *label,
                                   size_t length)
{
    for (size_t i = 0; i < record->n_points; i++)
        if (strlen(record->points[i].label) == length &&
            memcmp(record->points[i].label, label, length) == 0)
            return &record->points[i];
    return NULL;
}
