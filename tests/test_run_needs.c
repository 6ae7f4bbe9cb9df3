/* test_run_needs.c - `check` on campaigns that cannot give one coefficient. All names are invented. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <string.h>

#include "ingest/check_command.h"
#include "tests/check.h"
#include "tests/campaign_folder.h"
#include "tests/season_look.h"

static struct check_result check(const char *folder, char lines[GATHERED])
{
    struct check_result result;
    struct fault fault = {.status = OK};
    lines[0] = '\0';
    CHECK_OK(check_folder(folder, gather_lines, lines, &result, &fault), &fault);
    return result;
}

struct change {
    const char *file, *from, *to;
};

static const char yaml[] = "campaign.yaml";
static const char runs[] = "runs.csv";

/* Two changes at most; what is told, at runs.csv; "" when nothing is. */
static const struct {
    struct change changes[2];
    const char *told;
} cases[] = {
    {{{yaml, "      R3:   {role: balance_output_3}\n", ""}},
     "runs.csv:3:62: channel map forces (campaign.yaml:32): balance outputs are mapped, but no "
     "column has the role balance_output_3"},
    {{{yaml, "      dp:   {role: total_minus_static}\n", "      dp:   {role: dynamic_pressure}\n"}},
     "needs two of the roles total_pressure, static_pressure and total_minus_static"},
    {{{yaml, "      pst:  {role: static_pressure}\n", ""}}, "needs two of the roles"},
    {{{yaml, "role: total_minus_static", "role: total_pressure"}}, ""},
    {{{yaml, "role: static_pressure", "role: total_pressure"}}, ""}, /* p = p0 - (p0 - p) */
    {{{yaml, "freestream: total and static", "freestream: given"}},
     "freestream: given, which needs the roles dynamic_pressure and static_pressure"},
    {{{yaml, "humidity: absent", "density: 1000 kg/m3"},
      {yaml, "      T0:   {role: total_temperature}\n", ""}},
     ""}, /* p0 - p is q, no air is weighed */
    {{{yaml, "humidity: absent", "density: 1000 kg/m3"},
      {yaml, "freestream: total and static", "freestream: given"}},
     "freestream: given, which needs the role dynamic_pressure; map it, or change freestream"},
    {{{yaml, "humidity: absent", "density: 1000 kg/m3"},
      {yaml, "freestream: total and static", "freestream: speed"}},
     "freestream: speed, which needs the role air_speed; map it, or change freestream"},
    {{{yaml, "freestream: total and static",
       "freestream: contraction\n    contraction_polynomial: [0 Pa, 2.3]"}},
     "freestream: contraction, which needs the roles contraction_drop and static_pressure"},
    {{{yaml, "      T0:   {role: total_temperature}\n", ""}},
     "no column has the role total_temperature or static_temperature"},
    {{{yaml, "role: total_temperature", "role: static_temperature"}}, ""},
    {{{yaml, "humidity: absent", "humidity: measured"}},
     "no column has the role relative_humidity"},
    {{{yaml, "      yaw:  {role: yaw}\n", ""}}, ""}, /* the only target stands straight */
    {{{yaml, "      yaw:  {role: yaw}\n", ""},
      {yaml, "balance_follows: yaw", "balance_follows: pitch"}},
     ""},
    {{{yaml, "role: balance_output_6", "role: force_x"}},
     "both balance outputs and ready-made loads are mapped"},
    {{{runs, "wind_on,floor", "wind_on,"}}, "the run names no balance; name it"},
    {{{runs, ",zero,floor", ",zero,"}},
     "runs.csv:4:81: the run can have no zero: there is no zero run of facility 'saltmarsh', "
     "entry 'E1', balance 'floor'"},
    {{{runs, "saltmarsh,E1,2026-02-11T19:50", "saltmarsh,E0,2026-02-11T19:50"}},
     "'Z1' is named, which is not a zero run of the same facility, entry and balance"},
    {{{yaml, "zero: linear in time", "zero: named"}},
     "facility 'saltmarsh' has zero: named, and the run names none"},
    {{{yaml, "zero: linear in time", "zero: none"}}, ""},
    {{{runs, "forces=logs/z1.csv", "taps=logs/r1t.csv"}},
     "the channel maps of zero 'Z1' hold no balance_output_1"},
    {{{yaml, "weight_tare: none", "weight_tare: lookup, tare_tolerance: {yaw: 0.5 deg}"}},
     "the run can have no weight tare: there is no weight_tare run of facility 'saltmarsh', entry "
     "'E1', balance 'floor'"},
    {{{yaml, "weight_tare: none", "weight_tare: lookup, tare_tolerance: {roll: 0.5 deg}"}},
     "tare_tolerance compares the roll, and the run's channel maps hold none"},
    {{{yaml, "weight_tare: none", "weight_tare: lookup, tare_tolerance: {yaw: 0.5 deg}"},
      {runs, "2026-02-11T19:50:00+01:00,,zero,floor",
       "2026-02-11T19:50:00+01:00,,weight_tare,floor"}},
     "'Z1' is named, which is not a zero run"},
    {{{runs, "run,", "run,"}}, ""},
};

