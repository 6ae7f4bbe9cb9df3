/* test_contents.c - what a total contains, and the campaign's words for cells and height sensors.
 *
 * Every campaign here is invented; what is wrong is told with its line and column.                  */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/campaign_store.h"
#include "schema/contents.h"
#include "schema/store.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"
#include "tests/season_look.h"

static void content_is_computed_from_balance_and_cells(void)
{
    static const struct {
        const char *balance;
        unsigned added;
        const char *says;
    } sums[] = {
        {"body, wheels", 0, "body, wheels"},
        {"body", CELLS_WHEEL_DRAG, "drag: body, wheels; downforce: body"},
        {"body", CELLS_WHEEL_DRAG | CELLS_WHEEL_LOADS, "body, wheels"},
        {"body", CELLS_BELT_LOAD, "drag: body; downforce: body, belt"},
        {"body", 15, "body, wheels, belt"},
        {"front wheels ,body", CELLS_WHEEL_LOADS,
         "drag: front wheels ,body; downforce: front wheels ,body, wheels"},
    };
    for (size_t i = 0; i < sizeof sums / sizeof sums[0]; i++) {
        char text[64];
        char says[400];
        struct load_contents contents;
        (void)snprintf(text, sizeof text, "%s", sums[i].balance);
        struct facility facility = {.contains = text, .added_cells = sums[i].added};
        contents_make(&facility, NULL, 1, &contents);
        contents_say(&contents, says, sizeof says);
        CHECK_TEXT(says, sums[i].says);
        contents_make(&facility, NULL, 0, &contents);
        CHECK_TEXT(contents.drag, sums[i].balance);
    }
}

static void a_balance_may_contain_other_parts(void)
{
    struct load_contents contents;
    struct facility facility = {.contains = (char[]){"body, wheels"}};
    struct balance balance = {.contains = (char[]){"body"}};
    contents_make(&facility, &balance, 1, &contents);
    CHECK_TEXT(contents.downforce, "body");
    balance.contains = NULL;
    contents_make(&facility, &balance, 1, &contents);
    CHECK_TEXT(contents.downforce, "body, wheels");
}

static void lists_are_compared_as_sets_of_whole_parts(void)
{
    struct load_contents a = {"body, wheels", "body"};
    struct load_contents b = {"wheels,body", "body"};
    CHECK(contents_same(&a, &b));
    struct load_contents c = {"body, wheels", "body, wheels"};
    CHECK(!contents_same(&a, &c) && !contents_same(&c, &a));
    struct load_contents d = {"body, wheels, belt", "body"};
    CHECK(!contents_same(&a, &d) && !contents_same(&d, &a));
    CHECK(contents_has("body, front wheels", "body"));
    CHECK(!contents_has("body, front wheels", "wheels"));
    CHECK(!contents_has("", "wheels"));
    CHECK(contents_has("wheels ", "wheels"));
}

static void cells_know_their_group(void)
{
    CHECK(cell_group_of(ROLE_WHEEL_DRAG_REAR_RIGHT)->group == CELLS_WHEEL_DRAG);
    CHECK(cell_group_of(ROLE_WHEEL_LOAD_FRONT_LEFT)->group == CELLS_WHEEL_LOADS);
    CHECK(cell_group_of(ROLE_BELT_DRAG)->group == CELLS_BELT_DRAG);
    CHECK(cell_group_of(ROLE_BELT_LOAD)->group == CELLS_BELT_LOAD);
    CHECK(cell_group_of(ROLE_TAP) == NULL && cell_group_of(ROLE_HEIGHT_SENSOR_8) == NULL);
}

/* What is put in place of a line of the good campaign, where the problem stands, what it says; "" when
 * there is none. */
