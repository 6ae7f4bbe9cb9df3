/* test_glance.c - one run right after it, as the user in the control room meets it.
 *
 * The night is the demo's, whose faults are known (sample_runs/README.md): R04 misses its last attitude,
 * R05 loses samples of T0, R09's zero drifts, one tap is dead in every run.                        */
#include <CUnit/CUnit.h>
#include <string.h>

#include "tests/check.h"
#include "tests/program.h"

/* A demo night with as many rows as the demo's, so that its uncertainties can be estimated. */
static int make_night(char path[64])
{
    char out[PROGRAM_OUTPUT];
    return program_scratch(path) &&
           program_shell(out,
                         "%s --copy --seed 1 --tap-rows 20 --out %s && "
                         "find %s -type f -exec touch -d 2026-02-12T08:00:00Z {} +",
                         program_make_night(), path, path) == 0;
}

static void first_line(char *out)
{
    out[strcspn(out, "\n")] = '\0';
}

/* Only the logs up to a run and not its zero after: the night as it is right after that run. */
static void keep_until(const char *folder, const char *run)
{
    char out[PROGRAM_OUTPUT];
    CHECK(program_shell(out,
                        "cd %s/logs && for f in r*; do [ \"${f%%%%_*}\" \\> %s ] && rm $f; done; "
                        "rm -f %s_zero_after.csv",
                        folder, run, run) == 0);
}

static void a_good_run_is_usable_before_its_zero_after(void)
{
    char out[PROGRAM_OUTPUT], folder[64];
    CHECK(make_night(folder));
    keep_until(folder, "r03");
    CHECK(program_shell(out, "%s -C %s glance R01 --text", program_lapwing(), folder) == 1);
    first_line(out);
    CHECK_CONTAINS(out, "tap-frozen of T047"); /* the first to find it dead */
    CHECK(program_shell(out, "%s -C %s glance R03", program_lapwing(), folder) == 0);
    CHECK_CONTAINS(out, "note: zero: Z03A before, none after yet");
    CHECK_CONTAINS(out, "note: tap-frozen of T047, as in earlier runs");
    CHECK_CONTAINS(out, "earlier runs: 1 of base");
    CHECK_CONTAINS(out, "24 points: 24 ok; main measure (CL, weighted): 8 of 8 targets covered");
    CHECK_CONTAINS(out, "/report/glance_R03.html\n");
    CHECK(strstr(out, "not measured") == NULL);
    first_line(out);
    CHECK_TEXT(out, "usable");
    CHECK(program_shell(out, "%s -C %s -q glance R03", program_lapwing(), folder) == 0);
    CHECK_TEXT(out, "usable\n");
    program_remove(folder);
}

static void the_values_are_those_of_the_night(void)
{
    char out[PROGRAM_OUTPUT], folder[64];
    CHECK(make_night(folder));
    CHECK(program_shell(out, "%s -C %s -q batch", program_lapwing(), folder) == 0);
    CHECK(program_shell(out, "%s -C %s glance R05 --text > %s/text", program_lapwing(), folder,
                        folder) == 1);
    CHECK(program_shell(out,
                        "cd %s && awk '$1 == 17 {print $8, $10}' text && sqlite3 season.sqlite "
                        "\"SELECT printf('%%.4f %%.4f', target_downforce_coefficient, "
                        "target_drag_coefficient) FROM point_coefficient "
                        "WHERE run = 'R05' AND point = '17'\"",
                        folder) == 0);
    char *second = strchr(out, '\n');
    CHECK(second != NULL && strlen(second + 1) == 14);
    if (second != NULL)
        CHECK(strncmp(out, second + 1, 13) == 0);
    program_remove(folder);
}

static void a_missed_attitude_is_told_at_once(void)
{
    char out[PROGRAM_OUTPUT], folder[64];
    CHECK(make_night(folder));
    CHECK(program_shell(out, "%s -C %s glance R04 --text", program_lapwing(), folder) == 1);
    CHECK_CONTAINS(out, "off-target, point 24 (F20 R36): front ride height is +0.75 mm");
    CHECK_CONTAINS(out, "Repeat the point closer to its target.");
    CHECK_CONTAINS(out, "other targets: F20 R36: not usable");
    first_line(out);
    CHECK_CONTAINS(out, "usable, look at: off-target at F20 R36");
    /* the same where the main measure rests on that attitude */
    CHECK(program_shell(out,
                        "cd %s && sed -i 's/attitude: weighted}/attitude: F20 R36}/' campaign.yaml",
                        folder) == 0);
    CHECK(program_shell(out, "%s -C %s glance R04 --text", program_lapwing(), folder) == 1);
    CHECK_CONTAINS(out, "targets of the main measure: F20 R36: not usable");
    first_line(out);
    CHECK_TEXT(out, "repeat now: off-target at F20 R36");
    program_remove(folder);
}

