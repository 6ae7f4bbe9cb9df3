/* calibration_store.c - a calibration into the store; see calibration.h. */
#include "schema/calibration.h"

#include <stdio.h>

#include "schema/store.h"

/* One calibration on its way into the store. */
struct storing {
    struct store *store;
    const char *balance, *file, *output_unit;
    const struct calibration *calibration;
};

/* Runs one statement whose only argument is the balance. */
static enum status run_for_balance(const struct storing *storing, const char *sql,
                                   struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = statement_prepare(storing->store, sql, &statement, fault);
    if (status == OK)
        status = statement_bind_text(statement, 1, storing->balance, fault);
    if (status == OK)
        status = statement_run(statement, fault);
    statement_free(statement);
    return status;
}

static enum status bind_file(struct statement *statement, const struct storing *storing,
                             struct fault *fault)
{
    const struct calibration *calibration = storing->calibration;
    const char *form = calibration->form == CALIBRATION_DIRECT ? "direct" : "iterative";
    const char *const texts[] = {storing->balance, storing->file, calibration->sha256,
                                 storing->output_unit, form};
    enum status status = OK;
    for (int i = 0; i < 5 && status == OK; i++)
        status = statement_bind_text(statement, i + 1, texts[i], fault);
    if (status == OK)
        status = statement_bind_integer(statement, 6, calibration->second_order, fault);
    if (status == OK)
        status = statement_bind_real(statement, 7, calibration->valid_from, fault);
    const double rest[] = {calibration->valid_until, calibration->temperature_reference,
                           calibration->temperature_lowest, calibration->temperature_highest};
    for (int i = 0; i < 4 && status == OK; i++)
        status = statement_bind_real(statement, 8 + i, rest[i], fault);
    return status == OK
               ? statement_bind_integer(statement, 12, calibration->from_natural_zero, fault)
               : status;
}

