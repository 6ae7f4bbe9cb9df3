/* recipe_cells.c - which cells of wheels and belt are added to a run's loads; see recipe.h. */
#include "reduce/recipe.h"

#include "schema/contents.h"

enum role recipe_cell_role(enum wheel_cell cell)
{
    return (enum role)((int)ROLE_WHEEL_DRAG_FRONT_LEFT + (int)cell);
}

/* All cells of a group, or none: a part of the wheels would be called the wheels. */
static enum status add_group(const struct run_data *data, const struct cell_group_row *group,
                             struct tunnel_recipe *tunnel, struct fault *fault)
{
    for (int i = 0; i < group->roles; i++) {
        enum role role = (enum role)((int)group->first + i);
        if (run_data_channel(data, role) < 0)
            return FAIL(
                fault, NO_RESULT,
                "add_cells adds the %s, and the logs hold no %s; map it, or take the %s out "
                "of add_cells",
                group->name, role_name(role), group->name);
        tunnel->cell_added[(int)role - (int)ROLE_WHEEL_DRAG_FRONT_LEFT] = 1;
    }
    return OK;
}

static enum status refuse_twice(const struct run_recipe *recipe, const struct cell_group_row *group,
                                struct fault *fault)
{
    const struct balance *balance = recipe->balance;
    const char *own = balance != NULL && balance->contains != NULL ? balance->contains
                                                                   : recipe->facility->contains;
    if (own == NULL || !contents_has(own, group->part))
        return OK;
    return FAIL(fault, NO_RESULT,
                "the balance contains %s already, and add_cells adds the %s; take one of them out",
                group->part, group->name);
}

enum status recipe_set_cells(const struct car *car, const struct run_data *data,
                             struct run_recipe *recipe, struct fault *fault)
{
    const struct facility *facility = recipe->facility;
    struct tunnel_recipe *tunnel = &recipe->tunnel;
    enum status status = OK;
    if (facility->added_cells != 0 && tunnel->source == LOADS_AS_COEFFICIENTS)
        return FAIL(fault, NO_RESULT,
                    "add_cells adds to loads, and the logs hold coefficients that the facility "
                    "made; declare a facility without add_cells for them");
    tunnel->cells = (struct cell_geometry){car->wheelbase, car->track_front, car->track_rear,
                                           facility->belt_centre};
    for (size_t i = 0; recipe_has_loads(tunnel) && status == OK && i < CELL_GROUPS; i++) {
        const struct cell_group_row *group = cell_group_row(i);
        if (!(facility->added_cells & (unsigned)group->group))
            continue;
        status = refuse_twice(recipe, group, fault);
        if (status == OK)
            status = add_group(data, group, tunnel, fault);
    }
    contents_make(facility, recipe->balance, recipe_has_loads(tunnel), &recipe->contents);
    for (int i = 0; i < TABLE_KINDS; i++)
        if (facility->tables[i].contains != NULL)
            contents_take_out(&recipe->contents, facility->tables[i].contains);
    return status;
}
