/* test_recorded.c - runs that are recorded only: any channel, any day, what was used and what was missing. */
#include <CUnit/CUnit.h>
#include <stdlib.h>

#include "tests/campaign_folder.h"
#include "tests/check.h"
#include "tests/program.h"
#include "tests/scratch.h"
#include "tests/season_look.h"

static const char bench[] = "season: Bench\ncount: 0.001\npoint: a step\n"
                            "facilities: {bench: {test_section: bench}}\n"
                            "channel_maps:\n"
                            "  steps: {rows: samples, rate: 10 Hz, missing: [\"NaN\"],\n"
                            "          columns: {Pt: {role: point},\n"
                            "                    R1: {role: balance_output_1, unit: mV/V},\n"
                            "                    load: {role: other, unit: lbf}}}\n";

static const char runs[] =
    "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,mounting,note\n"
    "up,bench,,1936-01-20T21:00:00Z,,record_only,,steps=out.csv,,,,\n";

/* Invented; a load cell of no balance, long ago, with two samples lost. */
static int make_bench(char folder[SCRATCH_PATH])
{
    return scratch_make(folder) && scratch_write(folder, "campaign.yaml", bench) &&
           scratch_write(folder, "runs.csv", runs) &&
           scratch_write(folder, "out.csv",
                         "Pt,R1,load\n1,0.5,1\n1,1.5,NaN\n1,2.5,3\n1,NaN,NaN\n2,1,7\n2,3,9\n");
}

static void what_was_used_and_what_was_missing_is_counted(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(make_bench(folder));
    struct store *store = memory_season();
    struct night_result result = season_ingest(store, folder, 1, season_later);
    CHECK(result.runs_usable == 1 && result.runs_quarantined == 0);
    check_season(store,
                 "SELECT point, column_name, unit, n, n_missing, printf('%.6g', mean), "
                 "printf('%.6g', sd) FROM channel_statistic ORDER BY point, position",
                 7,
                 "1|R1|1|3.0|1.0|0.0015|0.001\n"
                 "1|load|N|2.0|2.0|8.89644|6.29074\n" /* 2 lbf and sqrt 2 lbf of 4.4482216 N */
                 "2|R1|1|2.0|0.0|0.002|0.00141421\n"
                 "2|load|N|2.0|0.0|35.5858|6.29074\n");
    check_season(store, "SELECT start_text FROM run", 1, "1936-01-20T21:00:00Z\n");
    end_season(store);
    scratch_remove(folder);
}

static void a_bench_is_said_to_be_recorded(void)
{
    char folder[SCRATCH_PATH];
    static char out[PROGRAM_OUTPUT];
    CU_ASSERT_FATAL(make_bench(folder));
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 0);
    CHECK_CONTAINS(out, "Recorded only: 2 points of 1 run; their statistics are in channels.csv.");
    char *csv = scratch_read(folder, "report/channels.csv");
    CHECK_CONTAINS(csv != NULL ? csv : "",
                   "role,unit,mean,sd,n,missing,minimum,maximum,stated_uncertainty\n");
    CHECK_CONTAINS(csv != NULL ? csv : "", "\"R1\",\"balance_output_1\",\"1\",0.0015,0.001,3,1,");
    free(csv);
    scratch_remove(folder);
}

CU_TestInfo recorded_tests[] = {{"what was used and what was missing is counted",
                                 what_was_used_and_what_was_missing_is_counted},
                                {"a bench is said to be recorded", a_bench_is_said_to_be_recorded},
                                CU_TEST_INFO_NULL};
