/* what_if_steps.c - see what_if_steps.h. */
#include "reduce/what_if_steps.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static char no_blockage[] = "none";

static int has_weight_tare(const struct facility *facility)
{
    return facility->weight_tare != TARE_NONE;
}

static void drop_weight_tare(struct facility *facility)
{
    facility->weight_tare = TARE_NONE;
}

static int has_belt_tare(const struct facility *facility)
{
    return facility->belt_tare != BELT_TARE_NONE;
}

static void drop_belt_tare(struct facility *facility)
{
    facility->belt_tare = BELT_TARE_NONE;
}

static int has_support(const struct facility *facility)
{
    return facility->tables[TABLE_SUPPORT].file != NULL;
}

/* What a table takes off is contained again. */
static void drop_support(struct facility *facility)
{
    facility->tables[TABLE_SUPPORT] = (struct declared_table){NULL, NULL};
}

static int has_interference(const struct facility *facility)
{
    return facility->tables[TABLE_INTERFERENCE].file != NULL;
}

static void drop_interference(struct facility *facility)
{
    facility->tables[TABLE_INTERFERENCE] = (struct declared_table){NULL, NULL};
}

static int has_buoyancy(const struct facility *facility)
{
    return facility->buoyancy != BUOYANCY_NONE;
}

static void drop_buoyancy(struct facility *facility)
{
    facility->buoyancy = BUOYANCY_NONE;
    facility->boundary.given[BOUNDARY_TWO_GRADIENTS] = 0;
    facility->boundary.gradients =
        (struct gradients_block){{NULL, 0}, {NULL, 0}, {NULL, 0}, {NULL, 0}};
}

static int has_blockage(const struct facility *facility)
{
    return facility->blockage != NULL && strcmp(facility->blockage, "none") != 0;
}

static void drop_blockage(struct facility *facility)
{
    static const enum boundary_block blocks[] = {BOUNDARY_MASKELL, BOUNDARY_WALL_SIGNATURE,
                                                 BOUNDARY_OPEN_JET, BOUNDARY_SLOTTED};
    facility->blockage = no_blockage;
    for (size_t i = 0; i < sizeof blocks / sizeof blocks[0]; i++)
        facility->boundary.given[blocks[i]] = 0;
}

static int has_angularity(const struct facility *facility)
{
    return facility->boundary.given[BOUNDARY_FLOW_ANGULARITY];
}

static void drop_angularity(struct facility *facility)
{
    facility->boundary.given[BOUNDARY_FLOW_ANGULARITY] = 0;
    facility->boundary.turn =
        (struct turn_block){{NULL, 0}, {NULL, 0}, {NULL, 0}}; /* a key holds it */
}

static int has_reynolds(const struct facility *facility)
{
    return facility->boundary.given[BOUNDARY_REYNOLDS];
}

static void drop_reynolds(struct facility *facility)
{
    facility->boundary.given[BOUNDARY_REYNOLDS] = 0;
}

static int has_to_target(const struct facility *facility)
{
    return facility->to_target != TARGET_NONE;
}

static void drop_to_target(struct facility *facility)
{
    facility->to_target = TARGET_NONE;
}

static const struct {
    const char *name;
    int (*applies)(const struct facility *facility);
    void (*drop)(struct facility *facility);
    int is_of_walls; /* 1: one of those that already_corrected speaks of */
} steps_known[WHAT_IF_STEPS] = {
    [WHAT_IF_WEIGHT_TARE] = {"weight tare", has_weight_tare, drop_weight_tare, 0},
    [WHAT_IF_BELT_TARE] = {"belt tare", has_belt_tare, drop_belt_tare, 0},
    [WHAT_IF_SUPPORT_TARE] = {"support tare", has_support, drop_support, 0},
    [WHAT_IF_INTERFERENCE] = {"interference", has_interference, drop_interference, 0},
    [WHAT_IF_BUOYANCY] = {"buoyancy", has_buoyancy, drop_buoyancy, 1},
    [WHAT_IF_BLOCKAGE] = {"blockage", has_blockage, drop_blockage, 1},
    [WHAT_IF_FLOW_ANGULARITY] = {"flow angularity", has_angularity, drop_angularity, 1},
    [WHAT_IF_REYNOLDS] = {"Reynolds", has_reynolds, drop_reynolds, 0},
    [WHAT_IF_TO_TARGET] = {"to target", has_to_target, drop_to_target, 0},
};

