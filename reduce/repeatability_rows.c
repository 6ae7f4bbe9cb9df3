/* repeatability_rows.c - see repeatability_rows.h. */
#include "reduce/repeatability_rows.h"

#include "reduce/repeatability.h"

enum status repeatability_writer_open(const struct night *night, const struct run_row *of,
                                      int64_t reduction, struct repeatability_writer *writer,
                                      struct fault *fault)
{
    *writer = (struct repeatability_writer){NULL, NULL, reduction, of,
                                            repeatability_entry_start(night, of)};
    enum status status = statement_prepare(
        night->store,
        "INSERT INTO repeatability (reduction, facility, entry, started_s, quantity, target, "
        "level, "
        "variance, degrees_of_freedom, measurements) VALUES (?,?,?,?,?,?,?,?,?,?)",
        &writer->level, fault);
    if (status == OK)
        status = statement_prepare(
            night->store,
            "INSERT INTO entry_mean (reduction, facility, entry, started_s, quantity, target, "
            "configuration, mountings, mean) VALUES (?,?,?,?,?,?,?,?,?)",
            &writer->mean, fault);
    if (status != OK)
        repeatability_writer_end(writer);
    return status;
}

void repeatability_writer_end(struct repeatability_writer *writer)
{
    statement_free(writer->level);
    statement_free(writer->mean);
    writer->level = NULL;
    writer->mean = NULL;
}

/* Binds what both tables begin with, and the text that comes seventh. */
static enum status bind_place(const struct repeatability_writer *writer, struct statement *insert,
                              const struct repeatability_place *place, const char *seventh,
                              struct fault *fault)
{
    enum status status = statement_bind_integer(insert, 1, writer->reduction, fault);
    if (status == OK)
        status = statement_bind_text(insert, 2, writer->of->facility, fault);
    if (status == OK)
        status = statement_bind_text(insert, 3, writer->of->entry, fault);
    if (status == OK)
        status = statement_bind_real(insert, 4, writer->started, fault);
    if (status == OK)
        status = statement_bind_text(insert, 5, place->quantity, fault);
    if (status == OK)
        status = statement_bind_text(insert, 6, place->target, fault);
    if (status == OK)
        status = statement_bind_text(insert, 7, seventh, fault);
    return status;
}

enum status repeatability_write_level(struct repeatability_writer *writer,
                                      const struct repeatability_place *place,
                                      enum variance_level level, struct variance_estimate estimate,
                                      size_t measurements, struct fault *fault)
{
    enum status status =
        bind_place(writer, writer->level, place, variance_level_words(level), fault);
    if (status == OK)
        status = statement_bind_real(writer->level, 8, estimate.variance, fault);
    if (status == OK)
        status = statement_bind_real(writer->level, 9, estimate.freedom, fault);
    if (status == OK)
        status = statement_bind_integer(writer->level, 10, (int64_t)measurements, fault);
    return status == OK ? statement_run(writer->level, fault) : status;
}

enum status repeatability_write_mean(struct repeatability_writer *writer,
                                     const struct repeatability_place *place,
                                     const char *configuration, size_t mountings, double mean,
                                     struct fault *fault)
{
    enum status status = bind_place(writer, writer->mean, place, configuration, fault);
    if (status == OK)
        status = statement_bind_integer(writer->mean, 8, (int64_t)mountings, fault);
    if (status == OK)
        status = statement_bind_real(writer->mean, 9, mean, fault);
    return status == OK ? statement_run(writer->mean, fault) : status;
}
