/* test_campaign_problems.c - reading a campaign.yaml that is not quite right. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "schema/campaign.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"
#include "tests/scratch.h"

/* The good text with one piece replaced; the caller frees. */
static char *spoiled(const char *piece, const char *by)
{
    const char *at = strstr(good_campaign(), piece);
    char *text = malloc(strlen(good_campaign()) + strlen(by) + 1);
    if (at == NULL || text == NULL) {
        CHECK_TEXT(piece, "a piece of the good text");
        free(text);
        return NULL;
    }
    (void)snprintf(text, strlen(good_campaign()) + strlen(by) + 1, "%.*s%s%s",
                   (int)(at - good_campaign()), good_campaign(), by, at + strlen(piece));
    return text;
}

struct spoil {
    const char *piece; /* of the good text */
    const char *by;    /* what stands there instead */
    const char *mark;  /* text at which the problem is reported */
    const char *says;  /* part of its sentence */
};

static void check_spoiled(const struct spoil *spoil)
{
    struct campaign *campaign = NULL;
    struct heard heard;
    struct fault fault = {0};
    char place[64];
    char *text = spoiled(spoil->piece, spoil->by);
    if (text == NULL)
        return;
    campaign_place(text, spoil->mark, place, sizeof place);
    CHECK(campaign_read_text(text, &campaign, &heard, &fault) == BAD_INPUT);
    CHECK(campaign == NULL && heard.n >= 1 && heard.in_order);
    const char *line = strstr(heard.all, place);
    check_contains(line != NULL ? line : heard.all, place, spoil->by, __FILE__, __LINE__);
    check_contains(line != NULL ? line : heard.all, spoil->says, spoil->by, __FILE__, __LINE__);
    campaign_free(campaign);
    free(text);
}

static void check_all(const struct spoil *spoils, size_t n)
{
    for (size_t i = 0; i < n; i++)
        check_spoiled(&spoils[i]);
}

static void values_are_refused_where_they_stand(void)
{
    static const struct spoil spoils[] = {
        {"count: 0.001", "count: 0", "0\npoint", "more than 0"},
        {"wheelbase: 1450 mm", "wheelbase: 1.45", "1.45\n", "has no unit"},
        {"wheelbase: 1450 mm", "wheelbase: 1,45 m", "1,45 m", "not a number"},
        {"wheelbase: 1450 mm", "wheelbase: 1.45 kg", "1.45 kg", "car: wheelbase: unit 'kg'"},
        {"wheelbase: 1450 mm", "wheelbase: -1450 mm", "-1450", "more than 0"},
        {"wheelbase: 1450 mm", "wheelbase: [1450 mm]", "[1450", "one value is needed"},
        {"name: Curlew", "name:", "\n  model_scale", "is empty"},
        {"model_scale: 0.5", "model_scale: 2", "2\n", "at most 1"},
        {"width: 3.2 m", "width: 3.2 mph", "3.2 mph", "a length"},
        {"test_section: closed", "test_section: open", "open\n",
         "closed, open jet, slotted, track"},
        {"already_corrected: no", "already_corrected: maybe", "maybe", "yes, no, unknown"},
        {"yaw_positive: air from left", "yaw_positive: left", "left\n", "air from right"},
        {"balance_follows: pitch, roll", "balance_follows: pitch, heave", "pitch, heave",
         "'heave' is not one of its words"},
        {"blockage_shape: from length", "blockage_shape: -1", "-1\n      to_target", "more than 0"},
        {"x: 30 mm", "x: 30", "30, y", "has no unit"},
        {"axes: {x: forward", "axes: {x: right", "right, y", "aft, forward"},
        {"rated: {Fx: 1500 N", "rated: {Fx: 1500 N m", "1500 N m", "a force"},
        {"delimiter: semicolon", "delimiter: \";\"", "\";\"", "comma, semicolon, tab, blank"},
        {"rate: 100 Hz", "rate: 100 m", "100 m", "a frequency"},
        {"missing: [\"\", NaN]", "missing: NaN", "NaN", "needs a list"},
        {"unit: deg, sign: -1", "unit: deg, sign: 2", "2}", "1 or -1"},
        {"unit: deg", "unit: Pa", "Pa, sign", "an angle"},
        {"role: yaw", "role: jaw", "jaw", "is not a role"},
        {"role: yaw", "role: tap", "tap, unit", "taps.csv"},
        {"taps: {unit: Pa", "taps: {unit: mm", "mm, measured", "a pressure"},
        {"tolerance: {front_ride_height: 0.02 mm", "tolerance: {front_ride_height: 0.02 deg",
         "0.02 deg", "a length"},
        {"weight: 0.25", "weight: -0.25", "-0.25", "0 or more"},
        {"quantity: CL,", "quantity: Cl,", "Cl,", "CD, CY, CL, CLF"},
        {"better: higher", "better: more", "more,", "higher, lower, toward VALUE"},
        {"better: toward 45 %", "better: toward 45", "toward 45", "has no unit"},
        {"worthwhile: 0.010", "worthwhile: 0", "0}\n  balance", "more than 0"},
        {"worthwhile: 0.001 m2", "worthwhile: 0.001", "0.001}", "has no unit"},
        {"map_attitude: low", "map_attitude: low\nlimits: {confidence: 95}", "95}",
         "between 0 and 1"},
    };
    check_all(spoils, sizeof spoils / sizeof spoils[0]);
}