static const struct {
    const char *from, *to, *place, *says;
} cases[] = {
    {"    contains: body, wheels\n", "    balance_contains: body, wheels\n", "", ""},
    {"    contains: body, wheels\n", "", "test_section: closed", "lacks 'balance_contains'"},
    {"    contains: body, wheels\n", "    contains: body\n    balance_contains: body\n", "body\n",
     "are both given; keep balance_contains"},
    {"    contains: body, wheels\n", "    contains: body\n    add_cells: wheel drag\n", "body\n",
     "write balance_contains instead of contains"},
    {"    contains: body, wheels\n", "    balance_contains: body\n    add_cells: wheel drag\n", "",
     ""},
    {"    contains: body, wheels\n", "    balance_contains: body\n    add_cells: wheels drag\n",
     "wheels drag", "'wheels drag' is not one of its words"},
    {"    contains: body, wheels\n",
     "    balance_contains: body\n    add_cells: belt drag, belt drag\n", "belt drag, belt",
     "'belt drag' is given twice"},
    {"    contains: body, wheels\n", "    balance_contains: body\n    add_cells: belt load\n",
     "belt load\n", "lacks 'belt_centre'"},
    {"    contains: body, wheels\n",
     "    balance_contains: body\n    add_cells: belt load\n    belt_centre: 0 m\n", "", ""},
    {"    contains: body, wheels\n",
     "    balance_contains: body\n    add_cells: belt drag\n    belt_centre: 0 m\n", "0 m\n",
     "does not add the belt load"},
    {"    contains: body, wheels\n",
     "    balance_contains: body, wheels\n    add_cells: wheel loads\n", "wheel loads\n",
     "contains 'wheels' already, and add_cells adds the wheel loads"},
    {"    contains: body, wheels\n", "    contains: body\n    car_stands_on: air\n", "air\n",
     "wheels, struts"},
    {"  length: 2.35 m\n", "  track_front: 0.8 m\n", "name: Curlew",
     "track_front is given without track_rear"},
    {"  length: 2.35 m\n", "  track_front: 0.8 m\n  track_rear: 790 mm\n", "", ""},
    {"    outputs: mV/V\n", "    outputs: mV/V\n    contains: body\n", "", ""},
    {"    humidity: absent\n",
     "    humidity: absent\n    height_sensors:\n"
     "      - {sensor: height_sensor_1, x: 0 m, y: 0 m, offset: 0 mm}\n",
     "- {sensor", "write ride_height: from sensors, or from log"},
    {"    humidity: absent\n", "    humidity: absent\n    ride_height: from sensors\n",
     "from sensors\n", "height_sensors places none"},
    {"    humidity: absent\n", "    humidity: absent\n    ride_height: from log\n", "", ""},
    {"    humidity: absent\n", "    humidity: absent\n    roll: zero\n", "zero\n",
     "roll is for height_sensors"},
    {"    humidity: absent\n",
     "    humidity: absent\n    ride_height: from sensors\n    height_sensors: none\n", "none\n",
     "needs a list of 1 to 8"},
    {"    humidity: absent\n",
     "    humidity: absent\n    ride_height: from log\n    height_sensors:\n"
     "      - {sensor: laser, x: 0 m, y: 0 m, offset: 0 mm}\n",
     "laser, x", "write height_sensor_1 to height_sensor_8"},
    {"    humidity: absent\n",
     "    humidity: absent\n    ride_height: from log\n    height_sensors:\n"
     "      - {sensor: height_sensor_1, x: 0.1, y: 0 m, offset: 0 mm}\n",
     "0.1, y", "has no unit"},
    {"    humidity: absent\n",
     "    humidity: absent\n    ride_height: from log\n    height_sensors:\n"
     "      - {sensor: height_sensor_1, x: 0 m, y: 0 m}\n",
     "{sensor: height_sensor_1, x: 0 m, y: 0 m}", "lacks 'offset'"},
    {"    humidity: absent\n",
     "    humidity: absent\n    ride_height: from log\n    height_sensors:\n"
     "      - {sensor: height_sensor_1, x: 0 m, y: 0 m, offset: 0 mm}\n"
     "      - {sensor: height_sensor_1, x: 1 m, y: 0 m, offset: 0 mm}\n",
     "height_sensor_1, x: 1 m", "height_sensor_1 is given twice"},
};

static char *with_change(const char *from, const char *to)
{
    const char *text = good_campaign();
    const char *at = strstr(text, from);
    size_t size = strlen(text) + strlen(to) + 1;
    char *out = malloc(size);
    CHECK(at != NULL && out != NULL);
    if (at != NULL && out != NULL)
        (void)snprintf(out, size, "%.*s%s%s", (int)(at - text), text, to, at + strlen(from));
    return out;
}