static enum status store_file(const struct storing *storing, struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = statement_prepare(
        storing->store,
        "INSERT INTO calibration_file (balance, file, sha256, output_unit, form, second_order, "
        "valid_from_s, valid_until_s, temperature_reference_k, temperature_lowest_k, "
        "temperature_highest_k, from_natural_zero) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        &statement, fault);
    if (status == OK)
        status = bind_file(statement, storing, fault);
    if (status == OK)
        status = statement_run(statement, fault);
    statement_free(statement);
    return status;
}

static enum status store_load(struct statement *statement, const struct storing *storing,
                              size_t load, struct fault *fault)
{
    const struct calibration *calibration = storing->calibration;
    const char *const texts[] = {storing->balance, calibration_load_name(load),
                                 calibration_load_unit(load)};
    const double numbers[] = {calibration->rated[load], calibration->lowest[load],
                              calibration->highest[load], calibration->residual_sd[load]};
    enum status status = OK;
    for (int i = 0; i < 3 && status == OK; i++)
        status = statement_bind_text(statement, i + 1, texts[i], fault);
    for (int i = 0; i < 4 && status == OK; i++)
        status = statement_bind_real(statement, i + 4, numbers[i], fault);
    return status == OK ? statement_run(statement, fault) : status;
}

static enum status store_loads(const struct storing *storing, struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = statement_prepare(
        storing->store,
        "INSERT INTO calibration_load (balance, load, unit, rated, lowest, highest, "
        "residual_sd) VALUES (?, ?, ?, ?, ?, ?, ?)",
        &statement, fault);
    for (size_t load = 0; load < LOAD_COUNT && status == OK; load++)
        status = store_load(statement, storing, load, fault);
    statement_free(statement);
    return status;
}

/* The row's load or output, the term's name, the coefficient and its unit. */
struct coefficient {
    char row[8];
    const char *term;
    double value;
    char unit[160];
};

static struct coefficient direct_coefficient(const struct storing *storing, size_t load,
                                             size_t term)
{
    const struct calibration *calibration = storing->calibration;
    int is_linear = term < LOAD_COUNT;
    struct coefficient made = {.term = calibration_term_name(term),
                               .value = is_linear ? calibration->linear[load][term]
                                                  : calibration->product[load][term - LOAD_COUNT]};
    (void)snprintf(made.row, sizeof made.row, "%s", calibration_load_name(load));
    (void)snprintf(made.unit, sizeof made.unit, "%s/(%.120s)%s", calibration_load_unit(load),
                   storing->output_unit, is_linear ? "" : "^2");
    return made;
}

static struct coefficient iterative_coefficient(const struct storing *storing, size_t output,
                                                size_t term)
{
    struct coefficient made = {.term = calibration_load_term_name(term),
                               .value = storing->calibration->output[output][term]};
    (void)snprintf(made.row, sizeof made.row, "R%zu", output + 1);
    (void)snprintf(made.unit, sizeof made.unit, "%.120s", storing->output_unit);
    return made;
}

static struct coefficient temperature_coefficient(const struct storing *storing, size_t row,
                                                  size_t term)
{
    const struct calibration *calibration = storing->calibration;
    int is_direct = calibration->form == CALIBRATION_DIRECT;
    struct coefficient made = {.term = calibration_temperature_name(calibration->form, term),
                               .value = calibration->temperature[row][term]};
    if (is_direct)
        (void)snprintf(made.row, sizeof made.row, "%s", calibration_load_name(row));
    else
        (void)snprintf(made.row, sizeof made.row, "R%zu", row + 1);
    const char *per = term == 1 ? "/K^2" : "/K";
    if (is_direct && term > 1)
        (void)snprintf(made.unit, sizeof made.unit, "%s/(%.120s)/K", calibration_load_unit(row),
                       storing->output_unit);
    else
        (void)snprintf(made.unit, sizeof made.unit, "%.120s%s",
                       is_direct ? calibration_load_unit(row) : storing->output_unit, per);
    return made;
}

static enum status store_term(struct statement *statement, const struct storing *storing,
                              const struct coefficient *made, struct fault *fault)
{
    enum status status = statement_bind_text(statement, 1, storing->balance, fault);
    if (status == OK)
        status = statement_bind_text(statement, 2, made->row, fault);
    if (status == OK)
        status = statement_bind_text(statement, 3, made->term, fault);
    if (status == OK)
        status = statement_bind_real(statement, 4, made->value, fault);
    if (status == OK)
        status = statement_bind_text(statement, 5, made->unit, fault);
    return status == OK ? statement_run(statement, fault) : status;
}

static size_t terms_of(const struct calibration *calibration)
{
    if (calibration->form == CALIBRATION_ITERATIVE)
        return CALIBRATION_LOAD_TERMS;
    return calibration->second_order ? CALIBRATION_TERMS : LOAD_COUNT;
}

/* Of the iterative form, terms without a coefficient are left out: 0 is what they are then. */
static enum status store_terms(const struct storing *storing, struct fault *fault)
{
    struct statement *statement = NULL;
    int is_direct = storing->calibration->form == CALIBRATION_DIRECT;
    enum status status =
        statement_prepare(storing->store,
                          "INSERT INTO calibration (balance, load, term, coefficient, unit) "
                          "VALUES (?, ?, ?, ?, ?)",
                          &statement, fault);
    for (size_t row = 0; row < LOAD_COUNT; row++) {
        for (size_t term = 0; term < terms_of(storing->calibration) && status == OK; term++) {
            struct coefficient made = is_direct ? direct_coefficient(storing, row, term)
                                                : iterative_coefficient(storing, row, term);
            if (is_direct || term < LOAD_COUNT || made.value != 0)
                status = store_term(statement, storing, &made, fault);
        }
    }
    for (size_t row = 0; row < LOAD_COUNT && storing->calibration->has_temperature; row++) {
        for (size_t term = 0; term < CALIBRATION_TEMPERATURE_TERMS && status == OK; term++) {
            struct coefficient made = temperature_coefficient(storing, row, term);
            status = store_term(statement, storing, &made, fault);
        }
    }
    statement_free(statement);
    return status;
}

enum status calibration_store(struct store *store, const char *balance, const char *file,
                              const char *output_unit, const struct calibration *calibration,
                              struct fault *fault)
{
    const struct storing storing = {store, balance, file, output_unit, calibration};
    enum status status =
        run_for_balance(&storing, "DELETE FROM calibration_file WHERE balance = ?", fault);
    if (status == OK) /* loads and terms go with it */
        status = store_file(&storing, fault);
    if (status == OK)
        status = store_loads(&storing, fault);
    return status == OK ? store_terms(&storing, fault) : status;
}