static void keys_are_refused_where_they_stand(void)
{
    static const struct spoil spoils[] = {
        {"width: 3.2 m", "widht: 3.2 m", "widht", "has no key 'widht'; its keys are: test_section"},
        {"width: 3.2 m", "widht: 3.2 m", "test_section: closed", "lacks 'width'"},
        {"    already_corrected: no\n", "", "test_section: closed", "lacks 'already_corrected'"},
        {"  wheelbase: 1450 mm\n", "", "name: Curlew", "car lacks 'wheelbase'"},
        {"metrics:", "metricks:", "metricks", "has no key 'metricks'"},
        {"metrics:", "metricks:", "season:", "lacks 'metrics'"},
        {"better: higher, ", "", "{quantity: CL", "lacks 'better'"},
        {", worthwhile: 0.010", "", "{quantity: CL", "lacks 'worthwhile'"},
        {"  length: 2.35 m", "  name: Godwit", "name: Godwit", "given twice, first in line 5"},
        {"  road:\n", "  saltmarsh:\n", "saltmarsh:\n    test_section: track", "given twice"},
        {"  balance: {", "  downforce: {", "downforce: {worth", "given twice"},
        {"name: bend", "name: low", "low, front_ride_height: 12", "given twice, first in line"},
        {"CL: {role", "Pt: {role", "Pt: {role: downf", "given twice"},
        {"role: time", "role: yaw", "yaw: {role: yaw", "has already"},
        {"  cap: {front_ride_height: 0.5 mm, yaw: 0.1 deg}\n", "",
         "tolerance: {front_ride_height: 0.02", "cap lacks 'yaw'"},
        {"capture: {front_ride_height: 1.5 mm, yaw: 0.5 deg}", "capture: {yaw: 0.5 deg}",
         "{yaw: 0.5 deg}\n", "capture lacks 'front_ride_height'"},
        {"{front_ride_height: 1.5 mm, yaw: 0.5 deg}\n      buoy",
         "{front_ride_height: 1.5 mm, heave: 1 mm}\n      buoy", "heave", "its keys are"},
        {"facilities:\n", "facilities: none\nspare:\n", "none", "block of 'key: value'"},
    };
    check_all(spoils, sizeof spoils / sizeof spoils[0]);
}

