/* test_boundary_campaign.c - the blocks of boundary corrections in campaign.yaml: what they hold, and the
 * message of every way to write one wrong. All values are invented. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/boundary_names.h"
#include "reduce/recipe_check.h"
#include "schema/campaign.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"

#define CHOICE \
    "      buoyancy: horizontal\n      blockage: image sum\n      blockage_shape: from length\n"

enum { TEXT_SIZE = 8000 };

static void replace(const char *piece, const char *by, char text[TEXT_SIZE])
{
    char before[TEXT_SIZE];
    (void)snprintf(before, sizeof before, "%s", text);
    const char *at = strstr(before, piece);
    CHECK(at != NULL);
    if (at != NULL)
        (void)snprintf(text, TEXT_SIZE, "%.*s%s%s", (int)(at - before), before, by,
                       at + strlen(piece));
}

/* A good campaign with these corrections, in this test section. */
static void compose(const char *section, const char *corrections, char text[TEXT_SIZE])
{
    (void)snprintf(text, TEXT_SIZE, "%s", good_campaign());
    replace("  length: 2.35 m\n", "  length: 2.35 m\n  volume: 0.30 m3\n", text);
    replace("test_section: closed", section, text);
    replace(CHOICE, corrections, text);
}

static struct campaign *read_good(const char *section, const char *corrections)
{
    char text[TEXT_SIZE];
    struct campaign *campaign = NULL;
    struct heard heard;
    struct fault fault = {0};
    compose(section, corrections, text);
    enum status status = campaign_read_text(text, &campaign, &heard, &fault);
    CHECK_OK(status, &fault);
    return status == OK ? campaign : NULL;
}

#define CLOSED "test_section: closed"

static void what_the_blocks_hold(void)
{
    struct campaign *campaign = read_good(
        CLOSED, "      buoyancy: two gradients\n"
                "      blockage: maskell split\n"
                "      maskell: {wake_factor: 2.5, attached_drag: 0.3,\n"
                "                sweep_CL: [1, 2, 3], sweep_CD: [0.45, 0.6, 0.85]}\n"
                "      two_gradients: {gradient: [-0.001 1/m, 3 1/km], CD: [0.91, 0.9]}\n"
                "      flow_angularity: {yaw: [-3 deg, 0 deg, 3 deg],\n"
                "                        CY: [-0.14, 0.01, 0.16],\n"
                "                        mirrored_CY: [-0.15, 0, 0.15]}\n"
                "      reynolds: {to: 2e6, Re: [1e6, 2e6, 3e6], CD: [0.93, 0.92, 0.91]}\n");
    if (campaign == NULL)
        return;
    const struct boundary *b = &campaign->facilities[0].boundary;
    CHECK(b->given[BOUNDARY_MASKELL] && !b->given[BOUNDARY_SLOTTED]);
    CHECK(b->maskell.wake_factor == 2.5 && b->maskell.attached_drag == 0.3);
    CHECK(isnan(b->maskell.vortex_drag) && isnan(b->maskell.base_cp));
    CHECK(b->maskell.sweep_cl.n == 3 && b->maskell.sweep_cd.value[2] == 0.85);
    CHECK_NEAR(b->gradients.gradient.value[1], 0.003, 1e-18, "3 per kilometre");
    CHECK_NEAR(b->turn.yaw.value[2], 0.052359877559829883, 1e-16, "3 degrees");
    CHECK(b->reynolds.to == 2e6 && b->reynolds.cl.n == 0);
    struct fault fault = {0};
    CHECK_OK(recipe_check(campaign, NULL, NULL, &fault), &fault);
    campaign_free(campaign);
}

struct wrong {
    const char *section, *corrections;
    const char *says;
};

#define MASKELL "      buoyancy: none\n      blockage: maskell\n"
#define SPLIT "      buoyancy: none\n      blockage: maskell split\n"
#define NONE "      buoyancy: none\n      blockage: none\n"
#define JET "      buoyancy: none\n      blockage: open jet\n"
#define SLOTTED "      buoyancy: none\n      blockage: slotted\n"
#define OPEN "test_section: open jet"
#define SLOTS "test_section: slotted"