static void only_what_refuses_every_point_is_told(void)
{
    char folder[SCRATCH_PATH];
    char lines[GATHERED];
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        CU_ASSERT_FATAL(ingest_folder_make(folder));
        for (int k = 0; k < 2 && cases[i].changes[k].file != NULL; k++)
            CHECK(scratch_edit_all(folder, cases[i].changes[k].file, cases[i].changes[k].from,
                                   cases[i].changes[k].to));
        struct check_result result = check(folder, lines);
        if (cases[i].told[0] != '\0')
            CHECK_CONTAINS(lines, cases[i].told);
        CHECK((result.sheet_problems > 0) == (cases[i].told[0] != '\0'));
        scratch_remove(folder);
    }
}

/* Coefficients need no wind, no temperature, no zero and no tare; CL may follow from two others. */
static void ready_made_coefficients_need_no_wind(void)
{
    char folder[SCRATCH_PATH];
    char lines[GATHERED];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK(scratch_edit_all(folder, yaml, "role: balance_output_1",
                           "role: drag_coefficient, unit: 1"));
    CHECK(scratch_edit_all(folder, yaml, "role: balance_output_2",
                           "role: downforce_front_coefficient, unit: 1"));
    CHECK(scratch_edit_all(folder, yaml, "      R3:   {role: balance_output_3}\n", ""));
    CHECK(scratch_edit_all(folder, yaml, "      R4:   {role: balance_output_4}\n", ""));
    CHECK(scratch_edit_all(folder, yaml, "      R5:   {role: balance_output_5}\n", ""));
    CHECK(scratch_edit_all(folder, yaml, "      R6:   {role: balance_output_6}\n", ""));
    CHECK(scratch_edit_all(folder, yaml, "      T0:   {role: total_temperature}\n", ""));
    CHECK(scratch_edit_all(folder, yaml, "      pst:  {role: static_pressure}\n", ""));
    CHECK(scratch_edit_all(folder, "logs/r1.csv", "mV/V", "1"));
    CHECK(scratch_edit_all(folder, "logs/r2.csv", "mV/V", "1"));
    CHECK(scratch_edit_all(folder, "logs/z1.csv", "mV/V", "1"));
    CHECK(check(folder, lines).sheet_problems == 0); /* CD and CLF alone: CL is not given */
    CHECK(scratch_edit_all(folder, yaml, "      dp:   {role: total_minus_static}\n",
                           "      R3:   {role: downforce_rear_coefficient, unit: 1}\n"));
    struct check_result result = check(folder, lines);
    CHECK(result.sheet_problems == 0);
    CHECK_TEXT(lines, "");
    scratch_remove(folder);
}

/* Of a bench nothing is reduced: neither car nor targets, metrics or configurations are needed. */
static void a_bench_needs_no_car_and_gives_no_coefficient(void)
{
    static const char bench[] = "season: Bench\ncount: 0.001\npoint: a step\n"
                                "facilities: {bench: {test_section: bench}}\n"
                                "channel_maps:\n"
                                "  steps: {rows: points, point_by_row: yes,\n"
                                "          columns: {out: {role: other, unit: V/V}}}\n";
    static const char sheet[] =
        "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,mounting,note\n"
        "up,bench,,2015-01-20T21:00:00Z,,record_only,,steps=out.csv,,,,\n";
    char folder[SCRATCH_PATH];
    char lines[GATHERED];
    CU_ASSERT_FATAL(scratch_make(folder));
    CHECK(scratch_write(folder, yaml, bench) && scratch_write(folder, runs, sheet) &&
          scratch_write(folder, "out.csv", "out,x\n1e-3,1\n2e-3,1\n"));
    CHECK(check(folder, lines).sheet_problems == 0);
    CHECK_TEXT(lines, "");
    CHECK(scratch_edit_all(folder, runs, ",,record_only", ",up,wind_on"));
    (void)check(folder, lines);
    CHECK_CONTAINS(lines, "there is no file 'configurations.csv'");
    CHECK(scratch_write(folder, "configurations.csv", "configuration,parent,change\nup,,\n"));
    (void)check(folder, lines);
    CHECK_CONTAINS(lines, "runs.csv:2:35: facility 'bench' is a bench, which has no wind");
    CHECK(scratch_edit_all(folder, yaml, "{test_section: bench}",
                           "{test_section: bench, width: 1 m}"));
    struct campaign *campaign = NULL;
    CHECK(campaign_read(folder, &campaign, gather_lines, lines, NULL) == BAD_INPUT);
    CHECK_CONTAINS(lines, "facility bench has no key 'width'; its keys are: test_section");
    scratch_remove(folder);
}

