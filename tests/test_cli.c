/* test_cli.c - the program as a user meets it: exit statuses, messages, a whole night from outside. */
#include <CUnit/CUnit.h>
#include <string.h>

#include "tests/check.h"
#include "tests/program.h"

static void help_and_version_end_well(void)
{
    char out[PROGRAM_OUTPUT];
    CHECK(program_shell(out, "%s --help", program_lapwing()) == 0);
    CHECK_CONTAINS(out, "batch");
    CHECK(program_shell(out, "%s --version", program_lapwing()) == 0);
    CHECK_CONTAINS(out, "lapwing ");
    static const char *const names[] = {"init",   "check",   "ingest",    "reduce",
                                        "report", "batch",   "glance",    "compare",
                                        "plan",   "explain", "calibrate", "export"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        CHECK(program_shell(out, "%s %s --help", program_lapwing(), names[i]) == 0);
        CHECK_CONTAINS(out, "usage: lapwing [-C DIR] ");
        CHECK_CONTAINS(out, names[i]);
    }
    static const char *const helps[] = {"help", "help --help", "help help", "help -h"};
    for (size_t i = 0; i < sizeof helps / sizeof helps[0]; i++) {
        CHECK(program_shell(out, "%s %s", program_lapwing(), helps[i]) == 0);
        CHECK_CONTAINS(out, "lapwing help [COMMAND]");
    }
    CHECK(program_shell(out, "%s help explain", program_lapwing()) == 0);
    CHECK_CONTAINS(out, "RUN/POINT");
}

static void a_wrong_request_exits_2_and_says_what_to_do(void)
{
    char out[PROGRAM_OUTPUT];
    CHECK(program_shell(out, "%s", program_lapwing()) == 2);
    CHECK(program_shell(out, "%s frobnicate", program_lapwing()) == 2);
    CHECK_CONTAINS(out, "lapwing help");
    CHECK(program_shell(out, "%s --threads none batch", program_lapwing()) == 2);
    CHECK_CONTAINS(out, "1 to 256");
    CHECK(program_shell(out, "%s -C", program_lapwing()) == 2);
    CHECK(program_shell(out, "%s -C /nowhere/at/all batch", program_lapwing()) == 2);
    CHECK_CONTAINS(out, "/nowhere/at/all");
}

/* bash is on every Debian system. */
static void completion_offers_files_where_a_file_is_wanted(void)
{
    static const char *const lines[] = {"sniff ''", "sniff log.csv --write ''",
                                        "glance R05 --html ''"};
    char out[PROGRAM_OUTPUT];
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        CHECK(program_shell(out,
                            "bash -c \". report/lapwing.bash; COMP_WORDS=(lapwing %s); "
                            "COMP_CWORD=\\$((\\${#COMP_WORDS[@]} - 1)); _lapwing; "
                            "printf '%%s\\n' \\${COMPREPLY[@]}\"",
                            lines[i]) == 0);
        CHECK_CONTAINS(out, "README.md\n");
    }
}

static void completion_offers_the_steps_that_can_be_left_out(void)
{
    char out[PROGRAM_OUTPUT];
    CHECK(program_shell(out,
                        "bash -c \". report/lapwing.bash; COMP_WORDS=(lapwing compare --without "
                        "bl); COMP_CWORD=3; _lapwing; printf '%%s\\n' \\${COMPREPLY[@]}\"") == 0);
    CHECK_TEXT(out, "blockage\n");
}

static void a_full_disk_is_not_success(void)
{
    char out[PROGRAM_OUTPUT];
    CHECK(program_shell(out, "%s --help > /dev/full", program_lapwing()) == 3);
    CHECK_CONTAINS(out, "standard output");
}

static void init_makes_a_folder_that_check_can_read(void)
{
    char out[PROGRAM_OUTPUT];
    char folder[64];
    CHECK(program_scratch(folder));
    CHECK(program_shell(out, "%s init %s/new", program_lapwing(), folder) == 0);
    CHECK(program_shell(out, "%s init %s/new", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "campaign.yaml");
    (void)program_shell(out, "%s -C %s/new check", program_lapwing(), folder);
    CHECK(strstr(out, "campaign.yaml:") == NULL);
    program_remove(folder);
}

/* The folder has a season. */
static void export_gives_the_reports_tables(const char *folder)
{
    static const struct {
        const char *words, *said;
    } refused[] = {{"", "takes a table"},
                   {"nothing", "there are deltas, points,"},
                   {"deltas points", "one table"},
                   {"deltas --format xml", "'xml'"},
                   {"deltas --output", "without a file"},
                   {"notes", "--notes only"}};
    char out[PROGRAM_OUTPUT];
    CHECK(program_shell(out, "%s -C %s export deltas | cmp - %s/report/deltas.csv",
                        program_lapwing(), folder, folder) == 0);
    CHECK(program_shell(out,
                        "%s -C %s export points --format json --output %s/p.json && python3 -c "
                        "'import json,sys; print(len(json.load(open(sys.argv[1]))[\"columns\"]))' "
                        "%s/p.json && rm %s/p.json",
                        program_lapwing(), folder, folder, folder, folder) == 0);
    CHECK(program_shell(out, "%s -C %s export notes --notes --format semicolon", program_lapwing(),
                        folder) == 0);
    CHECK_CONTAINS(out, "about;configuration;");
    CHECK(program_shell(out, "%s -C %s export deltas > /dev/full", program_lapwing(), folder) == 3);
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        CHECK(program_shell(out, "%s -C %s export %s", program_lapwing(), folder,
                            refused[i].words) == 2);
        CHECK_CONTAINS(out, refused[i].said);
    }
}

