/* test_report_sections.c - sections below the result: settings in words, times, sweeps and maps, and
 * links that lead somewhere whatever is missing. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/setting_text.h"
#include "tests/check.h"
#include "tests/test_report_made.h"

static void check_value(const char *name, const char *value, const char *unit, const char *wanted)
{
    struct setting_text room;

    CHECK_TEXT(setting_value(name, value, unit, &room), wanted);
}

static void settings_are_in_the_units_people_set_them_in(void)
{
    check_value("cap: front_ride_height", "0.0005", "m", "0.5 mm");
    check_value("tare_tolerance: rear_ride_height", "0.0015", "m", "1.5 mm");
    check_value("tolerance: yaw", "0.00017453292519943296", "rad", "0.01 deg");
    check_value("confidence", "0.9500000000000001", "1", "95 %");
    check_value("q_unsteady", "0.002", "1", "0.2 %");
    check_value("zero_drift", "0.5", "1", "0.5");
    check_value("wheelbase", "1.45", "m", "1.45 m");
    check_value("reference_area", "0.4", "m2", "0.4 m\xC2\xB2");
    check_value("pressure_gradient", "-0.0012", "1/m",
                "\xE2\x88\x92"
                "0.0012 1/m");
    check_value("blockage", "image sum", "", "image sum");
    check_value("length", "not given", "m", "not given");
    check_value("missing: 1", "", "", "empty");
}

static void settings_have_readable_names(void)
{
    CHECK_TEXT(setting_name("cap: front_ride_height").text,
               "cap on attitude correction: front ride height");
    CHECK_TEXT(setting_name("reference_area").text, "reference area");
    CHECK_TEXT(setting_name("already_corrected").text, "wall corrections already in the log");
    CHECK_TEXT(setting_name("rated: Fx").text, "rated: Fx");
    CHECK_TEXT(setting_name("column p0_raw").text, "column p0_raw"); /* a log's own name */
}

static void the_page_lists_settings_in_words(void)
{
    char *text = report_page_after(NULL, "UPDATE log SET bytes = 1000");

    if (text != NULL) {
        CHECK_CONTAINS(text, "cap on attitude correction: front ride height <b>0.5 mm</b></dd>");
        CHECK_CONTAINS(text, "name: <b>Curlew C4</b>; reference area: <b>0.4 m\xC2\xB2</b>; "
                             "wheelbase: <b>1.45 m</b></dd>");
        CHECK_CONTAINS(text, "Log files: 21, 21.0 kB together, ");
        CHECK(strstr(text, "; </dd>") == NULL);
        CHECK(strstr(text, "cap: front_ride_height") == NULL);
    }
    free(text);
}

/* R101 begins at 20:05 and has 24 points half a minute apart: their mean is 345 s later, as is its
 * mounting's; the last run is 20 times 1380 s later. The drawing is 1280 wide, from 52 to 1264, with
 * a margin of 1.5 % of the span on each side. */
static void marks_and_bars_stand_above_each_other(void)
{
    char *text = report_page_after(NULL, NULL);
    const char *strip = text != NULL ? strstr(text, "plot wide") : NULL;
    const double x = 52 + (1264 - 52) * 0.015 / 1.03;

    CHECK(strip != NULL);
    if (strip != NULL) {
        const char *mark = strstr(strip, "<path class=\"mark\" d=\"M");
        const char *bar = strstr(strip, "<rect class=\"run\"");
        CHECK(mark != NULL && bar != NULL);
        if (mark != NULL && bar != NULL) {
            double corner = strtod(strstr(mark, "d=\"M") + 4, NULL);
            double bar_left = strtod(strstr(bar, " x=\"") + 4, NULL);
            CHECK_NEAR(corner + 0.9 * 5.5, x, 0.02, "by hand");
            CHECK_NEAR(bar_left + 2.5, x, 0.02, "by hand");
        }
        CHECK_CONTAINS(strip, "<title>run R101, C0, started 20:05</title>");
        CHECK_CONTAINS(strip, ", 20:10: CL ");
        CHECK_CONTAINS(strip, "clock time, UTC+01:00");
        CHECK_CONTAINS(text, "runs started 11 Feb 2026 20:05 to 12 Feb 2026 03:45, UTC+01:00");
    }
    free(text);
}