static const struct wrong wrongs[] = {
    {CLOSED, MASKELL, "corrections lack 'maskell', which blockage: maskell needs"},
    {CLOSED, NONE "      maskell: {base_pressure: -0.3}\n",
     "maskell is given, and blockage: none does not take it"},
    {CLOSED, MASKELL "      maskell: {base_pressure: -0.3, base_surface: base}\n", "keep the one"},
    {CLOSED, MASKELL "      maskell: {}\n", "needs the base's pressure"},
    {CLOSED, MASKELL "      maskell: {base_pressure: -0.3, wake_factor: 2.5}\n",
     "wake_factor is for maskell split"},
    {CLOSED, MASKELL "      maskell: {base_pressure: -0.3, attached_drag: 0.3}\n",
     "attached_drag is for maskell split"},
    {CLOSED, MASKELL "      maskell: {base_pressure: -0.3, vortex_drag: 0.1}\n",
     "vortex drag is for maskell split"},
    {CLOSED, MASKELL "      maskell: {base_pressure: low}\n", "not a number"},
    {CLOSED, MASKELL "      maskell: {base: -0.3}\n",
     "has no key 'base'; its keys are: base_surface"},
    {CLOSED, SPLIT "      maskell: {attached_drag: 0.3, vortex_drag: 0.05}\n",
     "either a wake_factor"},
    {CLOSED,
     SPLIT "      maskell: {wake_factor: 2.5, base_pressure: -0.3, attached_drag: 0.3, "
           "vortex_drag: 0}\n",
     "either a wake_factor"},
    {CLOSED, SPLIT "      maskell: {wake_factor: 2.5, vortex_drag: 0.05}\n", "needs attached_drag"},
    {CLOSED, SPLIT "      maskell: {wake_factor: 2.5, attached_drag: 0.3}\n", "either vortex_drag"},
    {CLOSED,
     SPLIT "      maskell: {wake_factor: 2.5, attached_drag: 0.3, sweep_CL: [1, 2, 3], "
           "sweep_CD: [1, 2]}\n",
     "not equally long"},
    {CLOSED, SPLIT "      maskell: {wake_factor: 2.5, attached_drag: 0.3, sweep_CL: 1}\n",
     "needs a list of numbers"},
    {CLOSED, SPLIT "      maskell: {wake_factor: -1, attached_drag: 0.3, vortex_drag: 0.1}\n",
     "more than 0"},
    {CLOSED, "      buoyancy: none\n      blockage: wall signature\n",
     "corrections lack 'wall_signature'"},
    {CLOSED,
     "      buoyancy: none\n      blockage: wall signature\n"
     "      wall_signature: {surface: walls, axis_height: 0.3 m, stations: [0 m]}\n",
     "lacks 'empty_run'"},
    {CLOSED,
     "      buoyancy: none\n      blockage: wall signature\n"
     "      wall_signature: {surface: walls, empty_run: E, axis_height: 0.3 m, stations: [0]}\n",
     "has no unit"},
    {CLOSED, NONE "      open_jet: {car_distance: 4 m}\n",
     "open_jet is given, and blockage: none does not take it"},
    {OPEN, JET "      open_jet: {expansion: 1}\n", "lacks 'car_distance'"},
    {OPEN, JET "      open_jet: {car_distance: 4 m, collector: 1}\n",
     "not verified against the paper, so they are yours"},
    {SLOTS, SLOTTED "      slotted: {}\n", "either the facility's factor, or the series"},
    {SLOTS, SLOTTED "      slotted: {factor: 0.4, series_area: [1 m2], series_CD: [1]}\n",
     "either the facility's factor, or the series"},
    {SLOTS, SLOTTED "      slotted: {series_area: [1 m2, 2 m2], series_CD: [1]}\n",
     "series_area and series_CD are not equally long"},
    {CLOSED, "      buoyancy: two gradients\n      blockage: none\n",
     "corrections lack 'two_gradients', which buoyancy: two gradients needs"},
    {CLOSED, NONE "      two_gradients: {gradient: [0 1/m, 1 1/m], CD: [1, 2]}\n",
     "two_gradients is given, and buoyancy does not take it"},
    {CLOSED,
     "      buoyancy: two gradients\n      blockage: none\n"
     "      two_gradients: {gradient: [0 1/m, 1 1/m], CD: [1, 2, 3]}\n",
     "two numbers in every list"},
    {CLOSED,
     "      buoyancy: two gradients\n      blockage: none\n"
     "      two_gradients: {gradient: [0 1/m, 1 1/m], CD: [1, 2], CL: [1, 2]}\n",
     "has one of CL and CLF"},
    {CLOSED, NONE "      flow_angularity: {yaw: [0 deg, 1 deg], CY: [1], mirrored_CY: [1, 2]}\n",
     "write both for every yaw"},
    {CLOSED, NONE "      flow_angularity: {yaw: [0 deg], CY: [1]}\n", "lacks 'mirrored_CY'"},
    {CLOSED, NONE "      reynolds: {to: 2e6, Re: [1e6, 2e6, 3e6], CD: [1, 2]}\n",
     "not as long as Re"},
    {CLOSED, NONE "      reynolds: {to: 2e6, Re: [1e6, 2e6, 3e6]}\n", "has no coefficient"},
    {CLOSED, NONE "      reynolds: {to: 2e6, Re: [1e6, 2e6, 3e6], CL: [1, 2, 3]}\n",
     "has one of CL and CLF"},
    {CLOSED, NONE "      reynolds: {Re: [1e6, 2e6, 3e6], CD: [1, 2, 3]}\n", "lacks 'to'"},
};

