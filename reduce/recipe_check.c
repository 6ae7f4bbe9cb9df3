/* recipe_check.c - see recipe_check.h. */
#include "reduce/recipe_check.h"

#include <stdio.h>
#include <string.h>

#include "reduce/boundary_made.h"
#include "reduce/height_places_check.h"
#include "reduce/physics/blockage.h"

struct checking {
    const struct campaign *campaign;
    const struct facility *facility;
    campaign_problem *report;
    void *context;
    struct fault *first;
    size_t found;
};

static void pass_on(struct checking *checking, const struct fault *problem)
{
    if (checking->report != NULL)
        checking->report(checking->context, problem);
    if (checking->found++ == 0 && checking->first != NULL)
        *checking->first = *problem;
}

static void tell(struct checking *checking, const char *text)
{
    struct fault problem;
    (void)FAIL(&problem, BAD_INPUT, "%s", text);
    fault_where(&problem, "%s: facility %s", checking->campaign->path, checking->facility->name);
    pass_on(checking, &problem);
}

/* Told where the sensor stands in the file. */
static void check_heights(struct checking *checking)
{
    char text[400];
    struct fault problem;
    const struct height_sensor *sensor = height_places_check(checking->facility, text, sizeof text);
    if (sensor == NULL)
        return;
    (void)FAIL(&problem, BAD_INPUT, "facility %.60s: height_sensors: %s", checking->facility->name,
               text);
    fault_where(&problem, "%s:%zu:%zu", checking->campaign->path, sensor->line, sensor->column);
    pass_on(checking, &problem);
}

static void check_family_known(struct checking *checking)
{
    char text[512];
    size_t used =
        (size_t)snprintf(text, sizeof text, "blockage: no family '%.100s'; the known ones are",
                         checking->facility->blockage);
    const struct blockage_family *family = NULL;
    for (size_t i = 0; (family = blockage_family_at(i)) != NULL && used < sizeof text; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, "%s %s", i > 0 ? "," : "",
                                 family->name);
    tell(checking, text);
}

/* What is fitted to declared measurements. Gives 0 when something is wrong. */
static int check_boundary(struct checking *checking, struct boundary_made *made)
{
    char text[512];
    const char *what = "";
    enum outcome outcome = boundary_make(checking->facility, made, &what);
    if (outcome == OUTCOME_OK)
        return 1;
    (void)snprintf(
        text, sizeof text,
        "%s: nothing can be fitted to its measurements: %s; correct the block, or take it "
        "and its correction out",
        what, outcome_sentence(outcome));
    tell(checking, text);
    return 0;
}

/* Without measurements at a point these have no answer yet; nor has a car without drag a split one. */
static int is_of_points(enum outcome outcome)
{
    return outcome == OUTCOME_OK || outcome == OUTCOME_BLOCKAGE_RANGE || outcome == OUTCOME_NO_ROOT;
}

/* The family is tried on a car without drag: what it says of missing sizes holds at every point. That
 * the car is too large is refused point by point, with a flag. */
static void check_sizes(struct checking *checking, const struct blockage_family *family,
                        const struct boundary_made *made)
{
    const struct facility *facility = checking->facility;
    const struct car *car = &checking->campaign->car;
    const struct blockage_input input = {.area = car->reference_area,
                                         .length = car->length,
                                         .volume = car->volume,
                                         .section_width = facility->width,
                                         .section_height = facility->height,
                                         .shape = facility->blockage_shape,
                                         .floor_image = facility->floor_image,
                                         .is_open = facility->section == SECTION_OPEN_JET,
                                         .drag_coefficient = made->constants.attached_drag,
                                         .base_cp = -0.2,
                                         .constants = made->constants};
    struct blockage_result result;
    char text[512];
    if (facility->boundary.given[BOUNDARY_WALL_SIGNATURE]) /* read from the walls, run by run */
        return;
    enum outcome outcome = family->correct(&input, &result);
    if (is_of_points(outcome))
        return;
    (void)snprintf(
        text, sizeof text,
        "blockage '%s' can't be computed: %s; check %sthe facility's width and height and "
        "the car's reference_area, length and volume, or choose another family",
        family->name, outcome_sentence(outcome),
        facility->boundary.given[BOUNDARY_OPEN_JET]
            ? "car_distance (half the car's length or more), collector_distance (more "
              "than that), "
            : "");
    tell(checking, text);
}

static unsigned section_bit(enum section_kind section)
{
    static const unsigned bits[] = {[SECTION_CLOSED] = BLOCKAGE_CLOSED,
                                    [SECTION_OPEN_JET] = BLOCKAGE_OPEN,
                                    [SECTION_SLOTTED] = BLOCKAGE_SLOTTED,
                                    [SECTION_TRACK] = BLOCKAGE_TRACK,
                                    [SECTION_BENCH] = BLOCKAGE_TRACK};
    return bits[section];
}

static void tell_section(struct checking *checking, const struct blockage_family *family)
{
    static const char *const words[] = {"closed", "open jet", "slotted"};
    char text[400];
    size_t used = (size_t)snprintf(text, sizeof text,
                                   "blockage: '%s' holds in a test section that is", family->name);
    const char *join = "";
    for (unsigned i = 0; i < 3; i++) {
        if (!(family->sections >> i & 1U))
            continue;
        used += (size_t)snprintf(text + used, sizeof text - used, "%s %s", join, words[i]);
        join = " or";
    }
    (void)snprintf(text + used, sizeof text - used,
                   ", this one is not; choose another family, or write blockage: none");
    tell(checking, text);
}

static void check_blockage(struct checking *checking)
{
    const char *name = checking->facility->blockage;
    const struct blockage_family *family = blockage_family(name);
    struct boundary_made made;
    int is_whole = check_boundary(checking, &made);
    if (name == NULL)
        return;
    if (family == NULL) {
        check_family_known(checking);
        return;
    }
    if (!(family->sections & section_bit(checking->facility->section))) {
        tell_section(checking, family);
        return;
    }
    if (is_whole)
        check_sizes(checking, family, &made);
}

static void check_buoyancy(struct checking *checking)
{
    if (checking->facility->buoyancy == BUOYANCY_HORIZONTAL &&
        !(checking->campaign->car.volume > 0))
        tell(checking, "buoyancy: horizontal needs the car's volume; give it or write none");
}

enum status recipe_check(const struct campaign *campaign, campaign_problem *report, void *context,
                         struct fault *fault)
{
    struct checking checking = {campaign, NULL, report, context, fault, 0};
    for (size_t i = 0; i < campaign->n_facilities; i++) {
        checking.facility = &campaign->facilities[i];
        check_blockage(&checking);
        check_buoyancy(&checking);
        check_heights(&checking);
    }
    return checking.found == 0 ? OK : BAD_INPUT;
}
