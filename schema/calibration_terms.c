/* calibration_terms.c - the names of loads and terms; see calibration.h. */
#include "schema/calibration.h"

#include <math.h>
#include <string.h>

static const char *const load_names[LOAD_COUNT] = {"Fx", "Fy", "Fz", "Mx", "My", "Mz"};
static const char *const load_units[LOAD_COUNT] = {"N", "N", "N", "N m", "N m", "N m"};

static const char *const term_names[CALIBRATION_TERMS] = {
    "R1",    "R2",    "R3",    "R4",    "R5",    "R6",    "R1*R1", "R1*R2", "R1*R3",
    "R1*R4", "R1*R5", "R1*R6", "R2*R2", "R2*R3", "R2*R4", "R2*R5", "R2*R6", "R3*R3",
    "R3*R4", "R3*R5", "R3*R6", "R4*R4", "R4*R5", "R4*R6", "R5*R5", "R5*R6", "R6*R6"};

static const char *const load_term_names[CALIBRATION_LOAD_TERMS] = {
    "Fx",         "Fy",         "Fz",         "Mx",         "My",        "Mz",       "|Fx|",
    "|Fy|",       "|Fz|",       "|Mx|",       "|My|",       "|Mz|",      "Fx*Fx",    "Fy*Fy",
    "Fz*Fz",      "Mx*Mx",      "My*My",      "Mz*Mz",      "Fx*|Fx|",   "Fy*|Fy|",  "Fz*|Fz|",
    "Mx*|Mx|",    "My*|My|",    "Mz*|Mz|",    "Fx*Fy",      "Fx*Fz",     "Fx*Mx",    "Fx*My",
    "Fx*Mz",      "Fy*Fz",      "Fy*Mx",      "Fy*My",      "Fy*Mz",     "Fz*Mx",    "Fz*My",
    "Fz*Mz",      "Mx*My",      "Mx*Mz",      "My*Mz",      "|Fx*Fy|",   "|Fx*Fz|",  "|Fx*Mx|",
    "|Fx*My|",    "|Fx*Mz|",    "|Fy*Fz|",    "|Fy*Mx|",    "|Fy*My|",   "|Fy*Mz|",  "|Fz*Mx|",
    "|Fz*My|",    "|Fz*Mz|",    "|Mx*My|",    "|Mx*Mz|",    "|My*Mz|",   "Fx*|Fy|",  "Fx*|Fz|",
    "Fx*|Mx|",    "Fx*|My|",    "Fx*|Mz|",    "Fy*|Fz|",    "Fy*|Mx|",   "Fy*|My|",  "Fy*|Mz|",
    "Fz*|Mx|",    "Fz*|My|",    "Fz*|Mz|",    "Mx*|My|",    "Mx*|Mz|",   "My*|Mz|",  "|Fx|*Fy",
    "|Fx|*Fz",    "|Fx|*Mx",    "|Fx|*My",    "|Fx|*Mz",    "|Fy|*Fz",   "|Fy|*Mx",  "|Fy|*My",
    "|Fy|*Mz",    "|Fz|*Mx",    "|Fz|*My",    "|Fz|*Mz",    "|Mx|*My",   "|Mx|*Mz",  "|My|*Mz",
    "Fx*Fx*Fx",   "Fy*Fy*Fy",   "Fz*Fz*Fz",   "Mx*Mx*Mx",   "My*My*My",  "Mz*Mz*Mz", "|Fx*Fx*Fx|",
    "|Fy*Fy*Fy|", "|Fz*Fz*Fz|", "|Mx*Mx*Mx|", "|My*My*My|", "|Mz*Mz*Mz|"};

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

const char *calibration_load_term_name(size_t term)
{
    return load_term_names[term];
}

size_t calibration_load_term(const char *name)
{
    size_t term = 0;
    while (term < CALIBRATION_LOAD_TERMS && strcmp(load_term_names[term], name) != 0)
        term++;
    return term;
}

const char *calibration_temperature_name(enum calibration_form form, size_t term)
{
    static const char *const names[][CALIBRATION_TEMPERATURE_TERMS] = {
        [CALIBRATION_DIRECT] = {"dT", "dT*dT", "R1*dT", "R2*dT", "R3*dT", "R4*dT", "R5*dT",
                                "R6*dT"},
        [CALIBRATION_ITERATIVE] = {"dT", "dT*dT", "Fx*dT", "Fy*dT", "Fz*dT", "Mx*dT", "My*dT",
                                   "Mz*dT"}};
    return names[form][term];
}

size_t calibration_temperature_term(enum calibration_form form, const char *name)
{
    size_t term = 0;
    while (term < CALIBRATION_TEMPERATURE_TERMS &&
           strcmp(calibration_temperature_name(form, term), name) != 0)
        term++;
    return term;
}

int calibration_has_temperature(const struct calibration *calibration)
{
    for (size_t i = 0; i < LOAD_COUNT; i++)
        for (size_t term = 0; term < CALIBRATION_TEMPERATURE_TERMS; term++)
            if (calibration->temperature[i][term] != 0)
                return 1;
    return 0;
}

struct calibration calibration_empty(void)
{
    struct calibration calibration = {.temperature_reference = (double)NAN,
                                      .temperature_lowest = (double)NAN,
                                      .temperature_highest = (double)NAN,
                                      .valid_from = (double)NAN,
                                      .valid_until = (double)NAN};
    for (size_t i = 0; i < LOAD_COUNT; i++)
        calibration.rated[i] = calibration.lowest[i] = calibration.highest[i] =
            calibration.residual_sd[i] = (double)NAN;
    return calibration;
}