static void what_is_wrong_is_told_where_it_stands(void)
{
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct campaign *campaign = NULL;
        struct heard heard;
        struct fault fault = {.status = OK};
        char place[64];
        char *text = with_change(cases[i].from, cases[i].to);
        enum status status = campaign_read_text(text, &campaign, &heard, &fault);
        campaign_place(text, cases[i].place, place, sizeof place);
        CHECK(status == (cases[i].says[0] == '\0' ? OK : BAD_INPUT));
        if (cases[i].says[0] == '\0')
            CHECK_TEXT(heard.all, "");
        else
            CHECK_CONTAINS(heard.all, cases[i].says);
        if (cases[i].says[0] != '\0')
            CHECK_CONTAINS(heard.all, place);
        CHECK(heard.n <= 1);
        campaign_free(campaign);
        free(text);
    }
}

static void a_rig_is_read_and_kept_with_its_values(void)
{
    static const char rig[] =
        "    balance_contains: body\n    add_cells: wheel drag, belt load\n    belt_centre: 50 mm\n"
        "    car_stands_on: wheels\n    ride_height: from sensors\n    roll: zero\n"
        "    height_sensors:\n"
        "      - {sensor: height_sensor_2, x: -0.6 m, y: 200 mm, offset: 1.2 mm}\n"
        "      - {sensor: height_sensor_1, x: 70 cm, y: 0 m, offset: 0 mm}\n";
    struct campaign *campaign = NULL;
    struct store *store = NULL;
    struct heard heard;
    struct fault fault = {.status = OK};
    char *text = with_change("    contains: body, wheels\n", rig);
    CHECK_OK(campaign_read_text(text, &campaign, &heard, &fault), &fault);
    free(text);
    if (campaign == NULL)
        return;
    const struct facility *facility = &campaign->facilities[0];
    CHECK(facility->added_cells == (CELLS_WHEEL_DRAG | CELLS_BELT_LOAD));
    CHECK_NEAR(facility->belt_centre, 0.05, 1e-15, "identity: 50 mm");
    CHECK(facility->stands_on_wheels && facility->roll_is_zero);
    CHECK(facility->ride_height == HEIGHT_FROM_SENSORS && facility->n_height_sensors == 2);
    CHECK(facility->height_sensors[0].role == ROLE_HEIGHT_SENSOR_2);
    CHECK_NEAR(facility->height_sensors[0].y, 0.2, 1e-15, "identity: 200 mm");
    CHECK_NEAR(facility->height_sensors[0].offset, 0.0012, 1e-15, "identity: 1.2 mm");
    CHECK_NEAR(facility->height_sensors[1].x, 0.7, 1e-15, "identity: 70 cm");
    CHECK_NEAR(campaign->limits.height_residual, 0.3e-3, 0, "0.3 mm, common practice, no source");
    store = memory_season();
    CHECK_OK(campaign_store(store, campaign, &fault), &fault);
    check_season(store,
                 "SELECT name, value, unit FROM setting WHERE section = 'facility saltmarsh' AND "
                 "name IN ('contains', 'balance_contains', 'add_cells', 'belt_centre', "
                 "'height_sensor_2: y', 'ride_height', 'roll') ORDER BY name",
                 3,
                 "add_cells|wheel drag, belt load|\nbalance_contains|body|\nbelt_centre|0.05|m\n"
                 "contains|drag: body, wheels; downforce: body, belt|\n"
                 "height_sensor_2: y|0.2|m\nride_height|from sensors|\nroll|zero|\n");
    check_season(store,
                 "SELECT value FROM setting WHERE section = 'facility road' AND name = 'contains'",
                 1, "body\n");
    end_season(store);
    campaign_free(campaign);
}

CU_TestInfo contents_tests[] = {
    {"content is computed from balance and cells", content_is_computed_from_balance_and_cells},
    {"a balance may contain other parts", a_balance_may_contain_other_parts},
    {"lists are compared as sets of whole parts", lists_are_compared_as_sets_of_whole_parts},
    {"cells know their group", cells_know_their_group},
    {"what is wrong is told where it stands", what_is_wrong_is_told_where_it_stands},
    {"a rig is read and kept with its values", a_rig_is_read_and_kept_with_its_values},
    CU_TEST_INFO_NULL};