static void a_log_that_cannot_be_read_is_told_with_its_place(void)
{
    char out[PROGRAM_OUTPUT], folder[64];
    CHECK(make_night(folder));
    CHECK(program_shell(out, "sed -i '17s/,[^,]*$//' %s/logs/r02_forces.csv", folder) == 0);
    CHECK(program_shell(out, "%s -C %s glance R02", program_lapwing(), folder) == 1);
    CHECK_CONTAINS(out, "repeat now: run-quarantined\n");
    CHECK_CONTAINS(out, "logs/r02_forces.csv:17:");
    CHECK_CONTAINS(out, "glance_R02.html");
    CHECK(program_shell(out, "rm %s/logs/r03_forces.csv", folder) == 0);
    CHECK(program_shell(out, "%s -C %s glance R03 --text", program_lapwing(), folder) == 1);
    CHECK_CONTAINS(out, "logs/r03_forces.csv");
    /* mended, it is read again */
    CHECK(program_shell(out, "cd %s && cp logs/r01_forces.csv logs/r02_forces.csv", folder) == 0);
    CHECK(program_shell(out, "%s -C %s glance R01 -q; %s -C %s glance R02 --text",
                        program_lapwing(), folder, program_lapwing(), folder) == 1);
    CHECK_CONTAINS(out, "duplicate-log");
    program_remove(folder);
}