static void a_sweep_says_what_it_holds(void)
{
    char *text = report_page_after(
        NULL, "INSERT INTO setting VALUES ('season', 'map_attitude', 'F10 R42', '')");

    if (text != NULL) {
        CHECK_CONTAINS(text, "<h2>Sweep of front ride height at rear ride height 42 mm, yaw 0 "
                             "deg</h2>");
        CHECK_CONTAINS(text, "value of CL over front ride height at rear ride height 42 mm, yaw 0 "
                             "deg, 6 attitudes, 6 configurations");
        CHECK_CONTAINS(text, ">front ride height, mm</text>");
    }
    free(text);
    text = report_page_after(NULL, "DELETE FROM observation WHERE target NOT LIKE '%Y%'");
    if (text != NULL) {
        CHECK_CONTAINS(text, "<h2>Sweep of yaw at front ride height 10 mm, rear ride height 36 "
                             "mm</h2>");
        CHECK_CONTAINS(text, ">yaw, deg, air from the right +</text>");
    }
    free(text);
}

/* Every link of the bar has its section. */
static void check_links(const char *text)
{
    for (const char *at = text; (at = strstr(at, "href=\"#")) != NULL; at += 7) {
        char id[64];
        int length = (int)strcspn(at + 7, "\"");
        CHECK(length < 40);
        (void)snprintf(id, sizeof id, " id=\"%.*s\"", length < 40 ? length : 40, at + 7);
        CHECK_CONTAINS(text, id);
    }
}

static void links_lead_somewhere_when_nothing_is_there(void)
{
    char *text = report_page_after(
        NULL, "DELETE FROM observation WHERE target NOT IN ('weighted', 'F10 R36', 'F12 "
              "R36'); DELETE FROM map_triangle");

    if (text != NULL) {
        check_links(text);
        CHECK_CONTAINS(text, "Nothing is drawn: of the attitudes with values (2), fewer than 3 "
                             "differ in one coordinate only.");
        CHECK_CONTAINS(text, "Nothing is drawn: no configuration has pressures of three taps");
    }
    free(text);
    text = report_page_after(NULL, "DELETE FROM metric; DELETE FROM tap; DELETE FROM map_triangle");
    if (text != NULL) {
        check_links(text);
        CHECK_CONTAINS(text, "Nothing is drawn: the campaign declares no taps.");
        CHECK_CONTAINS(text, "Nothing is drawn: the campaign declares no metric.");
    }
    free(text);
}

static void maps_say_how_they_are_seen(void)
{
    char *text = report_page_after(NULL, NULL);

    if (text != NULL) {
        check_links(text);
        CHECK_CONTAINS(text, "seen from above with the nose to the left. Nothing is drawn outside "
                             "the measured taps; over a dead tap the surface rests on its "
                             "neighbours.");
        CHECK_CONTAINS(text, "flow from left to right in the picture");
        CHECK(strstr(text, "air from the left") == NULL);
    }
    free(text);
}

static void air_that_does_not_move_is_one_number(void)
{
    char *text = report_page_after(NULL, "UPDATE point_result SET dynamic_pressure_pa = 1500.2, "
                                         "static_temperature_k = 293.15");

    if (text != NULL) {
        CHECK_CONTAINS(text, "<h3>Air, static temperature</h3>");
        CHECK_CONTAINS(text, "q 1500 Pa");
        CHECK_CONTAINS(text, "<p class=\"value\">20.0 <small>");
    }
    free(text);
}

CU_TestInfo report_sections_tests[] = {
    {"settings are in the units people set them in", settings_are_in_the_units_people_set_them_in},
    {"settings have readable names", settings_have_readable_names},
    {"the page lists settings in words", the_page_lists_settings_in_words},
    {"marks and bars stand above each other", marks_and_bars_stand_above_each_other},
    {"a sweep says what it holds", a_sweep_says_what_it_holds},
    {"links lead somewhere when nothing is there", links_lead_somewhere_when_nothing_is_there},
    {"maps say how they are seen", maps_say_how_they_are_seen},
    {"air that does not move is one number", air_that_does_not_move_is_one_number},
    CU_TEST_INFO_NULL};
