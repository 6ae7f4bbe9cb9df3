/* run_needs.c - see run_needs.h. What it asks for is what reduce/inputs.c, reduce/recipe.c and
 * reduce/physics/tunnel_freestream.c cannot do without. */
#include "ingest/run_needs.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/rig_needs.h"
#include "ingest/wind_off_needs.h"

/* One thing that is missing, and how many runs miss it. */
struct need {
    size_t row; /* of the first run */
    enum run_column column;
    size_t runs;
    char text[480];
};

struct needs {
    const struct campaign *campaign;
    const struct run_sheet *sheet;
    struct need *items;
    size_t n, capacity;
    int failed; /* 1: no memory for one of them */
};

/* One run being asked. */
struct asking {
    struct needs *needs;
    size_t row;
    const struct run_entry *run;
    const struct facility *facility;
    struct run_roles roles;
    char maps[200]; /* those it is about: "channel map forces (campaign.yaml:57)" */
};

static struct need *find_need(const struct needs *needs, enum run_column column, const char *text)
{
    for (size_t i = 0; i < needs->n; i++)
        if (needs->items[i].column == column && strcmp(needs->items[i].text, text) == 0)
            return &needs->items[i];
    return NULL;
}

static void keep(struct needs *needs, const struct need *need)
{
    struct need *same = find_need(needs, need->column, need->text);
    if (same != NULL) {
        same->runs++;
        return;
    }
    if (needs->n == needs->capacity) {
        size_t capacity = 2 * needs->capacity + 8;
        struct need *items = realloc(needs->items, capacity * sizeof *items);
        if (items == NULL) {
            needs->failed = 1;
            return;
        }
        needs->items = items;
        needs->capacity = capacity;
    }
    needs->items[needs->n++] = *need;
}

