/* sentinel_watch.c - see sentinel_watch.h. */
#include "ingest/sentinel_watch.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/utf8.h"

/* Common practice of loggers, no source; the rails of 16-bit converters are among them. */
static const double usual[] = {-999,  -9999,  -99999, 9999, 99999, 999999,
                               32767, -32768, 65535,  1e38, -1e38};

enum { USUAL = sizeof usual / sizeof usual[0], LEAST_ROWS = 2 };

static const double share_of_rows = 0.01;

enum status sentinel_watch_make(struct sentinel_watch *watch, size_t n, struct fault *fault)
{
    watch->n = n;
    watch->counts = calloc(n * USUAL + 1, sizeof *watch->counts);
    return watch->counts != NULL ? OK : FAIL(fault, NO_MEMORY, "no memory to watch a log's values");
}

void sentinel_watch_free(struct sentinel_watch *watch)
{
    free(watch->counts);
    *watch = (struct sentinel_watch){NULL, 0};
}

void sentinel_watch_take(struct sentinel_watch *watch, size_t channel, double value)
{
    for (size_t i = 0; i < USUAL; i++)
        watch->counts[channel * USUAL + i] += value == usual[i];
}

static void add_suspect(struct log_record *record, const char *column, double value, size_t rows)
{
    if (record->n_suspects < LOG_SUSPECTS_MAX) {
        struct log_suspect *suspect = &record->suspects[record->n_suspects];
        suspect->value = value;
        suspect->rows = rows;
        (void)snprintf(suspect->column, sizeof suspect->column, "%s", column);
        suspect->column[utf8_valid_length(suspect->column, strlen(suspect->column))] = '\0';
    }
    record->n_suspects++;
}

void sentinel_watch_finish(const struct sentinel_watch *watch, struct log_record *record)
{
    for (size_t channel = 0; channel < watch->n; channel++)
        for (size_t i = 0; i < USUAL; i++) {
            size_t rows = watch->counts[channel * USUAL + i];
            if (rows >= LEAST_ROWS && (double)rows > share_of_rows * (double)record->rows_read)
                add_suspect(record, record->channels[channel].column, usual[i], rows);
        }
}
