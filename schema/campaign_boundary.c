/* campaign_boundary.c - the blocks of a facility's boundary corrections; see boundary.h. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/campaign_reader.h"

#define OFFSET(member) offsetof(struct boundary, member)

static const struct binding maskell_bindings[] = {
    {.key = "base_surface", .kind = BIND_TEXT, .offset = OFFSET(maskell.base_surface)},
    {.key = "base_pressure", .kind = BIND_QUANTITY, .offset = OFFSET(maskell.base_cp), .unit = "1"},
    {.key = "wake_factor",
     .kind = BIND_QUANTITY,
     .offset = OFFSET(maskell.wake_factor),
     .unit = "1",
     .range = RANGE_POSITIVE},
    {.key = "attached_drag",
     .kind = BIND_QUANTITY,
     .offset = OFFSET(maskell.attached_drag),
     .unit = "1",
     .range = RANGE_NOT_NEGATIVE},
    {.key = "vortex_drag",
     .kind = BIND_QUANTITY,
     .offset = OFFSET(maskell.vortex_drag),
     .unit = "1",
     .range = RANGE_NOT_NEGATIVE},
    {.key = "sweep_CD", .kind = BIND_NUMBERS, .offset = OFFSET(maskell.sweep_cd), .unit = "1"},
    {.key = "sweep_CL", .kind = BIND_NUMBERS, .offset = OFFSET(maskell.sweep_cl), .unit = "1"},
};

static const struct binding signature_bindings[] = {
    {.key = "surface", .kind = BIND_TEXT, .required = 1, .offset = OFFSET(signature.surface)},
    {.key = "empty_run", .kind = BIND_TEXT, .required = 1, .offset = OFFSET(signature.empty_run)},
    {.key = "axis_height",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = OFFSET(signature.axis_height),
     .unit = "m",
     .range = RANGE_NOT_NEGATIVE},
    {.key = "stations",
     .kind = BIND_NUMBERS,
     .required = 1,
     .offset = OFFSET(signature.stations),
     .unit = "m"},
};

static const struct binding jet_bindings[] = {
    {.key = "car_distance",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = OFFSET(jet.car_distance),
     .unit = "m",
     .range = RANGE_POSITIVE},
    {.key = "expansion", .kind = BIND_QUANTITY, .offset = OFFSET(jet.expansion), .unit = "1"},
    {.key = "nozzle", .kind = BIND_QUANTITY, .offset = OFFSET(jet.nozzle), .unit = "1"},
    {.key = "nozzle_q", .kind = BIND_QUANTITY, .offset = OFFSET(jet.nozzle_q), .unit = "1"},
    {.key = "collector", .kind = BIND_QUANTITY, .offset = OFFSET(jet.collector), .unit = "1"},
    {.key = "collector_area",
     .kind = BIND_QUANTITY,
     .offset = OFFSET(jet.collector_area),
     .unit = "m2",
     .range = RANGE_POSITIVE},
    {.key = "collector_distance",
     .kind = BIND_QUANTITY,
     .offset = OFFSET(jet.collector_distance),
     .unit = "m",
     .range = RANGE_POSITIVE},
    {.key = "collector_wake_factor",
     .kind = BIND_QUANTITY,
     .offset = OFFSET(jet.collector_wake_factor),
     .unit = "1"},
    {.key = "collector_wake_constant",
     .kind = BIND_QUANTITY,
     .offset = OFFSET(jet.collector_wake_constant),
     .unit = "1"},
};

static const struct binding slotted_bindings[] = {
    {.key = "factor", .kind = BIND_QUANTITY, .offset = OFFSET(slotted.factor), .unit = "1"},
    {.key = "series_area", .kind = BIND_NUMBERS, .offset = OFFSET(slotted.area), .unit = "m2"},
    {.key = "series_CD", .kind = BIND_NUMBERS, .offset = OFFSET(slotted.coefficient), .unit = "1"},
};

static const struct binding gradients_bindings[] = {
    {.key = "gradient",
     .kind = BIND_NUMBERS,
     .required = 1,
     .offset = OFFSET(gradients.gradient),
     .unit = "1/m"},
    {.key = "CD", .kind = BIND_NUMBERS, .required = 1, .offset = OFFSET(gradients.cd), .unit = "1"},
    {.key = "CL", .kind = BIND_NUMBERS, .offset = OFFSET(gradients.cl), .unit = "1"},
    {.key = "CLF", .kind = BIND_NUMBERS, .offset = OFFSET(gradients.clf), .unit = "1"},
};

static const struct binding turn_bindings[] = {
    {.key = "yaw", .kind = BIND_NUMBERS, .required = 1, .offset = OFFSET(turn.yaw), .unit = "rad"},
    {.key = "CY", .kind = BIND_NUMBERS, .required = 1, .offset = OFFSET(turn.cy), .unit = "1"},
    {.key = "mirrored_CY",
     .kind = BIND_NUMBERS,
     .required = 1,
     .offset = OFFSET(turn.mirrored_cy),
     .unit = "1"},
};

static const struct binding reynolds_bindings[] = {
    {.key = "to",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = OFFSET(reynolds.to),
     .unit = "1",
     .range = RANGE_POSITIVE},
    {.key = "Re", .kind = BIND_NUMBERS, .required = 1, .offset = OFFSET(reynolds.re), .unit = "1"},
    {.key = "CD", .kind = BIND_NUMBERS, .offset = OFFSET(reynolds.cd), .unit = "1"},
    {.key = "CL", .kind = BIND_NUMBERS, .offset = OFFSET(reynolds.cl), .unit = "1"},
    {.key = "CLF", .kind = BIND_NUMBERS, .offset = OFFSET(reynolds.clf), .unit = "1"},
};

/* A block, and the key it stands under. */
static const struct block {
    const char *key;
    struct binding_table table;
} blocks[BOUNDARY_BLOCKS] = {
    [BOUNDARY_MASKELL] = {"maskell",
                          {maskell_bindings, sizeof maskell_bindings / sizeof *maskell_bindings}},
    [BOUNDARY_WALL_SIGNATURE] = {"wall_signature",
                                 {signature_bindings,
                                  sizeof signature_bindings / sizeof *signature_bindings}},
    [BOUNDARY_OPEN_JET] = {"open_jet", {jet_bindings, sizeof jet_bindings / sizeof *jet_bindings}},
    [BOUNDARY_SLOTTED] = {"slotted",
                          {slotted_bindings, sizeof slotted_bindings / sizeof *slotted_bindings}},
    [BOUNDARY_TWO_GRADIENTS] = {"two_gradients",
                                {gradients_bindings,
                                 sizeof gradients_bindings / sizeof *gradients_bindings}},
    [BOUNDARY_FLOW_ANGULARITY] = {"flow_angularity",
                                  {turn_bindings, sizeof turn_bindings / sizeof *turn_bindings}},
    [BOUNDARY_REYNOLDS] = {"reynolds",
                           {reynolds_bindings,
                            sizeof reynolds_bindings / sizeof *reynolds_bindings}},
};

