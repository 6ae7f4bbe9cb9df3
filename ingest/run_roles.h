/* run_roles.h - which roles the channel maps of one run hold together, before any log is opened. */
#ifndef LAPWING_RUN_ROLES_H
#define LAPWING_RUN_ROLES_H

#include <stddef.h>

#include "ingest/run_sheet.h"
#include "schema/campaign.h"
#include "schema/role.h"

/* What loads are made of. */
enum load_kind { KIND_OUTPUTS, KIND_LOADS, KIND_COEFFICIENTS, LOAD_KINDS };

struct run_roles {
    int has[ROLE_COUNT];   /* 1: a column holds its value */
    int has_taps;          /* 1: taps of any kind */
    int has_pressure_taps; /* 1: taps in Pa, which need the wind */
};

/* Roles of all maps of a run; maps that the campaign does not know are passed over. */
void run_roles_gather(const struct campaign *campaign, const struct run_entry *run,
                      struct run_roles *roles);

/* "balance outputs", "ready-made loads", "coefficients". */
const char *load_kind_words(enum load_kind kind);

/* 1 when any channel of this kind is there. */
int run_roles_have_kind(const struct run_roles *roles, enum load_kind kind);

/* First of the channels of outputs or loads that `wanted` has and `roles` has not; ROLE_COUNT: none. */
enum role run_roles_missing_of(const struct run_roles *roles, const struct run_roles *wanted,
                               enum load_kind kind);

/* First of the six channels of outputs or loads that is not there; ROLE_COUNT when all are. */
enum role run_roles_missing_load(const struct run_roles *roles, enum load_kind kind);

#endif
