/* compare_rows.h - the rows of a comparison in the store: observations, deltas, noise. */
#ifndef LAPWING_COMPARE_ROWS_H
#define LAPWING_COMPARE_ROWS_H

#include "reduce/delta_reading.h"
#include "reduce/family.h"

struct compare_writer {
    struct statement *observation, *delta, *noise;
    int64_t reduction;
};

/* On OK the caller ends *writer with compare_writer_end(). */
enum status compare_writer_open(struct store *store, int64_t reduction,
                                struct compare_writer *writer, struct fault *fault);
void compare_writer_end(struct compare_writer *writer); /* an empty one is fine */

/* One row a mounting, the baseline's included. */
enum status compare_write_observations(struct compare_writer *writer, const struct family *family,
                                       const struct evidence *evidence, struct fault *fault);

enum status compare_write_delta(struct compare_writer *writer, const struct family *family,
                                const struct evidence *evidence, size_t configuration, int is_main,
                                const struct delta_reading *reading, struct fault *fault);

/* Nothing when the noise is not estimable. */
enum status compare_write_noise(struct compare_writer *writer, const struct family *family,
                                const struct evidence *evidence, struct fault *fault);

#endif
