/* wind_off_needs.c - see wind_off_needs.h. */
#include "ingest/wind_off_needs.h"

#include <stdio.h>
#include <string.h>

#include "ingest/rig_needs.h"
#include "schema/contents.h"

enum { REASON = 240 };

static int is_of_same(const struct run_entry *a, const struct run_entry *b)
{
    return strcmp(a->facility, b->facility) == 0 && strcmp(a->entry, b->entry) == 0 &&
           strcmp(a->balance, b->balance) == 0;
}

int wind_off_may_serve(const struct run_entry *off, const struct run_entry *run, const char *kind)
{
    return off != run && strcmp(off->kind, kind) == 0 && is_of_same(off, run);
}

/* Loads of a wind-off run need the same channels as those of the run. */
static int lacks_loads(const struct wind_off_search *search, const struct run_entry *off,
                       char *text, size_t size)
{
    struct run_roles roles;
    run_roles_gather(search->campaign, off, &roles);
    enum role missing = run_roles_missing_of(&roles, search->wanted, search->kind);
    if (missing == ROLE_COUNT)
        return 0;
    (void)snprintf(text, size, "the channel maps of %s '%.60s' hold no %s; map it", off->kind,
                   off->name, role_name(missing));
    return 1;
}

/* A zero needs the cells that are added, too: without them the wheels' weight would stay in. */
static int lacks_channels(const struct wind_off_search *search, const struct run_entry *off,
                          char *text, size_t size)
{
    const struct facility *facility = campaign_facility(search->campaign, off->facility);
    struct run_roles roles;
    if (lacks_loads(search, off, text, size))
        return 1;
    run_roles_gather(search->campaign, off, &roles);
    enum role missing = rig_missing_cell(facility, search->wanted, &roles);
    if (missing == ROLE_COUNT)
        return 0;
    (void)snprintf(text, size,
                   "add_cells adds the %s, and the channel maps of %s '%.60s' hold no %s; map it",
                   cell_group_of(missing)->name, off->kind, off->name, role_name(missing));
    return 1;
}

/* The first run of this kind in the entry that fits; else the reason why the first one does not. */
static int none_fits(const struct wind_off_search *search, const struct run_entry *run,
                     const char *kind,
                     int (*lacks)(const struct wind_off_search *search, const struct run_entry *off,
                                  char *text, size_t size),
                     char *text, size_t size)
{
    char reason[REASON];
    size_t found = 0;
    for (size_t i = 0; i < search->runs->n; i++) {
        const struct run_entry *off = &search->runs->runs[i];
        if (!wind_off_may_serve(off, run, kind))
            continue;
        if (!lacks(search, off, reason, sizeof reason))
            return 0;
        if (found++ == 0)
            (void)snprintf(text, size, "%s", reason);
    }
    if (found == 0)
        (void)snprintf(text, size,
                       "there is no %s run of facility '%.60s', entry '%.60s', balance '%.60s'; "
                       "add one to runs.csv, name one or write none in the column %s",
                       kind, run->facility, run->entry, run->balance,
                       strcmp(kind, "zero") == 0 ? "zero" : "tare");
    return 1;
}

/* RUN, RUN/POINT or RUN+RUN; names that cannot be a zero are told in season_sheets.c. */
static int named_zero_lacks_channels(const struct wind_off_search *search,
                                     const struct run_entry *run, char *text, size_t size)
{
    const char *name = run->zero;
    for (;;) {
        size_t length = strcspn(name, "+");
        const char *slash = memchr(name, '/', length);
        const struct run_entry *zero =
            run_find(search->runs, name, slash != NULL ? (size_t)(slash - name) : length);
        if (zero != NULL && wind_off_may_serve(zero, run, "zero") &&
            lacks_channels(search, zero, text, size))
            return 1;
        if (name[length] == '\0')
            return 0;
        name += length + 1;
    }
}

int zero_cannot_be_found(const struct wind_off_search *search, const struct run_entry *run,
                         char *text, size_t size)
{
    const struct facility *facility = campaign_facility(search->campaign, run->facility);
    struct run_roles roles;
    struct wind_off_search own = *search;
    if (strcmp(run->zero, "none") == 0)
        return 0;
    run_roles_gather(search->campaign, run, &roles);
    own.wanted = &roles; /* a weight tare that logs no cells needs none of them in its zero */
    if (run->zero[0] != '\0')
        return named_zero_lacks_channels(&own, run, text, size);
    if (facility == NULL || facility->zero == ZERO_NONE)
        return 0;
    if (facility->zero == ZERO_LINEAR_IN_TIME)
        return none_fits(&own, run, "zero", lacks_channels, text, size);
    (void)snprintf(
        text, size,
        "facility '%.60s' has zero: named, and the run names none; name it in the column "
        "zero, or write none there",
        facility->name);
    return 1;
}