static void each_need_is_told_once(void)
{
    char folder[SCRATCH_PATH];
    char lines[GATHERED];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK(scratch_edit_all(folder, yaml, "      R3:   {role: balance_output_3}\n", ""));
    struct check_result result = check(folder, lines);
    CHECK(result.sheet_problems == 1); /* of two runs; their zero lacks the same */
    CHECK_CONTAINS(lines, "limit: all six; map it (and 1 more run)\n");
    scratch_remove(folder);
}

static void a_fault_of_a_map_is_told_once_for_all_its_logs(void)
{
    char folder[SCRATCH_PATH];
    char lines[GATHERED];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK(scratch_edit_all(folder, yaml, "      T0:   {role", "      T9:   {role"));
    struct check_result result = check(folder, lines);
    CHECK(result.log_problems == 3); /* of z1, r1 and r2 */
    CHECK_CONTAINS(lines, "logs/z1.csv:1: no column is named 'T9'");
    CHECK_CONTAINS(lines, "correct the channel map or the log (and 2 more logs)\n");
    CHECK(strchr(lines, '\n') == lines + strlen(lines) - 1);
    /* The same words elsewhere in another log are another problem. */
    CHECK(scratch_edit_all(folder, yaml, "      T9:   {role", "      T0:   {role"));
    CHECK(scratch_edit_all(folder, "logs/r2.csv", "P2,", "P2,x"));
    CHECK(scratch_edit_all(folder, "logs/r1.csv", "P3,", "P3,x"));
    (void)check(folder, lines);
    CHECK_CONTAINS(lines, "logs/r1.csv:203:");
    CHECK_CONTAINS(lines, "logs/r2.csv:83:");
    CHECK(strstr(lines, "more log") == NULL);
    scratch_remove(folder);
}

static void an_sd_whose_value_failed_adds_no_message(void)
{
    char folder[SCRATCH_PATH];
    char lines[GATHERED];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK(scratch_edit_all(folder, yaml, "      T0:   {role: total_temperature}\n",
                           "      T9:   {role: total_temperature}\n"
                           "      yaw:  {role: total_temperature, statistic: sd}\n"));
    CHECK(scratch_edit_all(folder, yaml, "      yaw:  {role: yaw}\n", ""));
    (void)check(folder, lines);
    CHECK_CONTAINS(lines, "no column is named 'T9'");
    CHECK(strstr(lines, "is the sd of") == NULL);
    CHECK(scratch_edit_all(folder, yaml, "      T9:   {role: total_temperature}\n",
                           "      T0:   {role: static_temperature}\n"));
    (void)check(folder, lines);
    CHECK_CONTAINS(lines, "column 'yaw' is the sd of total_temperature, but no column");
    scratch_remove(folder);
}

static void a_plain_number_is_told_how_to_be_written(void)
{
    char folder[SCRATCH_PATH];
    char lines[GATHERED];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    CHECK(scratch_edit_all(folder, yaml, "role: yaw}", "role: relative_humidity}"));
    CHECK(scratch_edit_all(folder, "logs/r2.csv", "degC,deg", "degC,"));
    CHECK(scratch_edit_all(folder, "logs/r2.csv", "degC", "F"));
    (void)check(folder, lines);
    CHECK_CONTAINS(lines, "column 'yaw' has none in the log and none in the channel map; declare "
                          "it there as unit; write unit: 1 for a plain number, unit: \"%\"");
    CHECK_CONTAINS(lines, "unit 'F' is of another kind: F is farad; degF is Fahrenheit; a "
                          "temperature (K, degC, degF) is needed");
    scratch_remove(folder);
}

CU_TestInfo run_needs_tests[] = {
    {"only what refuses every point is told", only_what_refuses_every_point_is_told},
    {"ready-made coefficients need no wind", ready_made_coefficients_need_no_wind},
    {"a bench needs no car and gives no coefficient",
     a_bench_needs_no_car_and_gives_no_coefficient},
    {"each need is told once", each_need_is_told_once},
    {"a fault of a map is told once for all its logs",
     a_fault_of_a_map_is_told_once_for_all_its_logs},
    {"an sd whose value failed adds no message", an_sd_whose_value_failed_adds_no_message},
    {"a plain number is told how to be written", a_plain_number_is_told_how_to_be_written},
    CU_TEST_INFO_NULL};