static void a_run_that_is_none_is_refused_with_the_nearest_name(void)
{
    char out[PROGRAM_OUTPUT], folder[64];
    CHECK(make_night(folder));
    CHECK(program_shell(out, "%s -C %s glance r5", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "no run 'r5' in runs.csv; the nearest name is 'R05'");
    CHECK(program_shell(out, "%s -C %s glance R1100", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "the nearest name is 'R11'");
    CHECK(program_shell(out, "%s -C %s glance wing", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "no wind_on run of a name like it");
    CHECK(program_shell(out, "%s -C %s glance R05 --html", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "--html needs a file");
    CHECK(program_shell(out, "%s -C %s glance R05 --page", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "glance has no option '--page'");
    CHECK(program_shell(out, "%s -C %s glance Z01A", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "is a zero");
    CHECK(program_shell(out, "test -e %s/season.sqlite", folder) == 1); /* nothing was done */
    CHECK(program_shell(out, "%s -C %s/nowhere glance R01", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "campaign.yaml");
    CHECK(program_shell(out, "%s -C %s glance", program_lapwing(), folder) == 2);
    CHECK(program_shell(out, "%s -C %s glance R01 R02", program_lapwing(), folder) == 2);
    CHECK(program_shell(out, "%s -C %s glance R01 --html", program_lapwing(), folder) == 2);
    CHECK(program_shell(out, "%s -C %s glance R01 --text --html x", program_lapwing(), folder) ==
          2);
    program_remove(folder);
}

static void a_run_without_any_zero_has_no_number(void)
{
    char out[PROGRAM_OUTPUT], folder[64];
    CHECK(make_night(folder));
    CHECK(program_shell(out, "rm %s/logs/*zero*", folder) == 0);
    CHECK(program_shell(out, "%s -C %s glance R01 --text", program_lapwing(), folder) == 1);
    CHECK_CONTAINS(out, "repeat now: zero-missing: there is no usable zero run");
    CHECK_CONTAINS(out, "Record a zero now");
    CHECK_CONTAINS(out, "24 points: 24 refused");
    first_line(out);
    CHECK_CONTAINS(out, "repeat now: ");
    program_remove(folder);
}

/* A pair named in the run sheet, of which the second is still to come. */
static void a_named_zero_to_come_is_waited_for(void)
{
    char out[PROGRAM_OUTPUT], folder[64];
    CHECK(make_night(folder));
    CHECK(program_shell(out,
                        "sed -i '/^R03,/s/,,,,$/,Z03A+Z03B,,,/' %s/runs.csv && "
                        "grep -c 'Z03A+Z03B' %s/runs.csv",
                        folder, folder) == 0);
    keep_until(folder, "r03");
    CHECK(program_shell(out, "%s -C %s glance R03 --text", program_lapwing(), folder) == 1);
    CHECK_CONTAINS(out, "tap-frozen");
    CHECK_CONTAINS(out, "24 points: 24 ok");
    CHECK_CONTAINS(out, "note: zero: Z03A before, none after yet");
    program_remove(folder);
}

static void too_few_points_are_told_while_the_car_stands_there(void)
{
    char out[PROGRAM_OUTPUT], folder[64];
    CHECK(make_night(folder));
    CHECK(program_shell(out,
                        "cd %s/logs && awk -F, '$2 != 8' r02_forces.csv > x && mv x r02_forces.csv "
                        "&& awk -F';' '$2 != 8' r02_taps.csv > x && mv x r02_taps.csv",
                        folder) == 0);
    CHECK(program_shell(out, "%s -C %s glance R02 --text", program_lapwing(), folder) == 1);
    CHECK_CONTAINS(out, "targets of the main measure: F12 R30: not measured");
    first_line(out);
    CHECK_CONTAINS(out, "repeat now: not-measured: F12 R30");
    program_remove(folder);
}

static void a_glance_changes_nothing_of_a_later_batch(void)
{
    char out[PROGRAM_OUTPUT], whole[64], glanced[64];
    CHECK(make_night(whole));
    CHECK(program_scratch(glanced));
    /* a log that ends without a line feed has a flag of ingest */
    CHECK(program_shell(out,
                        "cd %s && truncate -s -1 logs/r09_forces.csv logs/r02_forces.csv && "
                        "touch -d 2026-02-12T08:00:00Z logs/*",
                        whole) == 0);
    CHECK(program_shell(out, "cp -a %s/. %s/", whole, glanced) == 0);
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), whole) == 0);
    CHECK(program_shell(out, "for r in R09 R04 R02 R09; do %s -C %s glance $r --text; done; true",
                        program_lapwing(), glanced) == 0);
    CHECK(program_shell(out, "sqlite3 %s/season.sqlite 'SELECT count(*) FROM reduction'",
                        glanced) == 0);
    CHECK_TEXT(out, "0\n");
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), glanced) == 0);
    CHECK(program_shell(out, "diff -r %s/report %s/report", whole, glanced) == 0);
    CHECK_TEXT(out, "");
    /* rows of flag_row by what they say: their numbers tell the order of the reading */
    CHECK(program_shell(out,
                        "for d in %s %s; do sqlite3 $d/season.sqlite .dump | "
                        "sed 's/^\\(INSERT INTO flag_row VALUES(\\)[0-9]*/\\1/' | sort > $d/dump; "
                        "done; cmp %s/dump %s/dump",
                        whole, glanced, whole, glanced) == 0);
    CHECK_TEXT(out, "");
    /* and after the batch a glance leaves every byte */
    CHECK(program_shell(out,
                        "sqlite3 %s/season.sqlite .dump > %s/dump; %s -C %s -q glance R09 --text; "
                        "sqlite3 %s/season.sqlite .dump | cmp - %s/dump",
                        glanced, glanced, program_lapwing(), glanced, glanced, glanced) == 0);
    program_remove(whole);
    program_remove(glanced);
}

static void the_page_is_whole_and_asks_nothing_of_the_network(void)
{
    char out[PROGRAM_OUTPUT], folder[64];
    CHECK(make_night(folder));
    CHECK(program_shell(out, "%s -C %s glance R04 --html %s/page.html", program_lapwing(), folder,
                        folder) == 1);
    CHECK_CONTAINS(out, "/page.html\n");
    CHECK(program_shell(out, "test -e %s/report", folder) == 1);
    CHECK(program_shell(out, "grep -o 'https\\?://[^\"]*' %s/page.html | sort -u", folder) == 0);
    CHECK_TEXT(out, "http://www.w3.org/2000/svg\n");
    CHECK(program_shell(out, "grep -c 'usable, look at: off-target at F20 R36' %s/page.html",
                        folder) == 0);
    CHECK(program_shell(out,
                        "cp %s/page.html %s/first && %s -C %s -q glance R04 --html "
                        "%s/page.html; cmp %s/first %s/page.html",
                        folder, folder, program_lapwing(), folder, folder, folder, folder) == 0);
    CHECK(program_shell(out, "%s -C %s glance R04 --html /nowhere/page.html", program_lapwing(),
                        folder) == 3);
    CHECK_CONTAINS(out, "/nowhere/page.html");
    CHECK(program_shell(out, "%s -C %s glance R04 --text > /dev/full", program_lapwing(), folder) ==
          3);
    program_remove(folder);
}

extern CU_TestInfo glance_tests[];
CU_TestInfo glance_tests[] = {
    {"a good run is usable before its zero after", a_good_run_is_usable_before_its_zero_after},
    {"the values are those of the night", the_values_are_those_of_the_night},
    {"a missed attitude is told at once", a_missed_attitude_is_told_at_once},
    {"a log that cannot be read is told with its place",
     a_log_that_cannot_be_read_is_told_with_its_place},
    {"a run that is none is refused with the nearest name",
     a_run_that_is_none_is_refused_with_the_nearest_name},
    {"a run without any zero has no number", a_run_without_any_zero_has_no_number},
    {"a named zero to come is waited for", a_named_zero_to_come_is_waited_for},
    {"too few points are told while the car stands there",
     too_few_points_are_told_while_the_car_stands_there},
    {"a glance changes nothing of a later batch", a_glance_changes_nothing_of_a_later_batch},
    {"the page is whole and asks nothing of the network",
     the_page_is_whole_and_asks_nothing_of_the_network},
    CU_TEST_INFO_NULL};