/* An axis that the tare is looked up by and no column and no sensor tells; -1 when there is none. */
static int attitude_is_missing(const struct facility *facility, const struct run_roles *roles)
{
    for (int i = 0; i < ATTITUDE_COUNT; i++)
        if (facility->tare_tolerance[i] > 0 &&
            !rig_tells_axis(facility, roles, (enum attitude_axis)i))
            return i;
    return -1;
}

/* A weight tare needs its loads, its own zero, and the attitude it is looked up by. */
static int lacks_anything(const struct wind_off_search *search, const struct run_entry *tare,
                          char *text, size_t size)
{
    const struct facility *facility = campaign_facility(search->campaign, tare->facility);
    struct run_roles roles;
    char reason[REASON];
    if (lacks_loads(search, tare, text, size))
        return 1;
    run_roles_gather(search->campaign, tare, &roles);
    int axis = facility == NULL ? -1 : attitude_is_missing(facility, &roles);
    if (axis >= 0) {
        (void)snprintf(text, size,
                       "tare_tolerance compares the %s, and the channel maps of %s '%.60s' "
                       "hold none; map it, or take it out of tare_tolerance",
                       attitude_axis_name((enum attitude_axis)axis), tare->kind, tare->name);
        return 1;
    }
    if (!zero_cannot_be_found(search, tare, reason, sizeof reason))
        return 0;
    (void)snprintf(text, size, "%s '%.60s' has no zero: %s", tare->kind, tare->name, reason);
    return 1;
}

int tare_cannot_be_found(const struct wind_off_search *search, const struct run_entry *run,
                         char *text, size_t size)
{
    const struct facility *facility = campaign_facility(search->campaign, run->facility);
    if (facility == NULL || strcmp(run->tare, "none") == 0)
        return 0;
    if (run->tare[0] == '\0' && facility->weight_tare == TARE_NONE)
        return 0;
    struct run_roles roles;
    run_roles_gather(search->campaign, run, &roles);
    int axis = attitude_is_missing(facility, &roles);
    if (axis >= 0) {
        (void)snprintf(text, size,
                       "tare_tolerance compares the %s, and the run's channel maps hold none; map "
                       "it, or take it out of tare_tolerance",
                       attitude_axis_name((enum attitude_axis)axis));
        return 1;
    }
    if (run->tare[0] == '\0')
        return none_fits(search, run, "weight_tare", lacks_anything, text, size);
    const struct run_entry *tare = run_find(search->runs, run->tare, strlen(run->tare));
    return tare != NULL && wind_off_may_serve(tare, run, "weight_tare") &&
           lacks_anything(search, tare, text, size);
}

/* A belt tare is looked up by the belt's speed, and for the rest like a weight tare. */
static int lacks_belt(const struct wind_off_search *search, const struct run_entry *belt,
                      char *text, size_t size)
{
    struct run_roles roles;
    run_roles_gather(search->campaign, belt, &roles);
    if (roles.has[ROLE_BELT_SPEED])
        return lacks_anything(search, belt, text, size);
    (void)snprintf(text, size, "the channel maps of %s '%.60s' hold no belt_speed; map it",
                   belt->kind, belt->name);
    return 1;
}

int belt_tare_cannot_be_found(const struct wind_off_search *search, const struct run_entry *run,
                              char *text, size_t size)
{
    const struct facility *facility = campaign_facility(search->campaign, run->facility);
    char reason[REASON];
    size_t found = 0;
    if (facility == NULL || facility->belt_tare == BELT_TARE_NONE)
        return 0;
    if (!search->wanted->has[ROLE_BELT_SPEED]) {
        (void)snprintf(text, size,
                       "its channel maps hold no belt_speed; map it, or write "
                       "belt_tare: none");
        return 1;
    }
    for (size_t i = 0; i < search->runs->n; i++) {
        const struct run_entry *belt = &search->runs->runs[i];
        if (!wind_off_may_serve(belt, run, "belt_tare"))
            continue;
        if (!lacks_belt(search, belt, reason, sizeof reason))
            return 0;
        if (found++ == 0)
            (void)snprintf(text, size, "%s", reason);
    }
    if (found == 0)
        (void)snprintf(text, size,
                       "there is no belt_tare run of facility '%.60s', entry '%.60s', balance "
                       "'%.60s'; add one to runs.csv, or write belt_tare: none",
                       run->facility, run->entry, run->balance);
    return 1;
}
