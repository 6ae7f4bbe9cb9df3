/* rig_needs.c - see rig_needs.h. */
#include "ingest/rig_needs.h"

#include <stdarg.h>
#include <stdio.h>

#include "schema/contents.h"

/* What is asked, and who hears of it. */
struct rig {
    const struct facility *facility;
    const struct balance *balance;
    const struct run_roles *roles;
    rig_tell *tell;
    void *context;
};

static void say(const struct rig *rig, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void say(const struct rig *rig, const char *format, ...)
{
    char text[400];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    rig->tell(rig->context, text);
}

/* What the balance, or the facility, contains without cells. */
static const char *own_contents(const struct rig *rig)
{
    if (rig->balance != NULL && rig->balance->contains != NULL)
        return rig->balance->contains;
    return rig->facility->contains == NULL ? "" : rig->facility->contains;
}

static int is_added(const struct facility *facility, const struct cell_group_row *group)
{
    return (facility->added_cells & (unsigned)group->group) != 0;
}

static enum role first_of(const struct run_roles *roles, const struct cell_group_row *group,
                          int wanted)
{
    for (int i = 0; i < group->roles; i++)
        if (roles->has[(int)group->first + i] == wanted)
            return (enum role)((int)group->first + i);
    return ROLE_COUNT;
}

static void ask_group(const struct rig *rig, const struct cell_group_row *group)
{
    const char *facility = rig->facility->name;
    int is_inside = contents_has(own_contents(rig), group->part);
    enum role mapped = first_of(rig->roles, group, 1);
    enum role missing = first_of(rig->roles, group, 0);
    if (mapped != ROLE_COUNT && !is_added(rig->facility, group) && !is_inside)
        say(rig,
            "a column has the role %s, and facility '%.60s' neither adds the %s nor has %s inside "
            "its balance; write it under add_cells or balance_contains, or take the column out",
            role_name(mapped), facility, group->name, group->part);
    if (is_added(rig->facility, group) && missing != ROLE_COUNT)
        say(rig,
            "facility '%.60s' adds the %s, and no column has the role %s; map it, or take %s out "
            "of "
            "add_cells",
            facility, group->name, role_name(missing), group->name);
    if (is_added(rig->facility, group) && is_inside)
        say(rig,
            "the balance contains %s already, and facility '%.60s' adds the %s; take one of them "
            "out",
            group->part, facility, group->name);
}

static void ask_cells(const struct rig *rig, enum load_kind kind)
{
    if (kind == KIND_COEFFICIENTS && rig->facility->added_cells != 0)
        say(rig,
            "facility '%.60s' adds cells to loads, and the run's are coefficients that the "
            "facility "
            "made; give them a facility without add_cells",
            rig->facility->name);
    else
        for (size_t i = 0; i < CELL_GROUPS; i++)
            ask_group(rig, cell_group_row(i));
}

static int is_placed(const struct facility *facility, enum role role)
{
    for (size_t i = 0; i < facility->n_height_sensors; i++)
        if (facility->height_sensors[i].role == role)
            return 1;
    return 0;
}

static void ask_sensors(const struct rig *rig)
{
    const struct facility *facility = rig->facility;
    for (int i = ROLE_HEIGHT_SENSOR_1; i <= (int)ROLE_HEIGHT_SENSOR_8; i++) {
        int is_mapped = rig->roles->has[i];
        int has_place = is_placed(facility, (enum role)i);
        if (is_mapped && !has_place)
            say(rig,
                "a column has the role %s, and facility '%.60s' does not say where it stands; "
                "place "
                "it under height_sensors",
                role_name((enum role)i), facility->name);
        if (has_place && !is_mapped && facility->ride_height == HEIGHT_FROM_SENSORS)
            say(rig,
                "ride heights are from sensors, facility '%.60s' places %s, and no column has this "
                "role; map it, or take it out of height_sensors",
                facility->name, role_name((enum role)i));
    }
    if (facility->roll_is_zero && rig->roles->has[ROLE_ROLL])
        say(rig,
            "facility '%.60s' says roll: zero, and a column has the role roll; take one of them "
            "out",
            facility->name);
}

void rig_needs_ask(const struct facility *facility, const struct balance *balance,
                   const struct run_roles *roles, enum load_kind kind, rig_tell *tell,
                   void *context)
{
    const struct rig rig = {facility, balance, roles, tell, context};
    if (kind != LOAD_KINDS)
        ask_cells(&rig, kind);
    ask_sensors(&rig);
}

enum role rig_missing_cell(const struct facility *facility, const struct run_roles *wanted,
                           const struct run_roles *roles)
{
    for (size_t i = 0; facility != NULL && i < CELL_GROUPS; i++) {
        const struct cell_group_row *group = cell_group_row(i);
        for (int k = 0; is_added(facility, group) && k < group->roles; k++)
            if (wanted->has[(int)group->first + k] && !roles->has[(int)group->first + k])
                return (enum role)((int)group->first + k);
    }
    return ROLE_COUNT;
}

static int sensors_are_mapped(const struct facility *facility, const struct run_roles *roles)
{
    for (size_t i = 0; i < facility->n_height_sensors; i++)
        if (!roles->has[facility->height_sensors[i].role])
            return 0;
    return 1;
}

static int is_line(const struct facility *facility)
{
    for (size_t i = 0; i < facility->n_height_sensors; i++)
        if (facility->height_sensors[i].y != 0)
            return 0;
    return 1;
}

int rig_tells_axis(const struct facility *facility, const struct run_roles *roles,
                   enum attitude_axis axis)
{
    int is_logged = roles->has[attitude_axis_role(axis)];
    if (facility->ride_height != HEIGHT_FROM_SENSORS || axis == ATTITUDE_YAW ||
        axis == ATTITUDE_STEER)
        return is_logged;
    if (axis == ATTITUDE_ROLL && facility->roll_is_zero)
        return 1;
    if (axis == ATTITUDE_ROLL && is_line(facility))
        return is_logged;
    return sensors_are_mapped(facility, roles);
}