static void every_wrong_block_has_its_message(void)
{
    for (size_t i = 0; i < sizeof wrongs / sizeof *wrongs; i++) {
        char text[TEXT_SIZE];
        struct campaign *campaign = NULL;
        struct heard heard;
        struct fault fault = {0};
        compose(wrongs[i].section, wrongs[i].corrections, text);
        CHECK(campaign_read_text(text, &campaign, &heard, &fault) == BAD_INPUT);
        check_contains(heard.all, wrongs[i].says, wrongs[i].corrections, __FILE__, __LINE__);
        CHECK_CONTAINS(heard.all, "campaign.yaml:");
        campaign_free(campaign);
    }
}

static void it_must_not_be_corrected_twice(void)
{
    char text[TEXT_SIZE];
    struct campaign *campaign = NULL;
    struct heard heard;
    struct fault fault = {0};
    compose(CLOSED,
            NONE "      flow_angularity: {yaw: [-1 deg, 0 deg, 1 deg], CY: [-1, 0, 1],\n"
                 "                        mirrored_CY: [-1, 0, 1]}\n",
            text);
    replace("already_corrected: no", "already_corrected: yes", text);
    CHECK(campaign_read_text(text, &campaign, &heard, &fault) == BAD_INPUT);
    CHECK_CONTAINS(heard.all, "cannot be corrected twice");
    compose(CLOSED, NONE "      reynolds: {to: 2e6, Re: [1e6, 2e6, 3e6], CD: [1, 1.1, 1.2]}\n",
            text);
    replace("already_corrected: no", "already_corrected: unknown", text);
    campaign_free(campaign);
    CHECK(campaign_read_text(text, &campaign, &heard, &fault) == BAD_INPUT);
    CHECK_CONTAINS(heard.all, "take out flow_angularity and reynolds");
    campaign_free(campaign);
}

/* What only physics knows: asked after reading. */
static const struct wrong unphysical[] = {
    {CLOSED, JET "      open_jet: {car_distance: 4 m, expansion: 1}\n",
     "'open jet' holds in a test section that is open jet, this one is not"},
    {OPEN, "      buoyancy: none\n      blockage: area ratio\n",
     "'area ratio' holds in a test section that is closed, this one is not"},
    {SLOTS, "      buoyancy: none\n      blockage: image sum\n",
     "'image sum' holds in a test section that is closed or open jet, this one is not"},
    {OPEN, JET "      open_jet: {car_distance: 1 m, nozzle: 1}\n", "'open jet' can't be computed"},
    {OPEN, JET "      open_jet: {car_distance: 1 m, nozzle: 1}\n",
     "check car_distance (half the car's length or more)"},
    {CLOSED,
     SPLIT "      maskell: {wake_factor: 2.5, attached_drag: 0.3, sweep_CL: [1, 2], "
           "sweep_CD: [1, 2]}\n",
     "maskell: nothing can be fitted to its measurements: there are fewer data"},
    {CLOSED,
     SPLIT "      maskell: {wake_factor: 2.5, attached_drag: 0.3, sweep_CL: [1, 2, 3], "
           "sweep_CD: [0.9, 0.8, 0.7]}\n",
     "maskell: nothing can be fitted to its measurements: the equation has no real solution"},
    {SLOTS, SLOTTED "      slotted: {series_area: [0.2 m2, 0.3 m2], series_CD: [0.4, 0.41]}\n",
     "slotted: nothing can be fitted to its measurements: there are fewer data"},
    {SLOTS,
     SLOTTED "      slotted: {series_area: [0.2 m2, 0.3 m2, 7 m2], series_CD: [0.4, 0.41, 0.5]}\n",
     "slotted: nothing can be fitted to its measurements: a length, area or volume"},
    {CLOSED,
     "      buoyancy: two gradients\n      blockage: none\n"
     "      two_gradients: {gradient: [1 1/m, 1 1/m], CD: [1, 2]}\n",
     "two_gradients: nothing can be fitted to its measurements: the equations have no unique"},
    {CLOSED,
     NONE "      flow_angularity: {yaw: [-1 deg, 0 deg, 1 deg], CY: [-1, 0, 1.01],\n"
          "                        mirrored_CY: [-2, 0, 2.01]}\n",
     "flow_angularity: nothing can be fitted to its measurements: the equations have no unique"},
    {CLOSED, NONE "      reynolds: {to: 4e6, Re: [1e6, 2e6, 3e6], CD: [1, 1.1, 1.2]}\n",
     "reynolds: nothing can be fitted to its measurements: it is asked for outside"},
    {CLOSED, NONE "      reynolds: {to: 2e6, Re: [2e6, 2e6, 3e6], CD: [1, 1.1, 1.2]}\n",
     "reynolds: nothing can be fitted to its measurements: there are fewer data"},
};

