/* plan_input.h - what `lapwing plan` is asked, and what the campaign's folder says of it: plain values
 * that travel from ingest, which reads options and sheets, to reduce, which plans. */
#ifndef LAPWING_PLAN_INPUT_H
#define LAPWING_PLAN_INPUT_H

#include <stddef.h>

#include "schema/campaign.h"

enum plan_format { PLAN_TEXT, PLAN_CSV, PLAN_JSON };

/* Options; what is not given is NULL, 0 or -1 and is as campaign.yaml says. Texts live as long as argv. */
struct plan_options {
    const char *folder;
    const char *facility, *entry, *start;
    const char *configurations; /* "A,B,C" */
    const char *order;          /* "base,A,base" */
    const char *output;         /* file of the run sheet; "-": standard output */
    double hours;               /* 0 */
    int scheme;                 /* of enum plan_scheme; -1 */
    long seed;                  /* -1 */
    unsigned repeats;           /* 0 */
    enum plan_format format;
    int force, anyway, quiet;
};

enum { PLAN_NO_PARENT = -1 };

struct plan_configuration {
    char *name, *change;
    long parent;        /* index, PLAN_NO_PARENT for a baseline */
    size_t baseline;    /* index of the root of its family */
    double change_time; /* s; NAN: as campaign.yaml says */
};

struct plan_input {
    struct plan_options options;
    struct campaign *campaign;
    struct plan_configuration *configurations;
    size_t n_configurations;
    size_t first_number; /* that no run of runs.csv has in its name */
    double start, zone;  /* s since 1970-01-01T00:00:00Z; s that its zone is ahead of UTC */
};

void plan_input_end(struct plan_input *input); /* an empty one is fine */

#endif