static void tell(const struct asking *asking, enum run_column column, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static void tell(const struct asking *asking, enum run_column column, const char *format, ...)
{
    struct need need = {.row = asking->row, .column = column, .runs = 1};
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(need.text, sizeof need.text, format, arguments);
    va_end(arguments);
    keep(asking->needs, &need);
}

static int holds_loads(const struct channel_map *map)
{
    for (size_t i = 0; i < map->n_columns; i++)
        if (map->columns[i].role >= ROLE_BALANCE_OUTPUT_1 &&
            map->columns[i].role <= ROLE_YAW_COEFFICIENT)
            return 1;
    return 0;
}

/* The map of the loads stands for all of the run; without loads all are named. */
static void name_maps(struct asking *asking)
{
    const struct run_entry *run = asking->run;
    size_t used = 0;
    for (size_t i = 0; i < run->n_logs && used < sizeof asking->maps; i++) {
        const struct channel_map *map = campaign_map(asking->needs->campaign, run->logs[i].map);
        if (holds_loads(map))
            used = 0;
        used += (size_t)snprintf(asking->maps + used, sizeof asking->maps - used,
                                 "%s%.60s (campaign.yaml:%zu)", used > 0 ? ", " : "channel map ",
                                 map->name, map->line);
        if (holds_loads(map))
            return;
    }
}

static int has_any(const struct asking *asking, enum role a, enum role b)
{
    return asking->roles.has[a] || asking->roles.has[b];
}

/* The kind of loads; LOAD_KINDS when there is none or more than one, which is told. */
static enum load_kind find_kind(const struct asking *asking)
{
    enum load_kind found = LOAD_KINDS;
    for (unsigned i = 0; i < LOAD_KINDS; i++) {
        if (!run_roles_have_kind(&asking->roles, (enum load_kind)i))
            continue;
        if (found != LOAD_KINDS) {
            tell(asking, RUN_LOGS, "%s: both %s and %s are mapped; limit: one kind; take one out",
                 asking->maps, load_kind_words(found), load_kind_words((enum load_kind)i));
            return LOAD_KINDS;
        }
        found = (enum load_kind)i;
    }
    if (found == LOAD_KINDS && !asking->roles.has_taps)
        tell(asking, RUN_LOGS,
             "%s: no balance output, load, coefficient or tap is mapped, so no coefficient can be "
             "given; map what was measured, or write the kind record_only in runs.csv",
             asking->maps);
    return found;
}

static void ask_loads(const struct asking *asking, enum load_kind kind)
{
    const int *has = asking->roles.has;
    enum role missing = run_roles_missing_load(&asking->roles, kind);
    if (kind == KIND_OUTPUTS && missing != ROLE_COUNT)
        tell(asking, RUN_LOGS,
             "%s: %s are mapped, but no column has the role %s, so no coefficient can be given; "
             "limit: all six; map it",
             asking->maps, load_kind_words(kind), role_name(missing));
    if (kind == KIND_LOADS && !has[ROLE_FORCE_X] && !has[ROLE_FORCE_Y] && !has[ROLE_FORCE_Z])
        tell(asking, RUN_LOGS,
             "%s: moments are mapped, but no column has the role force_x, force_y or force_z, so "
             "no coefficient can be given; limit: one force; map it",
             asking->maps);
    if (kind == KIND_OUTPUTS && asking->run->balance[0] == '\0')
        tell(asking, RUN_BALANCE,
             "%s: balance outputs are mapped, and the run names no balance; name it", asking->maps);
}

/* The roles that a facility's way to the wind needs; ROLE_COUNT where it is one less. */
struct wind_needs {
    const char *word;
    enum role needed[2];
};

static void ask_roles(const struct asking *asking, const struct wind_needs *needs)
{
    const int *has = asking->roles.has;
    int second = needs->needed[1] != ROLE_COUNT;
    if (has[needs->needed[0]] && (!second || has[needs->needed[1]]))
        return;
    tell(asking, RUN_LOGS,
         "%s: facility '%.60s' has freestream: %s, which needs the role%s %s%s%s; map %s, or "
         "change freestream",
         asking->maps, asking->facility->name, needs->word, second ? "s" : "",
         role_name(needs->needed[0]), second ? " and " : "",
         second ? role_name(needs->needed[1]) : "", second ? "them" : "it");
}

/* Static pressure makes the Mach number of air; a fluid of declared density has none. */
static void ask_pressures(const struct asking *asking)
{
    const int *has = asking->roles.has;
    int three = has[ROLE_TOTAL_PRESSURE] + has[ROLE_STATIC_PRESSURE] + has[ROLE_TOTAL_MINUS_STATIC];
    enum role still = asking->facility->density > 0 ? ROLE_COUNT : ROLE_STATIC_PRESSURE;
    const struct wind_needs needs[] = {
        [FREESTREAM_CONTRACTION] = {"contraction", {ROLE_CONTRACTION_DROP, still}},
        [FREESTREAM_NOZZLE] = {"nozzle", {ROLE_NOZZLE_DROP, still}},
        [FREESTREAM_PLENUM] = {"plenum", {ROLE_PLENUM_DROP, still}},
        [FREESTREAM_GIVEN] = {"given", {ROLE_DYNAMIC_PRESSURE, still}},
        [FREESTREAM_SPEED] = {"speed", {ROLE_AIR_SPEED, ROLE_COUNT}},
    };
    int is_apart = asking->facility->freestream == FREESTREAM_TOTAL_AND_STATIC;
    if (!is_apart)
        ask_roles(asking, &needs[asking->facility->freestream]);
    else if (three < 2 && !(asking->facility->density > 0 && has[ROLE_TOTAL_MINUS_STATIC]))
        tell(asking, RUN_LOGS,
             "%s: facility '%.60s' has freestream: total and static, which needs two of the "
             "roles total_pressure, static_pressure and total_minus_static; map them, or "
             "change freestream",
             asking->maps, asking->facility->name);
}

static void ask_air(const struct asking *asking)
{
    ask_pressures(asking);
    if (asking->facility->density > 0)
        return;
    if (!has_any(asking, ROLE_TOTAL_TEMPERATURE, ROLE_STATIC_TEMPERATURE))
        tell(asking, RUN_LOGS,
             "%s: no column has the role total_temperature or static_temperature, which the "
             "air's density needs; map one",
             asking->maps);
    if (!asking->facility->humidity_absent && !asking->roles.has[ROLE_RELATIVE_HUMIDITY])
        tell(asking, RUN_LOGS,
             "%s: facility '%.60s' has humidity: measured, and no column has the role "
             "relative_humidity; map it, or write humidity: absent",
             asking->maps, asking->facility->name);
}

static int targets_name_yaw(const struct campaign *campaign)
{
    for (size_t i = 0; i < campaign->attitudes.n_targets; i++) {
        const struct target *target = &campaign->attitudes.targets[i];
        if (target->given[ATTITUDE_YAW] && target->coordinate[ATTITUDE_YAW] != 0)
            return 1;
    }
    return 0;
}

/* Loads of a balance that stays with the tunnel are turned by the yaw. */
static void ask_yaw(const struct asking *asking)
{
    const char *follows = asking->facility->balance_follows;
    int turns = follows != NULL && strstr(follows, "yaw") != NULL;
    if (asking->run->balance[0] != '\0' && !turns && !asking->roles.has[ROLE_YAW] &&
        targets_name_yaw(asking->needs->campaign))
        tell(asking, RUN_LOGS,
             "%s: the targets name a yaw, the balance does not follow it, and no column has the "
             "role yaw, by which its loads must be turned; map it, or correct balance_follows",
             asking->maps);
}

static void tell_rig(void *context, const char *text)
{
    const struct asking *asking = context;
    tell(asking, RUN_LOGS, "%s: %s", asking->maps, text);
}

static void ask_rig(struct asking *asking, enum load_kind kind)
{
    const char *balance = asking->run->balance;
    rig_needs_ask(asking->facility,
                  balance[0] == '\0' ? NULL : campaign_balance(asking->needs->campaign, balance),
                  &asking->roles, kind, tell_rig, asking);
}

static void ask_wind_off(const struct asking *asking, enum load_kind kind)
{
    const struct wind_off_search search = {asking->needs->campaign, asking->needs->sheet, kind,
                                           &asking->roles};
    char text[400];
    if (zero_cannot_be_found(&search, asking->run, text, sizeof text))
        tell(asking, RUN_ZERO, "the run can have no zero: %s", text);
    if (tare_cannot_be_found(&search, asking->run, text, sizeof text))
        tell(asking, RUN_TARE, "the run can have no weight tare: %s", text);
    if (belt_tare_cannot_be_found(&search, asking->run, text, sizeof text))
        tell(asking, RUN_KIND, "the run can have no belt tare: %s", text);
}

/* What the run's own map lacks, its wind-off runs of the same map lack too: said once is enough. */
static void ask_sheet(struct asking *asking)
{
    run_roles_gather(asking->needs->campaign, asking->run, &asking->roles);
    enum load_kind kind = find_kind(asking);
    if (kind == KIND_LOADS ||
        (kind == KIND_OUTPUTS && run_roles_missing_load(&asking->roles, kind) == ROLE_COUNT))
        ask_wind_off(asking, kind);
}

static void ask_maps(struct asking *asking)
{
    if (asking->facility->section == SECTION_BENCH) {
        tell(
            asking, RUN_KIND,
            "facility '%.60s' is a bench, which has no wind, so no coefficient can be given; write "
            "the kind record_only, or name another facility",
            asking->facility->name);
        return;
    }
    run_roles_gather(asking->needs->campaign, asking->run, &asking->roles);
    name_maps(asking);
    enum load_kind kind = find_kind(asking);
    ask_rig(asking, kind);
    if (kind == LOAD_KINDS && asking->roles.has_pressure_taps)
        ask_air(asking);
    if (kind == LOAD_KINDS || kind == KIND_COEFFICIENTS)
        return;
    ask_loads(asking, kind);
    ask_air(asking);
    ask_yaw(asking);
}

/* Names that are not known have been told of. */
static int names_are_known(const struct campaign *campaign, const struct run_entry *run)
{
    for (size_t i = 0; i < run->n_logs; i++)
        if (campaign_map(campaign, run->logs[i].map) == NULL)
            return 0;
    return run->n_logs > 0 && campaign_facility(campaign, run->facility) != NULL &&
           (run->balance[0] == '\0' || campaign_balance(campaign, run->balance) != NULL);
}

static void report(const struct needs *needs, struct problems *problems)
{
    const struct sheet *sheet = needs->sheet->sheet;
    for (size_t i = 0; i < needs->n; i++) {
        const struct need *need = &needs->items[i];
        char more[60] = "";
        if (need->runs > 1)
            (void)snprintf(more, sizeof more, " (and %zu more run%s)", need->runs - 1,
                           need->runs > 2 ? "s" : "");
        sheet_problem(sheet, &sheet->rows[need->row], need->column, problems, "%s%s", need->text,
                      more);
    }
}

static enum status ask_all(const struct campaign *campaign, const struct run_sheet *runs,
                           void (*ask)(struct asking *asking), struct problems *problems,
                           struct fault *fault)
{
    struct needs needs = {.campaign = campaign, .sheet = runs};
    for (size_t i = 0; i < runs->n; i++) {
        struct asking asking = {.needs = &needs, .row = i, .run = &runs->runs[i]};
        if (strcmp(asking.run->kind, "wind_on") != 0 || !names_are_known(campaign, asking.run))
            continue;
        asking.facility = campaign_facility(campaign, asking.run->facility);
        ask(&asking);
    }
    report(&needs, problems);
    free(needs.items);
    if (needs.failed)
        return FAIL(fault, NO_MEMORY, "no memory to check what the runs need");
    return OK;
}

enum status run_needs_check(const struct campaign *campaign, const struct run_sheet *runs,
                            struct problems *problems, struct fault *fault)
{
    return ask_all(campaign, runs, ask_maps, problems, fault);
}

enum status run_wind_off_check(const struct campaign *campaign, const struct run_sheet *runs,
                               struct problems *problems, struct fault *fault)
{
    return ask_all(campaign, runs, ask_sheet, problems, fault);
}