static void contradictions_are_refused_where_they_stand(void)
{
    static const struct spoil spoils[] = {
        {"already_corrected: no", "already_corrected: yes", "yes\n    contains",
         "cannot be corrected twice"},
        {"already_corrected: no", "already_corrected: unknown", "unknown\n    contains",
         "cannot be corrected twice"},
        {"    contraction_polynomial: [0.51549 Pa, 2.32312, 4.62743e-5 1/Pa]\n", "",
         "test_section: closed", "lacks 'contraction_polynomial'"},
        {"freestream: contraction", "freestream: given", "[0.51549", "remove one of them"},
        {"[0.51549 Pa, 2.32312, ", "[0.51549 Pa, 2.32312 Pa, ", "2.32312 Pa", "pure number"},
        {"[0.51549 Pa, 2.32312, 4.62743e-5 1/Pa]", "[]", "[]", "1 to 4 numbers"},
        {"    pressure_gradient: -0.0012 1/m\n", "", "test_section: closed",
         "lacks 'pressure_gradient'"},
        {"      balance_follows: pitch, roll\n", "", "zero: linear", "balance_follows"},
        {"balance_follows: nothing, buoyancy", "buoyancy", "{zero: none", "balance_follows"},
        {"  saltmarsh:\n", "  salt/marsh:\n", "salt/marsh", "holds a '/'"},
        {"      tare_tolerance: {front_ride_height: 1.5 mm, yaw: 0.5 deg}\n", "", "zero: linear",
         "lack 'tare_tolerance'"},
        {"    humidity: absent\n", "", "test_section: closed", "lacks 'humidity' of its air"},
        {"main_measure: {metric: downforce, attitude: weighted}\n", "", "season",
         "lacks 'main_measure', which must be declared"},
        {"humidity: absent", "humidity: absent\n    viscosity: 1e-3 Pa s", "1e-3 Pa s",
         "viscosity is given without density"},
        {"humidity: absent", "density: 1000 m", "1000 m\n", "density: unit 'm'"},
        {"humidity: measured\n    freestream: given", "humidity: measured\n    freestream: speed",
         "test_section: track", "lacks 'density' of the fluid"},
        {"delimiter: semicolon", "names: [a, b]\n    name_rows: 1", "1\n    decimal",
         "no row of the log names them"},
        {"delimiter: semicolon", "names: []", "[]\n    decimal", "names is empty"},
        {"delimiter: semicolon", "names: [a, \"\"]", "[a, \"\"]", "name 2 is empty"},
        {"delimiter: semicolon", "names: a", "a\n    decimal", "names needs a list"},
        {"CL: {role: downforce_coefficient, statistic: sd}",
         "CL: {role: other, unit: 1, statistic: sd}", "CL: {role", "name it: {role: other"},
        {"CL: {role: downforce_coefficient, statistic: sd}",
         "CL: {role: downforce_coefficient, statistic: sd, of: Pt}", "CL: {role",
         "of goes with role: other"},
        {"CL: {role: downforce_coefficient, statistic: sd}", "CL: {role: other, unit: furlong/s/A}",
         "furlong", "of no kind that is kept"},
        {"delimiter: semicolon", "delimiter: comma", "comma\n    unit_row", "at once"},
        {"rows: samples", "rows: samples\n    point_by_row: yes", "yes\n    rate",
         "goes with rows: points"},
        {"rows: samples", "rows: points\n    point_by_row: yes", "yes\n    rate",
         "keep one of them"},
        {"unit_row: yes", "name_rows: 3", "3\n    rows", "must be 1, or 2"},
        {"      Pt: {role: point}\n", "", "forces:", "no column has the role point"},
        {"      yaw: {role: yaw, unit: deg, sign: -1}\n"
         "      CL: {role: downforce_coefficient, statistic: sd}\n"
         "    taps: {unit: Pa, measured: absolute}\n",
         "", "forces:", "reads no channel"},
        {"unit_row: yes", "preamble_rows: -3", "-3\n    rows", "whole number"},
        {"weight: 0.75", "weight: 0.74", "- {name: low", "add up to 0.99"},
        {"weight: 0.75}\n"
         "metrics:\n"
         "  downforce: {quantity: CL, better: higher, worthwhile: 0.010}\n"
         "  balance: {worthwhile: 0.3 %, better: toward 45 %, quantity: balance}\n"
         "  drag area: {quantity: CDA, better: undeclared, worthwhile: 0.001 m2}\n"
         "main_measure: {metric: downforce, attitude: weighted}",
         "weight: 0.5}\n"
         "metrics:\n"
         "  downforce: {quantity: CL, better: higher, worthwhile: 0.010}\n"
         "main_measure: {metric: downforce, attitude: low}",
         "- {name: low", "add up to 0.75"},
        {"name: low", "name: weighted", "weighted, front", "cannot be called 'weighted'"},
        {"metric: downforce", "metric: lift", "lift", "none of the metrics"},
        {"attitude: weighted", "attitude: high", "high}", "none of the targets"},
        {"map_attitude: low", "map_attitude: high", "high\n", "none of the targets"},
        {"cap: {front_ride_height: 0.5 mm", "cap: {front_ride_height: 5 mm",
         "{front_ride_height: 5 mm", "nor cap capture"},
        {"name: bend, front_ride_height: 12 mm, yaw: -3 deg,", "name: bend,", "{name: bend",
         "names no coordinate"},
        {"  targets:\n"
         "    - {name: low, front_ride_height: 10 mm, yaw: 0 deg, weight: 0.25}\n"
         "    - {name: bend, front_ride_height: 12 mm, yaw: -3 deg, weight: 0.75}\n",
         "", "tolerance: {front_ride_height: 0.02", "no target is declared"},
    };
    check_all(spoils, sizeof spoils / sizeof spoils[0]);
}

