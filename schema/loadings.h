/* loadings.h - raw loadings of a balance or of a load cell, and what is asked of their calibration.
 *
 * Ingest fills them from a sheet and from the command line, reduce fits. Loads are SI in balance axes, outputs in
 * their own unit. A component is a load with the output that mainly answers it: the first load of the
 * sheet with its first output, and so on. Absent components are 0 throughout.                       */
#ifndef LAPWING_LOADINGS_H
#define LAPWING_LOADINGS_H

#include <stddef.h>

#include "schema/calibration.h"

struct loading {
    double load[LOAD_COUNT];   /* N, N m, as applied: without the tare of its series */
    double output[LOAD_COUNT]; /* of the component, in output_unit */
    double temperature;        /* K; NAN when not given */
    size_t series;             /* 0 when there is no such column */
    int is_down;               /* 1: reached by unloading */
    int is_check;              /* 1: held out of the fit */
    size_t line;
};

struct loadings {
    char *name; /* of the sheet */
    char sha256[DIGEST_TEXT];
    struct loading *rows;
    size_t n;
    int is_present[LOAD_COUNT];   /* 1: the component is in the sheet */
    size_t output_of[LOAD_COUNT]; /* number of its output, 0 for R1 */
    char output_unit[64];
    char **series; /* names; none when the column is not there: loads are whole, without a tare */
    size_t n_series;
    int has_temperature;
};

struct calibrate_request {
    const char *path;
    enum calibration_form form;
    size_t terms;                         /* 6, 27, 84 or 96 */
    int keep_all;                         /* 1: no term is dropped */
    const char *balance;                  /* name, "" when not said */
    const char *valid_from, *valid_until; /* as written, "" when not said */
    double rated[LOAD_COUNT];             /* N, N m; 0 when not said */
    char output_unit[64];                 /* that the balance has; "" when not said */
    const char *prefix;                   /* of the files to write; NULL: none */
};

void loadings_free(struct loadings *loadings); /* one filled with 0 is fine */

#endif