static void a_night_goes_from_logs_to_deltas_and_is_not_read_twice(void)
{
    char out[PROGRAM_OUTPUT];
    char folder[64];
    char anywhere[256];
    CHECK(program_lapwing_anywhere(anywhere));
    CHECK(program_demo_night(folder, 7));
    CHECK(program_shell(out, "%s -C %s check", program_lapwing(), folder) == 0);
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 0);
    CHECK_CONTAINS(out, "night.html");
    CHECK(program_shell(out, "cd %s && sha256sum report/* > first.sum", folder) == 0);
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 0);
    CHECK_CONTAINS(out, " 0 read");
    CHECK_CONTAINS(out, " 0 reduced");
    CHECK(program_shell(out, "ls %s/season.sqlite*", folder) == 0);
    CHECK(strchr(out, '\n') == out + strlen(out) - 1); /* neither -wal nor -shm is left */
    CHECK(program_shell(out, "cd %s && sha256sum -c first.sum", folder) == 0);
    CHECK(program_shell(out, "%s -C %s compare", program_lapwing(), folder) == 0);
    CHECK_CONTAINS(out, "downforce positive");
    CHECK_CONTAINS(out, "at attitude weighted only");
    CHECK(program_shell(out,
                        "%s -C %s compare --attitude all --entry all --format csv | sort > "
                        "%s/compared && sort %s/report/deltas.csv | diff - %s/compared",
                        program_lapwing(), folder, folder, folder, folder) == 0);
    CHECK(
        program_shell(out,
                      "cd %s && %s compare floor-edge mirror-stay --format json --output c.json && "
                      "sqlite3 :memory: \"SELECT json_valid(readfile('c.json'))\"",
                      folder, anywhere) == 0);
    CHECK_TEXT(out, "1\n");
    CHECK(program_shell(out,
                        "%s -C %s compare --family base --format html --output %s/c.html && "
                        "grep -c '<h1' %s/c.html && ls %s",
                        program_lapwing(), folder, folder, folder, folder) == 0);
    CHECK(strstr(out, ".part") == NULL);
    CHECK(program_shell(out,
                        "cd %s && %s compare --format csv > c.csv && %s compare --format csv "
                        "--output - | cmp - c.csv && test ! -e ./-",
                        folder, anywhere, anywhere) == 0);
    CHECK(program_shell(out, "%s -C %s compare floor-edge floor-edge", program_lapwing(), folder) ==
          2);
    CHECK_CONTAINS(out, "named twice");
    CHECK(program_shell(out, "%s -C %s compare --output x", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "--format csv, json or html");
    CHECK(program_shell(out, "%s -C %s compare --format json --without blockage", program_lapwing(),
                        folder) == 2);
    CHECK(program_shell(out, "%s -C %s compare --format html --output /nowhere/c.html",
                        program_lapwing(), folder) == 3);
    CHECK(program_shell(out, "%s -C %s explain 'R05/F10 R36' CL", program_lapwing(), folder) == 0);
    CHECK_CONTAINS(out, "CL of run R05 point 6\n");
    CHECK(
        program_shell(out,
                      "cd %s && for v in point_coefficient tap_coefficient delta ledger flag "
                      "data_dictionary; do sqlite3 season.sqlite \"SELECT count(*) > 0 FROM $v\"; "
                      "done | sort | uniq -c",
                      folder) == 0);
    CHECK_CONTAINS(out, "6 1");
    export_gives_the_reports_tables(folder);
    program_remove(folder);
}

/* Everything a batch leaves, as text that compares: reports, and the database by key. */
static int same_outputs(const char *a, const char *b)
{
    char out[PROGRAM_OUTPUT];
    return program_shell(out,
                         "diff -r %s/report %s/report && "
                         "sqlite3 %s/season.sqlite .dump | sort > %s/dump && "
                         "sqlite3 %s/season.sqlite .dump | sort > %s/dump && cmp %s/dump %s/dump",
                         a, b, a, a, b, b, a, b) == 0;
}

