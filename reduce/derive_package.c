/* derive_package.c - packages against the sum of their parts. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/compare_plan.h"
#include "reduce/derive_work.h"
#include "reduce/rows.h"
#include "reduce/statistics/weighted_measure.h"

static const char parts_sql[] = "SELECT p.configuration, p.part FROM configuration_part AS p JOIN "
                                "configuration AS c ON c.configuration = p.configuration ORDER BY "
                                "c.sequence, p.position";

enum status derive_key_parts(const struct night *night, struct key_text *key, struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    enum status status = rows_open(night->store, parts_sql, NULL, 0, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        key_text_word(key, "package", statement_text(row, 0));
        key_text_word(key, "  part", statement_text(row, 1));
    }
    statement_free(row);
    return status;
}

struct package {
    size_t at;                                /* in the family */
    size_t parts[BRACKET_CONFIGURATIONS_MAX]; /* in the family; n_configurations: not run here */
    size_t n;
    struct key_text names;
};

static size_t find_configuration(const struct family *family, const char *name)
{
    size_t i = 0;
    while (i < family->n_configurations && strcmp(family->configurations[i], name) != 0)
        i++;
    return i;
}

/* missing: which part was not run here; "" for none. */
static enum status read_package(struct derive_work *work, size_t at, struct package *package,
                                char missing[100], struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    *package = (struct package){.at = at};
    missing[0] = '\0';
    enum status status =
        rows_open(work->night->store,
                  "SELECT part FROM configuration_part WHERE configuration = ?1 ORDER BY position",
                  &work->family.configurations[at], 1, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        const char *name = statement_text(row, 0);
        size_t part = find_configuration(&work->family, name);
        key_text_say(&package->names, "%s%.900s", package->n > 0 ? "; " : "", name);
        if (part == work->family.n_configurations && missing[0] == '\0')
            (void)snprintf(missing, 100, "%.60s was not run in this entry", name);
        if (package->n < BRACKET_CONFIGURATIONS_MAX)
            package->parts[package->n++] = part;
    }
    statement_free(row);
    return status == OK ? key_text_status(&package->names, fault) : status;
}

/* Deltas of the package and its parts alone, with their covariances. */
struct package_numbers {
    double deltas[BRACKET_CONFIGURATIONS_MAX + 1];
    double covariance[(BRACKET_CONFIGURATIONS_MAX + 1) * (BRACKET_CONFIGURATIONS_MAX + 1)];
    size_t parts[BRACKET_CONFIGURATIONS_MAX];
    double sum, freedom;
    int is_known; /* 1: all have uncertainties */
};

static void collect(const struct package *package, const struct measured_deltas *deltas,
                    struct package_numbers *numbers)
{
    size_t n = package->n + 1;
    numbers->sum = 0;
    numbers->freedom = (double)INFINITY;
    numbers->is_known = 1;
    for (size_t i = 0; i < n; i++) {
        size_t of = i == 0 ? package->at : package->parts[i - 1];
        const struct delta_reading *reading = &deltas->readings[of];
        numbers->deltas[i] = reading->delta;
        numbers->is_known &= measured_delta_is_known(deltas, of);
        numbers->freedom = fmin(numbers->freedom, reading->degrees_of_freedom);
        if (i > 0) {
            numbers->parts[i - 1] = i;
            numbers->sum += reading->delta;
        }
        for (size_t j = 0; j < n; j++) {
            size_t to = j == 0 ? package->at : package->parts[j - 1];
            numbers->covariance[i * n + j] = deltas->covariance[of * deltas->n + to];
        }
    }
}

static enum status write_package(struct derive_work *work, const struct package *package,
                                 enum quantity quantity, const double *values,
                                 const struct derived_interval *interval, const char *reason,
                                 struct fault *fault)
{
    const struct family *family = &work->family;
    const char *const texts[] = {family->configurations[package->at],
                                 family->configurations[0],
                                 quantity_row(quantity)->symbol,
                                 family->measures[work->measuring.measure],
                                 package->names.text,
                                 reason};
    const double reals[] = {values[0],
                            values[1],
                            values[2],
                            interval->standard,
                            interval->freedom,
                            interval->multiplier,
                            interval->half_width,
                            interval->lower,
                            interval->upper};
    return derive_write(work, work->package, texts, 6, reals, 9, fault);
}

static enum status compare_package(struct derive_work *work, const struct package *package,
                                   enum quantity quantity, const char *missing,
                                   struct package_numbers *numbers, struct fault *fault)
{
    const double nothing = (double)NAN;
    struct derived_interval none = {nothing, nothing, nothing, nothing, nothing, nothing};
    const struct measured_deltas *deltas = NULL;
    struct weighted_measure interaction = {nothing, nothing, 0};
    enum status status = derive_deltas(work, quantity, &deltas, fault);
    if (status != OK)
        return status;
    double values[] = {deltas->readings[package->at].delta, nothing, nothing};
    if (isnan(values[0]))
        return OK;
    if (missing[0] != '\0')
        return write_package(work, package, quantity, values, &none, missing, fault);
    collect(package, deltas, numbers);
    values[1] = numbers->sum;
    values[2] = values[0] - values[1];
    if (!numbers->is_known)
        return write_package(work, package, quantity, values, &none,
                             isnan(values[1]) ? "a part has no delta here"
                                              : "no interval: a delta has no uncertainty",
                             fault);
    enum outcome outcome = package_interaction(numbers->deltas, numbers->covariance, package->n + 1,
                                               0, numbers->parts, package->n, &interaction);
    if (outcome == OUTCOME_NO_MEMORY)
        return FAIL(fault, NO_MEMORY, "no memory for a package of %zu parts", package->n);
    if (outcome != OUTCOME_OK)
        return write_package(work, package, quantity, values, &none,
                             "no interval: the deltas' covariance is none", fault);
    struct derived_interval interval = derive_interval(
        interaction.value, interaction.standard, numbers->freedom, work->measuring.confidence);
    values[2] = interaction.value;
    return write_package(work, package, quantity, values, &interval, "", fault);
}

static enum status compare_quantities(struct derive_work *work, const struct package *package,
                                      const char *missing, struct fault *fault)
{
    struct compare_plan plan = compare_plan_make(work->night->campaign, &work->family);
    void *room = NULL;
    enum status status = array_make(&room, 1, sizeof(struct package_numbers), fault);
    for (size_t i = 0; status == OK && i < plan.n_quantities; i++)
        status = compare_package(work, package, plan.quantities[i], missing, room, fault);
    free(room);
    return status;
}

enum status derive_packages(struct derive_work *work, struct fault *fault)
{
    enum status status = OK;
    if (work->family.n_configurations > BRACKET_CONFIGURATIONS_MAX)
        return OK;
    for (size_t i = 1; status == OK && i < work->family.n_configurations; i++) {
        struct package package;
        char missing[100];
        status = read_package(work, i, &package, missing, fault);
        if (status == OK && package.n > 0)
            status = compare_quantities(work, &package, missing, fault);
        key_text_end(&package.names);
    }
    return status;
}
