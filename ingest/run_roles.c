/* run_roles.c - see run_roles.h. */
#include "ingest/run_roles.h"

#include <string.h>

static const struct {
    enum role first;
    int roles;
    const char *words;
} kinds[LOAD_KINDS] = {
    [KIND_OUTPUTS] = {ROLE_BALANCE_OUTPUT_1, OUTPUT_COUNT, "balance outputs"},
    [KIND_LOADS] = {ROLE_FORCE_X, LOAD_COUNT, "ready-made loads"},
    [KIND_COEFFICIENTS] = {ROLE_DRAG_COEFFICIENT, 8, "coefficients"},
};

const char *load_kind_words(enum load_kind kind)
{
    return kinds[kind].words;
}

void run_roles_gather(const struct campaign *campaign, const struct run_entry *run,
                      struct run_roles *roles)
{
    memset(roles, 0, sizeof *roles);
    for (size_t i = 0; i < run->n_logs; i++) {
        const struct channel_map *map = campaign_map(campaign, run->logs[i].map);
        if (map != NULL && map->has_taps) {
            roles->has_taps = 1;
            roles->has_pressure_taps |= map->taps_measured != TAPS_AS_COEFFICIENT;
        }
        for (size_t k = 0; map != NULL && k < map->n_columns; k++)
            if (map->columns[k].statistic == COLUMN_VALUE)
                roles->has[map->columns[k].role] = 1;
    }
}

int run_roles_have_kind(const struct run_roles *roles, enum load_kind kind)
{
    for (int i = 0; i < kinds[kind].roles; i++)
        if (roles->has[(int)kinds[kind].first + i])
            return 1;
    return 0;
}

enum role run_roles_missing_of(const struct run_roles *roles, const struct run_roles *wanted,
                               enum load_kind kind)
{
    for (int i = 0; i < LOAD_COUNT; i++) {
        int role = (int)kinds[kind].first + i;
        if (wanted->has[role] && !roles->has[role])
            return (enum role)role;
    }
    return ROLE_COUNT;
}

enum role run_roles_missing_load(const struct run_roles *roles, enum load_kind kind)
{
    for (int i = 0; i < LOAD_COUNT; i++)
        if (!roles->has[(int)kinds[kind].first + i])
            return (enum role)((int)kinds[kind].first + i);
    return ROLE_COUNT;
}