static void corrections_that_cannot_be_made_are_told_before_anything_is_done(void)
{
    char out[PROGRAM_OUTPUT];
    char folder[64];
    CHECK(program_demo_night(folder, 2));
    CHECK(program_shell(out,
                        "cd %s && sed -i 's/blockage: image sum/blockage: magic/' campaign.yaml",
                        folder) == 0);
    CHECK(program_shell(out, "%s -C %s check", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "no family 'magic'");
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "quarter rule");
    CHECK(program_shell(out, "test -e %s/season.sqlite", folder) == 1);
    CHECK(program_shell(out,
                        "cd %s && sed -i 's/blockage: magic/blockage: image sum/; "
                        "s/^  volume:.*//' campaign.yaml",
                        folder) == 0);
    CHECK(program_shell(out, "%s -C %s check", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "volume");
    program_remove(folder);
}

static void a_run_without_a_coefficient_is_told_before_anything_is_done(void)
{
    char out[PROGRAM_OUTPUT];
    char folder[64];
    CHECK(program_demo_night(folder, 2));
    CHECK(program_shell(out, "cd %s && sed -i '/role: balance_output_3/d' campaign.yaml", folder) ==
          0);
    CHECK(program_shell(out, "%s -C %s check", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "no column has the role balance_output_3");
    CHECK_CONTAINS(out, "(and 13 more runs)"); /* fourteen wind-on runs in all */
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 2);
    CHECK_CONTAINS(out, "nothing was done");
    CHECK(program_shell(out, "test -e %s/report", folder) == 1);
    program_remove(folder);
}

static void threads_and_locale_change_nothing(void)
{
    char out[PROGRAM_OUTPUT];
    char one[64];
    char two[64];
    char comma[64];
    CHECK(program_demo_night(one, 3));
    CHECK(program_scratch(two));
    CHECK(program_scratch(comma));
    CHECK(program_shell(out, "cp -a %s/. %s/ && cp -a %s/. %s/", one, two, one, comma) == 0);
    CHECK(program_shell(out, "%s -C %s --threads 1 batch", program_lapwing(), one) == 0);
    CHECK(program_shell(out, "%s -C %s --threads 2 batch", program_lapwing(), two) == 0);
    CHECK(program_shell(out, "LC_ALL=de_DE.UTF-8 LANG=de_DE.UTF-8 %s -C %s batch",
                        program_lapwing(), comma) == 0);
    CHECK(same_outputs(one, two));
    CHECK(same_outputs(one, comma));
    program_remove(one);
    program_remove(two);
    program_remove(comma);
}

static void a_bad_log_is_quarantined_and_the_night_goes_on(void)
{
    char out[PROGRAM_OUTPUT];
    char folder[64];
    CHECK(program_demo_night(folder, 5));
    CHECK(program_shell(out,
                        "cd %s && f=$(ls logs/*forces*.csv | sed -n 9p) && "
                        "sed -i '17s/,[^,]*$//' $f && echo $f",
                        folder) == 0);
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 1);
    CHECK_CONTAINS(out, ".csv:17:");
    CHECK(program_shell(out,
                        "sqlite3 %s/season.sqlite \"SELECT count(*) FROM run WHERE state = "
                        "'quarantined'\"",
                        folder) == 0);
    CHECK_TEXT(out, "1\n");
    CHECK(program_shell(out, "grep -c quarantine %s/report/night.html", folder) == 0);
    program_remove(folder);
}

static void a_killed_batch_ends_in_the_same_state_as_an_undisturbed_one(void)
{
    char out[PROGRAM_OUTPUT];
    char whole[64];
    char killed[64];
    CHECK(program_demo_night(whole, 11));
    CHECK(program_scratch(killed));
    CHECK(program_shell(out, "cp -a %s/. %s/", whole, killed) == 0);
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), whole) == 0);
    for (int tenths = 1; tenths <= 7; tenths += 2)
        (void)program_shell(out, "timeout -s KILL 0.%d %s -C %s batch; true", tenths,
                            program_lapwing(), killed);
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), killed) == 0);
    CHECK(same_outputs(whole, killed));
    program_remove(whole);
    program_remove(killed);
}

CU_TestInfo cli_tests[] = {
    {"help and version end well", help_and_version_end_well},
    {"a wrong request exits 2 and says what to do", a_wrong_request_exits_2_and_says_what_to_do},
    {"completion offers files where a file is wanted",
     completion_offers_files_where_a_file_is_wanted},
    {"completion offers the steps that can be left out",
     completion_offers_the_steps_that_can_be_left_out},
    {"a full disk is not success", a_full_disk_is_not_success},
    {"init makes a folder that check can read", init_makes_a_folder_that_check_can_read},
    {"a night goes from logs to deltas and is not read twice",
     a_night_goes_from_logs_to_deltas_and_is_not_read_twice},
    {"corrections that cannot be made are told before anything is done",
     corrections_that_cannot_be_made_are_told_before_anything_is_done},
    {"a run without a coefficient is told before anything is done",
     a_run_without_a_coefficient_is_told_before_anything_is_done},
    {"threads and locale change nothing", threads_and_locale_change_nothing},
    {"a bad log is quarantined and the night goes on",
     a_bad_log_is_quarantined_and_the_night_goes_on},
    {"a killed batch ends in the same state as an undisturbed one",
     a_killed_batch_ends_in_the_same_state_as_an_undisturbed_one},
    CU_TEST_INFO_NULL};
