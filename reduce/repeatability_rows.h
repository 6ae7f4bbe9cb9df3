/* repeatability_rows.h - the rows of an entry's repeatability in the store. */
#ifndef LAPWING_REPEATABILITY_ROWS_H
#define LAPWING_REPEATABILITY_ROWS_H

#include "reduce/night.h"
#include "reduce/statistics/variance_levels.h"
#include "schema/statement.h"

struct repeatability_writer {
    struct statement *level, *mean;
    int64_t reduction;
    const struct run_row *of; /* a run of the entry */
    double started;           /* s, of the entry */
};

struct repeatability_place {
    const char *quantity, *target;
};

/* On OK the caller ends *writer with repeatability_writer_end(). */
enum status repeatability_writer_open(const struct night *night, const struct run_row *of,
                                      int64_t reduction, struct repeatability_writer *writer,
                                      struct fault *fault);
void repeatability_writer_end(struct repeatability_writer *writer); /* an empty one is fine */

enum status repeatability_write_level(struct repeatability_writer *writer,
                                      const struct repeatability_place *place,
                                      enum variance_level level, struct variance_estimate estimate,
                                      size_t measurements, struct fault *fault);

enum status repeatability_write_mean(struct repeatability_writer *writer,
                                     const struct repeatability_place *place,
                                     const char *configuration, size_t mountings, double mean,
                                     struct fault *fault);

#endif
