/* point_state.c - states of points, decisions, bases; see point_state.h. */
#include "reduce/point_state.h"

#include <stddef.h>
#include <string.h>

static const char *const decision_names[] = {
    [DECISION_NONE] = "", [DECISION_EXCLUDE] = "exclude", [DECISION_RESTORE] = "restore"};

static const char *const state_names[] = {
    [POINT_OK] = "ok",           [POINT_FLAGGED] = "flagged",   [POINT_FAILED] = "failed",
    [POINT_REFUSED] = "refused", [POINT_EXCLUDED] = "excluded", [POINT_RESTORED] = "restored"};

static const char *const basis_names[BASIS_COUNT] = {
    [BASIS_STANDS] = "stands", [BASIS_ALL_IN] = "all in", [BASIS_RULES_ALONE] = "rules alone"};

/* Index of a name among n; n when there is none. */
static size_t find_name(const char *const *names, size_t n, const char *name)
{
    size_t i = 0;
    while (i < n && (name == NULL || strcmp(names[i], name) != 0))
        i++;
    return i;
}

const char *decision_name(enum decision decision)
{
    return decision_names[decision];
}

enum decision decision_from_name(const char *name)
{
    const size_t n = sizeof decision_names / sizeof decision_names[0];
    size_t i = find_name(decision_names, n, name);
    return i == n ? DECISION_NONE : (enum decision)i;
}

const char *point_state_name(enum point_state state)
{
    return state_names[state];
}

enum point_state point_state_from_name(const char *name)
{
    const size_t n = sizeof state_names / sizeof state_names[0];
    size_t i = find_name(state_names, n, name);
    return i == n ? POINT_REFUSED : (enum point_state)i;
}

enum point_state point_state_of_rules(enum flag_state worst)
{
    static const enum point_state states[] = {[FLAG_INFO] = POINT_OK,
                                              [FLAG_FLAGGED] = POINT_FLAGGED,
                                              [FLAG_FAILED] = POINT_FAILED,
                                              [FLAG_REFUSED] = POINT_REFUSED};
    return states[worst];
}

enum point_state point_state_decided(enum point_state rules, enum decision decision)
{
    if (rules == POINT_REFUSED || decision == DECISION_NONE)
        return rules;
    if (decision == DECISION_EXCLUDE)
        return POINT_EXCLUDED;
    return rules == POINT_FAILED ? POINT_RESTORED : rules;
}

const char *basis_name(enum basis basis)
{
    return basis_names[basis];
}

int point_takes_part(enum point_state rules, enum decision decision, enum basis basis)
{
    if (rules == POINT_REFUSED)
        return 0;
    if (basis == BASIS_ALL_IN)
        return 1;
    if (basis == BASIS_RULES_ALONE)
        return rules != POINT_FAILED;
    enum point_state state = point_state_decided(rules, decision);
    return state != POINT_EXCLUDED && state != POINT_FAILED;
}

int point_lifts_cap(enum decision decision, enum basis basis)
{
    if (basis == BASIS_STANDS)
        return decision == DECISION_RESTORE;
    return basis == BASIS_ALL_IN;
}
