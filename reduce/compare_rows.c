/* compare_rows.c - writing a comparison; see compare_rows.h. */
#include "reduce/compare_rows.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"
#include "schema/bind_row.h"

enum status compare_writer_open(struct store *store, int64_t reduction,
                                struct compare_writer *writer, struct fault *fault)
{
    *writer = (struct compare_writer){NULL, NULL, NULL, reduction};
    enum status status = statement_prepare(
        store,
        "INSERT INTO observation (reduction, configuration, quantity, target, runs, mounting, "
        "time_s, value, baseline_here, delta) VALUES (?,?,?,?,?,?,?,?,?,?)",
        &writer->observation, fault);
    if (status == OK)
        status = statement_prepare(
            store,
            "INSERT INTO delta_result (reduction, configuration, baseline, quantity, target, "
            "verdict, reason, delta, standard_uncertainty, degrees_of_freedom, half_width, lower, "
            "upper, multiplier, beside_delta, beside_standard_uncertainty, "
            "beside_degrees_of_freedom, shrunk, shrunk_standard_uncertainty, pairs_needed, method, "
            "noise_source, is_main, mountings, baseline_mountings, real_but_small, disagrees) "
            "VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
            &writer->delta, fault);
    if (status == OK)
        status = statement_prepare(store,
                                   "INSERT INTO noise (reduction, quantity, target, "
                                   "standard_deviation, degrees_of_freedom) VALUES (?,?,?,?,?)",
                                   &writer->noise, fault);
    if (status != OK)
        compare_writer_end(writer);
    return status;
}

void compare_writer_end(struct compare_writer *writer)
{
    statement_free(writer->observation);
    statement_free(writer->delta);
    statement_free(writer->noise);
    writer->observation = NULL;
    writer->delta = NULL;
    writer->noise = NULL;
}

/* Names of the runs that a mounting's value is the mean of, comma and blank between. The caller owns
 * *names. */
static enum status join_runs(const struct family *family, const struct evidence *evidence,
                             const struct mounting_value *mounting, char **names,
                             struct fault *fault)
{
    size_t size = 1;
    size_t length = 0;
    void *array = NULL;
    for (size_t i = 0; i < family->n_runs; i++)
        size += strlen(family->runs[i].run->run) + 2;
    enum status status = array_make(&array, size, 1, fault);
    *names = array;
    for (size_t i = 0; status == OK && i < family->n_runs; i++) {
        const struct family_run *run = &family->runs[i];
        if (run->configuration != mounting->configuration || run->mounting != mounting->mounting ||
            !isfinite(family_value(family, i, evidence->measure, evidence->quantity)))
            continue;
        const char *comma = length == 0 ? "" : ", ";
        length += (size_t)snprintf(*names + length, size - length, "%s%s", comma, run->run->run);
    }
    return status;
}

static enum status write_observation(struct compare_writer *writer, const struct family *family,
                                     const struct evidence *evidence,
                                     const struct mounting_value *mounting, struct fault *fault)
{
    char *names = NULL;
    double here = (double)NAN;
    enum status status = join_runs(family, evidence, mounting, &names, fault);
    if (status != OK)
        return status;
    if (mounting->configuration != 0)
        here = evidence_baseline_at(evidence, mounting->time);
    const char *const texts[] = {family->configurations[mounting->configuration],
                                 quantity_row(evidence->quantity)->symbol,
                                 family->measures[evidence->measure], names};
    const double values[] = {mounting->time, mounting->value, here, mounting->value - here};
    status = statement_bind_integer(writer->observation, 1, writer->reduction, fault);
    if (status == OK)
        status = bind_texts(writer->observation, 2, texts, 4, fault);
    if (status == OK)
        status = statement_bind_integer(writer->observation, 6, (int64_t)mounting->mounting, fault);
    if (status == OK)
        status = bind_reals(writer->observation, 7, values, 4, fault);
    if (status == OK)
        status = statement_run(writer->observation, fault);
    free(names);
    return status;
}

enum status compare_write_observations(struct compare_writer *writer, const struct family *family,
                                       const struct evidence *evidence, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < evidence->n; i++)
        status = write_observation(writer, family, evidence, &evidence->mountings[i], fault);
    return status;
}

enum status compare_write_delta(struct compare_writer *writer, const struct family *family,
                                const struct evidence *evidence, size_t configuration, int is_main,
                                const struct delta_reading *reading, struct fault *fault)
{
    const char *const texts[] = {family->configurations[configuration],
                                 family->configurations[0],
                                 quantity_row(evidence->quantity)->symbol,
                                 family->measures[evidence->measure],
                                 reading->verdict,
                                 reading->reason};
    const double values[] = {
        reading->delta,
        reading->standard_uncertainty,
        reading->degrees_of_freedom,
        reading->half_width,
        reading->lower,
        reading->upper,
        reading->multiplier,
        reading->beside.delta,
        reading->beside.standard_error,
        isfinite(reading->beside.standard_error) ? reading->beside.degrees_of_freedom : (double)NAN,
        reading->shrunk,
        reading->shrunk_uncertainty};
    const char *const methods[] = {reading->method, reading->noise_source};
    const int64_t integers[] = {is_main, (int64_t)reading->mountings,
                                (int64_t)reading->baseline_mountings, reading->real_but_small,
                                reading->disagrees};
    enum status status = statement_bind_integer(writer->delta, 1, writer->reduction, fault);
    if (status == OK)
        status = bind_texts(writer->delta, 2, texts, 6, fault);
    if (status == OK)
        status = bind_reals(writer->delta, 8, values, 12, fault);
    if (status == OK && reading->pairs_needed > 0)
        status = statement_bind_integer(writer->delta, 20, (int64_t)reading->pairs_needed, fault);
    else if (status == OK)
        status = statement_bind_real(writer->delta, 20, (double)NAN, fault);
    if (status == OK)
        status = bind_texts(writer->delta, 21, methods, 2, fault);
    for (int i = 0; status == OK && i < 5; i++)
        status = statement_bind_integer(writer->delta, 23 + i, integers[i], fault);
    return status == OK ? statement_run(writer->delta, fault) : status;
}

enum status compare_write_noise(struct compare_writer *writer, const struct family *family,
                                const struct evidence *evidence, struct fault *fault)
{
    const struct bracket_noise *noise = &evidence->bracket.noise;
    if (!evidence_has_noise(evidence))
        return OK;
    const char *const texts[] = {quantity_row(evidence->quantity)->symbol,
                                 family->measures[evidence->measure]};
    const double values[] = {noise->standard_deviation, noise->degrees_of_freedom};
    enum status status = statement_bind_integer(writer->noise, 1, writer->reduction, fault);
    if (status == OK)
        status = bind_texts(writer->noise, 2, texts, 2, fault);
    if (status == OK)
        status = bind_reals(writer->noise, 4, values, 2, fault);
    return status == OK ? statement_run(writer->noise, fault) : status;
}
