/* boundary_key.c - see boundary_key.h. */
#include "reduce/boundary_key.h"

static void add_list(struct key_text *key, const char *name, const struct number_list *list)
{
    if (list->n > 0)
        key_text_numbers(key, name, list->value, list->n);
}

static void add_maskell(const struct maskell_block *block, struct key_text *key)
{
    key_text_word(key, "maskell base surface",
                  block->base_surface == NULL ? "" : block->base_surface);
    key_text_number(key, "maskell base pressure", block->base_cp);
    key_text_number(key, "maskell wake factor", block->wake_factor);
    key_text_number(key, "maskell attached drag", block->attached_drag);
    key_text_number(key, "maskell vortex drag", block->vortex_drag);
    add_list(key, "maskell sweep CD", &block->sweep_cd);
    add_list(key, "maskell sweep CL", &block->sweep_cl);
}

static void add_signature(const struct signature_block *block, struct key_text *key)
{
    key_text_word(key, "wall signature surface", block->surface == NULL ? "" : block->surface);
    key_text_word(key, "wall signature empty run",
                  block->empty_run == NULL ? "" : block->empty_run);
    key_text_number(key, "wall signature axis height [m]", block->axis_height);
    add_list(key, "wall signature stations [m]", &block->stations);
}

static void add_jet(const struct jet_block *block, struct key_text *key)
{
    const double weights[] = {block->expansion, block->nozzle, block->nozzle_q, block->collector};
    const double collector[] = {block->collector_area, block->collector_distance,
                                block->collector_wake_factor, block->collector_wake_constant};
    key_text_number(key, "open jet car distance [m]", block->car_distance);
    key_text_numbers(key, "open jet expansion, nozzle, nozzle q, collector", weights, 4);
    key_text_numbers(key, "open jet collector area [m2], distance [m], constants", collector, 4);
}

static void add_lists(const struct boundary *boundary, struct key_text *key)
{
    add_list(key, "slotted series areas [m2]", &boundary->slotted.area);
    add_list(key, "slotted series CD", &boundary->slotted.coefficient);
    add_list(key, "two gradients [1/m]", &boundary->gradients.gradient);
    add_list(key, "two gradients CD", &boundary->gradients.cd);
    add_list(key, "two gradients CL", &boundary->gradients.cl);
    add_list(key, "two gradients CLF", &boundary->gradients.clf);
    add_list(key, "flow angularity yaw [rad]", &boundary->turn.yaw);
    add_list(key, "flow angularity CY", &boundary->turn.cy);
    add_list(key, "flow angularity mirrored CY", &boundary->turn.mirrored_cy);
    add_list(key, "reynolds Re", &boundary->reynolds.re);
    add_list(key, "reynolds CD", &boundary->reynolds.cd);
    add_list(key, "reynolds CL", &boundary->reynolds.cl);
    add_list(key, "reynolds CLF", &boundary->reynolds.clf);
}

void boundary_key(const struct boundary *boundary, struct key_text *key)
{
    if (boundary->given[BOUNDARY_MASKELL])
        add_maskell(&boundary->maskell, key);
    if (boundary->given[BOUNDARY_WALL_SIGNATURE])
        add_signature(&boundary->signature, key);
    if (boundary->given[BOUNDARY_OPEN_JET])
        add_jet(&boundary->jet, key);
    if (boundary->given[BOUNDARY_SLOTTED])
        key_text_number(key, "slotted factor", boundary->slotted.factor);
    if (boundary->given[BOUNDARY_REYNOLDS])
        key_text_number(key, "reynolds to", boundary->reynolds.to);
    add_lists(boundary, key);
}