const struct binding_table *campaign_boundary_table(enum boundary_block block, const char **key)
{
    *key = blocks[block].key;
    return &blocks[block].table;
}

static void free_list(struct number_list *list)
{
    free(list->value);
    *list = (struct number_list){NULL, 0};
}

void boundary_end(struct boundary *boundary)
{
    struct number_list *const lists[] = {&boundary->maskell.sweep_cd,
                                         &boundary->maskell.sweep_cl,
                                         &boundary->signature.stations,
                                         &boundary->slotted.area,
                                         &boundary->slotted.coefficient,
                                         &boundary->gradients.gradient,
                                         &boundary->gradients.cd,
                                         &boundary->gradients.cl,
                                         &boundary->gradients.clf,
                                         &boundary->turn.yaw,
                                         &boundary->turn.cy,
                                         &boundary->turn.mirrored_cy,
                                         &boundary->reynolds.re,
                                         &boundary->reynolds.cd,
                                         &boundary->reynolds.cl,
                                         &boundary->reynolds.clf};
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++)
        free_list(lists[i]);
    free(boundary->maskell.base_surface);
    free(boundary->signature.surface);
    free(boundary->signature.empty_run);
    *boundary = (struct boundary){0};
}

static void read_block(struct campaign_reader *reader, int node, enum boundary_block block,
                       void *whole)
{
    struct boundary *boundary = &((struct facility *)whole)->boundary;
    char what[80];
    (void)snprintf(what, sizeof what, "corrections: %s", blocks[block].key);
    if (boundary->given[block]) /* the key is there twice, which is reported */
        return;
    boundary->given[block] = 1;
    campaign_bind(reader, node, what, blocks[block].table.rows, blocks[block].table.n, boundary);
}

void campaign_read_maskell(struct campaign_reader *reader, int node, void *facility)
{
    read_block(reader, node, BOUNDARY_MASKELL, facility);
}

void campaign_read_wall_signature(struct campaign_reader *reader, int node, void *facility)
{
    read_block(reader, node, BOUNDARY_WALL_SIGNATURE, facility);
}

void campaign_read_open_jet(struct campaign_reader *reader, int node, void *facility)
{
    read_block(reader, node, BOUNDARY_OPEN_JET, facility);
}

void campaign_read_slotted(struct campaign_reader *reader, int node, void *facility)
{
    read_block(reader, node, BOUNDARY_SLOTTED, facility);
}

void campaign_read_two_gradients(struct campaign_reader *reader, int node, void *facility)
{
    read_block(reader, node, BOUNDARY_TWO_GRADIENTS, facility);
}

void campaign_read_flow_angularity(struct campaign_reader *reader, int node, void *facility)
{
    read_block(reader, node, BOUNDARY_FLOW_ANGULARITY, facility);
}

void campaign_read_reynolds(struct campaign_reader *reader, int node, void *facility)
{
    read_block(reader, node, BOUNDARY_REYNOLDS, facility);
}

void campaign_boundary_defaults(struct boundary *boundary)
{
    boundary->maskell.base_cp = (double)NAN;
    boundary->maskell.attached_drag = (double)NAN;
    boundary->maskell.vortex_drag = (double)NAN;
    boundary->jet.collector_wake_factor = (double)NAN;
    boundary->jet.collector_wake_constant = (double)NAN;
    boundary->slotted.factor = (double)NAN;
}
