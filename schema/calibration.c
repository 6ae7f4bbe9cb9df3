/* calibration.c - see calibration.h. */
#include "schema/calibration.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/store.h"

static const char *const load_names[LOAD_COUNT] = {"Fx", "Fy", "Fz", "Mx", "My", "Mz"};
static const char *const load_units[LOAD_COUNT] = {"N", "N", "N", "N m", "N m", "N m"};

static const char *const term_names[CALIBRATION_TERMS] = {
    "R1",    "R2",    "R3",    "R4",    "R5",    "R6",    "R1*R1", "R1*R2", "R1*R3",
    "R1*R4", "R1*R5", "R1*R6", "R2*R2", "R2*R3", "R2*R4", "R2*R5", "R2*R6", "R3*R3",
    "R3*R4", "R3*R5", "R3*R6", "R4*R4", "R4*R5", "R4*R6", "R5*R5", "R5*R6", "R6*R6"};

const char *calibration_load_name(size_t load)
{
    return load_names[load];
}

const char *calibration_load_unit(size_t load)
{
    return load_units[load];
}

const char *calibration_term_name(size_t term)
{
    return term_names[term];
}

static double coefficient(const struct calibration *calibration, size_t load, size_t term)
{
    return term < LOAD_COUNT ? calibration->linear[load][term]
                             : calibration->product[load][term - LOAD_COUNT];
}

static double largest_of(double a[LOAD_COUNT][LOAD_COUNT], size_t k, int is_row)
{
    double largest = 0;
    for (size_t i = 0; i < LOAD_COUNT; i++)
        largest = fmax(largest, fabs(is_row ? a[k][i] : a[i][k]));
    return largest;
}

/* Divides rows, then columns, by their largest element; one of zeros stays as it is. */
static void equilibrate(double a[LOAD_COUNT][LOAD_COUNT])
{
    for (int is_row = 1; is_row >= 0; is_row--) {
        for (size_t k = 0; k < LOAD_COUNT; k++) {
            double largest = largest_of(a, k, is_row);
            for (size_t i = 0; i < LOAD_COUNT && largest > 0; i++)
                *(is_row ? &a[k][i] : &a[i][k]) /= largest;
        }
    }
}

static void swap(double *a, double *b)
{
    double kept = *a;
    *a = *b;
    *b = kept;
}

/* Brings the largest element of the rest from (k, k) on to (k, k); gives its size. */
static double bring_pivot(double a[LOAD_COUNT][LOAD_COUNT], size_t k)
{
    size_t row = k;
    size_t column = k;
    for (size_t i = k; i < LOAD_COUNT; i++)
        for (size_t j = k; j < LOAD_COUNT; j++)
            if (fabs(a[i][j]) > fabs(a[row][column])) {
                row = i;
                column = j;
            }
    for (size_t j = 0; j < LOAD_COUNT; j++)
        swap(&a[k][j], &a[row][j]);
    for (size_t i = 0; i < LOAD_COUNT; i++)
        swap(&a[i][k], &a[i][column]);
    return fabs(a[k][k]);
}

int calibration_is_singular(const struct calibration *calibration)
{
    static const double smallest_pivot = 1e-9;
    double a[LOAD_COUNT][LOAD_COUNT];
    memcpy(a, calibration->linear, sizeof a);
    equilibrate(a);
    for (size_t k = 0; k < LOAD_COUNT; k++) {
        if (!(bring_pivot(a, k) > smallest_pivot))
            return 1;
        for (size_t i = k + 1; i < LOAD_COUNT; i++) {
            double factor = a[i][k] / a[k][k];
            for (size_t j = k; j < LOAD_COUNT; j++)
                a[i][j] -= factor * a[k][j];
        }
    }
    return 0;
}

/* Runs one statement whose only argument is the balance. */
static enum status run_for_balance(struct store *store, const char *sql, const char *balance,
                                   struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = statement_prepare(store, sql, &statement, fault);
    if (status == OK)
        status = statement_bind_text(statement, 1, balance, fault);
    if (status == OK)
        status = statement_run(statement, fault);
    statement_free(statement);
    return status;
}

static enum status store_file(struct store *store, const char *balance, const char *file,
                              const char *output_unit, const struct calibration *calibration,
                              struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = statement_prepare(
        store,
        "INSERT INTO calibration_file (balance, file, sha256, output_unit, second_order, "
        "valid_from_s, valid_until_s) VALUES (?, ?, ?, ?, ?, ?, ?)",
        &statement, fault);
    if (status == OK)
        status = statement_bind_text(statement, 1, balance, fault);
    if (status == OK)
        status = statement_bind_text(statement, 2, file, fault);
    if (status == OK)
        status = statement_bind_text(statement, 3, calibration->sha256, fault);
    if (status == OK)
        status = statement_bind_text(statement, 4, output_unit, fault);
    if (status == OK)
        status = statement_bind_integer(statement, 5, calibration->second_order, fault);
    if (status == OK)
        status = statement_bind_real(statement, 6, calibration->valid_from, fault);
    if (status == OK)
        status = statement_bind_real(statement, 7, calibration->valid_until, fault);
    if (status == OK)
        status = statement_run(statement, fault);
    statement_free(statement);
    return status;
}

static enum status store_term(struct statement *statement, const char *balance,
                              const char *output_unit, const struct calibration *calibration,
                              size_t load, size_t term, struct fault *fault)
{
    char unit[160];
    if (term < LOAD_COUNT)
        (void)snprintf(unit, sizeof unit, "%s/(%s)", load_units[load], output_unit);
    else
        (void)snprintf(unit, sizeof unit, "%s/(%s)^2", load_units[load], output_unit);
    enum status status = statement_bind_text(statement, 1, balance, fault);
    if (status == OK)
        status = statement_bind_text(statement, 2, load_names[load], fault);
    if (status == OK)
        status = statement_bind_text(statement, 3, term_names[term], fault);
    if (status == OK)
        status = statement_bind_real(statement, 4, coefficient(calibration, load, term), fault);
    if (status == OK)
        status = statement_bind_text(statement, 5, unit, fault);
    return status != OK ? status : statement_run(statement, fault);
}

static enum status store_terms(struct store *store, const char *balance, const char *output_unit,
                               const struct calibration *calibration, struct fault *fault)
{
    struct statement *statement = NULL;
    size_t terms = calibration->second_order ? CALIBRATION_TERMS : LOAD_COUNT;
    enum status status =
        statement_prepare(store,
                          "INSERT INTO calibration (balance, load, term, coefficient, unit) "
                          "VALUES (?, ?, ?, ?, ?)",
                          &statement, fault);
    for (size_t load = 0; load < LOAD_COUNT; load++)
        for (size_t term = 0; term < terms && status == OK; term++)
            status = store_term(statement, balance, output_unit, calibration, load, term, fault);
    statement_free(statement);
    return status;
}

enum status calibration_store(struct store *store, const char *balance, const char *file,
                              const char *output_unit, const struct calibration *calibration,
                              struct fault *fault)
{
    enum status status =
        run_for_balance(store, "DELETE FROM calibration_file WHERE balance = ?", balance, fault);
    if (status == OK) /* the terms go with it */
        status = store_file(store, balance, file, output_unit, calibration, fault);
    if (status == OK)
        status = store_terms(store, balance, output_unit, calibration, fault);
    return status;
}