static void every_unphysical_block_has_its_message(void)
{
    for (size_t i = 0; i < sizeof unphysical / sizeof *unphysical; i++) {
        struct fault fault = {0};
        struct campaign *campaign = read_good(unphysical[i].section, unphysical[i].corrections);
        if (campaign == NULL)
            continue;
        CHECK(recipe_check(campaign, NULL, NULL, &fault) == BAD_INPUT);
        check_contains(fault.text, unphysical[i].says, unphysical[i].corrections, __FILE__,
                       __LINE__);
        CHECK_CONTAINS(fault.where, "facility saltmarsh");
        campaign_free(campaign);
    }
}

static void gather(void *context, const struct fault *problem)
{
    char *lines = context;
    size_t used = strlen(lines);
    fault_line(problem, lines + used, TEXT_SIZE - used);
}

static void names_of_the_blocks_are_in_their_sheets(void)
{
    char lines[TEXT_SIZE] = "";
    struct problems problems = problems_to(gather, lines);
    struct tap tap = {.surface = "walls"};
    struct run_entry wind[] = {{.name = "R1", .facility = "saltmarsh", .kind = "wind_on"},
                               {.name = "E01", .facility = "saltmarsh", .kind = "wind_on"}};
    struct tap_sheet taps = {.taps = &tap, .n = 1};
    struct run_sheet runs = {.runs = wind, .n = 1};
    struct campaign *campaign = read_good(
        CLOSED, "      buoyancy: none\n      blockage: wall signature\n"
                "      wall_signature: {surface: walls, empty_run: E01, axis_height: 0.3 m,\n"
                "                       stations: [-0.8 m, 0.9 m]}\n");
    if (campaign == NULL)
        return;
    boundary_names_check(campaign, &runs, &taps, &problems);
    CHECK_CONTAINS(lines, "facility saltmarsh: wall_signature: empty_run 'E01' is no run");
    CHECK(problems.n == 1);
    runs.n = 2;
    boundary_names_check(campaign, &runs, &taps, &problems);
    CHECK(problems.n == 1);
    wind[1].facility = "other";
    boundary_names_check(campaign, &runs, NULL, &problems);
    CHECK_CONTAINS(lines, "wall_signature: surface 'walls' is on no line of taps.csv");
    CHECK(problems.n == 3); /* the run, of another facility, as well */
    wind[0].kind = "zero";
    boundary_names_check(campaign, &runs, NULL, &problems);
    CHECK(problems.n == 3); /* no wind-on run needs them */
    campaign_free(campaign);
    campaign = read_good(CLOSED, "      buoyancy: none\n      blockage: maskell\n"
                                 "      maskell: {base_surface: base}\n");
    if (campaign == NULL)
        return;
    /* cppcheck-suppress [redundantAssignment,unreadVariable]; read through a pointer */
    wind[0].kind = "wind_on";
    boundary_names_check(campaign, &runs, &taps, &problems);
    CHECK_CONTAINS(lines, "maskell: base_surface 'base' is on no line of taps.csv");
    campaign_free(campaign);
}

CU_TestInfo boundary_campaign_tests[] = {
    {"what the blocks hold", what_the_blocks_hold},
    {"every wrong block has its message", every_wrong_block_has_its_message},
    {"no block corrects twice", it_must_not_be_corrected_twice},
    {"names of the blocks are in their sheets", names_of_the_blocks_are_in_their_sheets},
    {"every unphysical block has its message", every_unphysical_block_has_its_message},
    CU_TEST_INFO_NULL};
