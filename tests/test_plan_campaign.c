/* test_plan_campaign.c - the section plan of campaign.yaml: what is refused where, and what is told of it. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/plan_folder.h"
#include "tests/program.h"

extern CU_TestInfo plan_campaign_tests[];

/* One edit of the section, and what is said of it. */
static const struct {
    const char *from, *to, *line;
} problems[] = {
    {"  facility: saltmarsh\n  entry", "  facility: elsewhere\n  entry",
     "plan: 'elsewhere' is none of the facilities"},
    {"  entry: 2026-03\n", "", "plan lacks 'entry'"},
    {"available: 8 h", "available: 8", "plan: available"},
    {"available: 8 h", "available: 0 h", "it must be more than 0"},
    {"  run: 16 min\n", "", "plan lacks the time of a run"},
    {"  run: 16 min\n", "  run: 16 min\n  settle: 2 min\n", "keep one way"},
    {"  run: 16 min\n", "  run: 16 min\n  group: 4\n", "plan: group is 4; limit: 1 to 3"},
    {"  run: 16 min\n", "  run: 16 min\n  power: 40 %\n", "plan: power is 0.4; limit: 50 %"},
    {"  run: 16 min\n", "  run: 16 min\n  scheme: given\n",
     "plan: scheme is given, and no order is"},
    {"  run: 16 min\n", "  run: 16 min\n  order: [base, floor-edge, base]\n",
     "an order is written, and scheme is not given"},
    {"  run: 16 min\n", "  run: 16 min\n  order: []\n", "plan: order needs a list of names"},
    {"  run: 16 min\n", "  run: 16 min\n  attitudes: [F10 R30, F99]\n",
     "plan: 'F99' is none of the targets"},
    {"  run: 16 min\n", "  run: 16 min\n  reference: F99\n", "plan: 'F99' is none of the targets"},
    {"  run: 16 min\n", "  run: 16 min\n  balance: roof\n", "plan: 'roof' is none of the balances"},
    {"  run: 16 min\n", "  run: 16 min\n  scheme: latin square\n", "bracketed, abba, given"},
    {"  run: 16 min\n", "  run: 16 min\n  colour: red\n", "plan has no key 'colour'"},
    {"  run: 16 min\n", "  run: 16 min\n  hard_to_change: [lip]\n",
     "configuration 'lip' is not in configurations.csv"},
    {"  zero: 2 min\n", "", "plan: zero does not say how long one takes"},
    {"  weight_sweep: 16 min\n", "", "plan: weight_sweep does not say how long one takes"},
    {"logs/RUN_forces.csv;pressures=logs/RUN_taps.csv", "logs/forces.csv", "has no RUN in it"},
    {"pressures=logs/RUN_taps.csv", "floor=logs/RUN_taps.csv",
     "'floor=logs/RUN_taps.csv' does not begin with a channel map"},
    {"  zero_logs: forces=logs/RUN.csv\n", "", "plan: zero_logs lacks"},
    {"  start: 2026-03-11T19:00:00+01:00\n", "", "nothing says when the night begins"},
    {"  start: 2026-03-11T19:00:00+01:00\n", "  start: tonight\n",
     "campaign.yaml, plan: start 'tonight'"},
};

static void what_is_wrong_is_named(void)
{
    char folder[SCRATCH_PATH], out[PROGRAM_OUTPUT];
    CU_ASSERT_FATAL(plan_folder_make(folder));
    char *whole = scratch_read(folder, "campaign.yaml");
    CHECK(whole != NULL);
    for (size_t i = 0; whole != NULL && i < sizeof problems / sizeof problems[0]; i++) {
        CHECK(scratch_write(folder, "campaign.yaml", whole));
        CHECK(scratch_edit(folder, "campaign.yaml", problems[i].from, problems[i].to));
        CHECK(plan_folder_run(folder, "", out) == 2);
        CHECK_CONTAINS(out, problems[i].line);
    }
    free(whole);
    scratch_remove(folder);
}

static void without_a_section_no_plan(void)
{
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(plan_folder_make(folder));
    CHECK(scratch_edit(folder, "campaign.yaml", "\nplan:\n", "\n# plan:\n"));
    CHECK(plan_folder_run(folder, "", out) == 2);
    scratch_remove(folder);
    CHECK(scratch_make(folder));
    CHECK(program_shell(out, "%s init %s && %s -C %s plan", program_lapwing(), folder,
                        program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "campaign.yaml has no section plan");
    scratch_remove(folder);
}

/* Without the marks the scaffold's example is a section that is read. */
static void the_scaffold_shows_a_section_that_holds(void)
{
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH];
    CHECK(scratch_make(folder));
    CHECK(program_shell(out,
                        "%s init %s && cd %s && sed -i '/^# plan:/,/^#   zero_logs/s/^# //' "
                        "campaign.yaml && grep -q '^  zero_logs' campaign.yaml",
                        program_lapwing(), folder, folder) == 0);
    CHECK(scratch_write(folder, "configurations.csv",
                        "configuration,parent,change\nbase,,\nA,base,a\n"));
    CHECK(plan_folder_run(folder, "", out) == 2);
    CHECK_CONTAINS(out, "nothing is known of how well downforce (CL) repeats at tunnel");
    scratch_remove(folder);
}

/* The section is among the settings that the season keeps, and a configuration's time to mount with it. */
static void the_season_knows_the_section(void)
{
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(plan_folder_make(folder));
    CHECK(scratch_write(
        folder, "configurations.csv",
        "configuration,parent,change,change_minutes\nbase,,,\nfloor-edge,base,lip,15\n"
        "front-flap,base,two holes,\n"));
    CHECK(program_shell(
              out, "%s -C %s plan --configurations floor-edge --repeats 2 --output %s/runs.csv",
              program_lapwing(), folder, folder) == 0);
    CHECK(program_shell(out,
                        "%s -C %s --quiet ingest; sqlite3 %s/season.sqlite \"SELECT value || unit "
                        "FROM setting WHERE section = 'plan' AND name IN ('available', "
                        "'logs', 'scheme') ORDER BY name; SELECT change_time_s FROM "
                        "configuration ORDER BY sequence\" | tail -6",
                        program_lapwing(), folder, folder) == 0);
    CHECK_CONTAINS(
        out,
        "28800s\nforces=logs/RUN_forces.csv;pressures=logs/RUN_taps.csv\nbracketed\n\n900.0\n\n");
    scratch_remove(folder);
}

CU_TestInfo plan_campaign_tests[] = {
    {"what is wrong is named", what_is_wrong_is_named},
    {"without a section no plan", without_a_section_no_plan},
    {"the scaffold shows a section that holds", the_scaffold_shows_a_section_that_holds},
    {"the season knows the section", the_season_knows_the_section},
    CU_TEST_INFO_NULL,
};
