/* calibration_read.c - calibrations from the store; see calibration_read.h. */
#include "reduce/calibration_read.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/calibration_make.h"
#include "reduce/rows.h"
#include "schema/calibration.h"

static const char calibration_sql[] =
    "SELECT load, term, coefficient, unit FROM calibration WHERE balance = ?1 ORDER BY load, term";

static int load_index(const char *load)
{
    for (int i = 0; i < LOAD_COUNT; i++)
        if (strcmp(calibration_load_name((size_t)i), load) == 0)
            return i;
    return -1;
}

/* 0 .. 5 for "R1" .. "R6" at text, -1 for anything else. */
static int output_index(const char *text)
{
    return text[0] == 'R' && text[1] >= '1' && text[1] <= '6' ? text[1] - '1' : -1;
}

/* Of a direct one. */
static double *direct_place(struct calibration *calibration, int load, const char *term)
{
    int first = output_index(term);
    if (load < 0 || first < 0)
        return NULL;
    if (term[2] == '\0')
        return &calibration->linear[load][first];
    int second = term[2] == '*' ? output_index(term + 3) : -1;
    if (second < first || term[5] != '\0')
        return NULL;
    calibration->second_order = 1;
    return &calibration->product[load][balance_product(first, second)];
}

/* Where a term's coefficient belongs; NULL when the term is none of the form's. */
static double *term_place(struct calibration *calibration, const char *row, const char *term)
{
    int is_direct = calibration->form == CALIBRATION_DIRECT;
    int output = row[0] != '\0' && row[2] == '\0' ? output_index(row) : -1;
    int of = is_direct ? load_index(row) : output;
    size_t of_temperature = calibration_temperature_term(calibration->form, term);
    if (of_temperature < CALIBRATION_TEMPERATURE_TERMS)
        return of < 0 ? NULL : &calibration->temperature[of][of_temperature];
    if (is_direct)
        return direct_place(calibration, of, term);
    size_t of_loads = calibration_load_term(term);
    return output < 0 || of_loads == CALIBRATION_LOAD_TERMS
               ? NULL
               : &calibration->output[output][of_loads];
}

static enum status read_term(struct statement *statement, const char *balance,
                             struct calibration *calibration, struct fault *fault)
{
    const char *load = statement_text(statement, 0);
    const char *term = statement_text(statement, 1);
    double *place = load == NULL || term == NULL ? NULL : term_place(calibration, load, term);
    if (place == NULL)
        return FAIL(fault, NO_RESULT, "calibration of balance '%s' has no place for term %s of %s",
                    balance, term == NULL ? "?" : term, load == NULL ? "?" : load);
    *place = statement_real(statement, 2);
    return OK;
}

static enum status read_form(struct store *store, const char *balance,
                             struct calibration *calibration, struct fault *fault)
{
    struct statement *statement = NULL;
    int found = 0;
    enum status status = rows_open(
        store,
        "SELECT form, temperature_reference_k, temperature_lowest_k, "
        "temperature_highest_k, from_natural_zero FROM calibration_file WHERE balance = ?1",
        &balance, 1, &statement, fault);
    if (status == OK)
        status = statement_step(statement, &found, fault);
    const char *form = status == OK && found ? statement_text(statement, 0) : NULL;
    if (form != NULL && strcmp(form, "iterative") == 0)
        calibration->form = CALIBRATION_ITERATIVE;
    if (form != NULL) {
        calibration->temperature_reference = statement_real(statement, 1);
        calibration->temperature_lowest = statement_real(statement, 2);
        calibration->temperature_highest = statement_real(statement, 3);
        calibration->from_natural_zero = statement_integer(statement, 4) != 0;
    }
    statement_free(statement);
    return status;
}

static enum status read_loads(struct store *store, const char *balance,
                              struct calibration *calibration, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = rows_open(
        store, "SELECT load, rated, lowest, highest FROM calibration_load WHERE balance = ?1",
        &balance, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        const char *load = statement_text(statement, 0);
        int i = load == NULL ? -1 : load_index(load);
        if (i < 0)
            continue;
        calibration->rated[i] = statement_real(statement, 1);
        calibration->lowest[i] = statement_real(statement, 2);
        calibration->highest[i] = statement_real(statement, 3);
    }
    statement_free(statement);
    return status;
}

static enum status read_terms(struct store *store, const char *balance,
                              struct calibration *calibration, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = rows_open(store, calibration_sql, &balance, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row)
        status = read_term(statement, balance, calibration, fault);
    statement_free(statement);
    return status;
}

static enum status check_complete(const struct calibration *calibration, const char *balance,
                                  struct fault *fault)
{
    int is_direct = calibration->form == CALIBRATION_DIRECT;
    for (int i = 0; i < LOAD_COUNT; i++)
        for (int j = 0; j < LOAD_COUNT; j++)
            if (isnan(is_direct ? calibration->linear[i][j] : calibration->output[i][j]))
                return FAIL(fault, NO_RESULT,
                            "balance '%s' has no complete calibration in the season; give its "
                            "file in campaign.yaml and ingest again",
                            balance);
    return OK;
}

enum status calibration_read(struct store *store, const char *balance,
                             struct balance_calibration *made, struct fault *fault)
{
    struct calibration calibration = calibration_empty();
    for (int i = 0; i < LOAD_COUNT; i++)
        for (int j = 0; j < LOAD_COUNT; j++)
            calibration.linear[i][j] = calibration.output[i][j] = (double)NAN;
    enum status status = read_form(store, balance, &calibration, fault);
    if (status == OK)
        status = read_loads(store, balance, &calibration, fault);
    if (status == OK)
        status = read_terms(store, balance, &calibration, fault);
    calibration.has_temperature = calibration_has_temperature(&calibration);
    if (status == OK)
        status = check_complete(&calibration, balance, fault);
    return status == OK ? calibration_make(&calibration, balance, made, fault) : status;
}

static enum status add_file(struct store *store, const char *balance, struct key_text *key,
                            struct fault *fault)
{
    struct statement *statement = NULL;
    int found = 0;
    enum status status = rows_open(store, "SELECT sha256 FROM calibration_file WHERE balance = ?1",
                                   &balance, 1, &statement, fault);
    if (status == OK)
        status = statement_step(statement, &found, fault);
    if (status == OK) {
        const char *sha256 = found ? statement_text(statement, 0) : NULL;
        key_text_word(key, "calibration file", sha256 == NULL ? "none" : sha256);
    }
    statement_free(statement);
    return status;
}

enum status calibration_key(struct store *store, const char *balance, struct key_text *key,
                            struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = add_file(store, balance, key, fault);
    if (status == OK)
        status = rows_open(store, calibration_sql, &balance, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        char name[64];
        const char *load = statement_text(statement, 0);
        const char *term = statement_text(statement, 1);
        const char *unit = statement_text(statement, 3);
        (void)snprintf(name, sizeof name, "calibration %s %s [%s]", load == NULL ? "?" : load,
                       term == NULL ? "?" : term, unit == NULL ? "" : unit);
        key_text_number(key, name, statement_real(statement, 2));
    }
    statement_free(statement);
    return status;
}