static void what_is_no_yaml_is_told_with_its_place(void)
{
    static const struct {
        const char *text;
        const char *place;
        const char *says;
    } cases[] = {
        {"season: [1, 2\ncount: 3\n", "campaign.yaml:2:", "not YAML"},
        {"season: a\n\tcount: 1\n", "campaign.yaml:2:1", "not YAML"},
        {"season: a\nb: \xff\n", "campaign.yaml:2:4", "not YAML"},
        {"season: a\n---\nseason: b\n", "campaign.yaml:3:1", "second YAML document"},
        {"season: *nobody\n", "campaign.yaml:1:9", "not YAML"},
        {"- a\n- b\n", "campaign.yaml:1:1", "block of 'key: value'"},
        {"", "campaign.yaml is empty", "lapwing init"},
        {"# nothing but words\n", "campaign.yaml is empty", "lapwing init"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct campaign *campaign = NULL;
        struct heard heard;
        struct fault fault = {0};
        CHECK(campaign_read_text(cases[i].text, &campaign, &heard, &fault) == BAD_INPUT);
        CHECK(campaign == NULL && heard.n >= 1);
        CHECK_CONTAINS(heard.all, cases[i].place);
        CHECK_CONTAINS(heard.all, cases[i].says);
    }
}

static void what_is_no_file_is_told(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    struct campaign *campaign = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    CHECK(campaign_read(folder, &campaign, NULL, NULL, &fault) == NOT_FOUND);
    CHECK_CONTAINS(fault.text, "`lapwing init` begins a campaign folder");
    (void)snprintf(path, sizeof path, "%s/campaign.yaml", folder);
    CHECK(mkfifo(path, 0600) == 0);
    CHECK(campaign_read(folder, &campaign, NULL, NULL, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "is not a plain file");
    CHECK(remove(path) == 0 && mkdir(path, 0700) == 0);
    CHECK(campaign_read(folder, &campaign, NULL, NULL, &fault) == BAD_INPUT && campaign == NULL);
    CHECK_CONTAINS(fault.text, "is a folder; a file is needed there");
    scratch_remove(folder);
}

static void every_problem_is_told_in_the_order_of_the_file(void)
{
    struct campaign *campaign = NULL;
    struct heard heard;
    struct fault fault = {0};
    CHECK(campaign_read_text(
              "season: x\ncar: {}\ncolour: red\nmetrics: {}\nlimits: {confidence: 2}\n", &campaign,
              &heard, &fault) == BAD_INPUT);
    CHECK(heard.in_order);
    CHECK_NEAR((double)heard.n, 14, 0,
               "invented: 6 keys lacking, 5 of the car, colour, no metric, confidence");
    char first[1024];
    fault_line(&fault, first, sizeof first);
    CHECK(strncmp(heard.all, first, strlen(first)) == 0);
    CHECK(campaign_read_text("season: x\n", &campaign, &heard, NULL) ==
          BAD_INPUT); /* no fault wanted */
}

CU_TestInfo campaign_problems_tests[] = {
    {"values are refused where they stand", values_are_refused_where_they_stand},
    {"keys are refused where they stand", keys_are_refused_where_they_stand},
    {"contradictions are refused where they stand", contradictions_are_refused_where_they_stand},
    {"what is no YAML is told with its place", what_is_no_yaml_is_told_with_its_place},
    {"what is no file is told", what_is_no_file_is_told},
    {"every problem is told in the order of the file",
     every_problem_is_told_in_the_order_of_the_file},
    CU_TEST_INFO_NULL};