static const struct {
    const char *name, *why;
} steps_kept[] = {
    {"zero", "without a zero the readings are no loads at all"},
    {"balance", "without the balance's calibration there is no load at all"},
    {"weight model", "it is how the weight tare is carried to an attitude; leave out weight tare"},
    {"transfer", "loads about the balance's own centre and axes are not the car's"},
    {"freestream", "without a dynamic pressure there is no coefficient"},
    {"raw", "it is the coefficients themselves"},
    {"full size", "no delta rests on it: deltas are of the car as tested"},
};

enum { KEPT = sizeof steps_kept / sizeof steps_kept[0] };

const char *what_if_step_name(enum what_if_step step)
{
    return steps_known[step].name;
}

static char plain(char c)
{
    if (c == '_' || c == '-')
        return ' ';
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static int is_called(const char *text, const char *name)
{
    while (*text != '\0' && plain(*text) == plain(*name)) {
        text++;
        name++;
    }
    return *text == '\0' && *name == '\0';
}

static enum status refuse_unknown(const char *text, struct fault *fault)
{
    char names[320] = "";
    size_t used = 0;
    for (unsigned i = 0; i < WHAT_IF_STEPS && used < sizeof names; i++)
        used += (size_t)snprintf(names + used, sizeof names - used, "%s%s", i > 0 ? ", " : "",
                                 steps_known[i].name);
    return FAIL(fault, BAD_INPUT,
                "--without '%.60s': there is no such step; those that can be left out are %s; or "
                "all",
                text, names);
}

enum status what_if_step_read(const char *text, unsigned *steps, struct fault *fault)
{
    for (unsigned i = 0; i < WHAT_IF_STEPS; i++)
        if (is_called(text, steps_known[i].name)) {
            *steps |= 1U << i;
            return OK;
        }
    for (size_t i = 0; i < KEPT; i++)
        if (is_called(text, steps_kept[i].name))
            return FAIL(fault, BAD_INPUT, "--without '%s': this step can't be left out: %s",
                        steps_kept[i].name, steps_kept[i].why);
    if (!is_called(text, "all"))
        return refuse_unknown(text, fault);
    *steps |= WHAT_IF_ALL;
    return OK;
}

int what_if_step_applies(enum what_if_step step, const struct facility *facility)
{
    int is_ours = facility->corrected == CORRECTED_NO ||
                  !(steps_known[step].is_of_walls || step == WHAT_IF_REYNOLDS);
    return is_ours && steps_known[step].applies(facility);
}

int what_if_step_is_contained(enum what_if_step step, const struct facility *facility)
{
    return facility->corrected != CORRECTED_NO && steps_known[step].is_of_walls;
}

void what_if_switch_off(unsigned steps, struct facility *facility)
{
    for (unsigned i = 0; i < WHAT_IF_STEPS; i++)
        if (steps >> i & 1U)
            steps_known[i].drop(facility);
}

void what_if_take_attained(struct attitudes *attitudes)
{
    for (int i = 0; i < ATTITUDE_COUNT; i++)
        attitudes->tolerance[i] = fmax(attitudes->tolerance[i], attitudes->cap[i]);
}

void what_if_steps_say(unsigned steps, const char *between, struct key_text *text)
{
    int is_first = 1;
    for (unsigned i = 0; i < WHAT_IF_STEPS; i++) {
        if (!(steps >> i & 1U))
            continue;
        key_text_say(text, "%s%s", is_first ? "" : between, steps_known[i].name);
        is_first = 0;
    }
}
