/* test_canaries.c - a night in which every name is marked, through the program: no mark leaves redacted.
 *
 * tests/canaries.py, which shares nothing with the program, plants and hunts. The hunt is checked to find what
 * reports with names have. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/program.h"

struct night {
    char folder[64]; /* campaign in folder/night, so that what is made beside it is no part of it */
    char lapwing[256];
    char *out;
};

/* Runs the program inside the campaign folder, as its users do; its output goes to folder/said. */
static int run(struct night *night, const char *arguments)
{
    return program_shell(night->out, "cd %s/night && %s %s >../said 2>&1", night->folder,
                         night->lapwing, arguments);
}

static int hunt(struct night *night, const char *paths)
{
    return program_shell(night->out,
                         "python3 tests/canaries.py hunt %s/names $(cd %s && ls -d %s | sed "
                         "'s:^:%s/:')",
                         night->folder, night->folder, paths, night->folder);
}

/* The output and the files of a command hold no mark. */
static void check_clean(struct night *night, const char *arguments, const char *paths)
{
    CHECK(run(night, arguments) == 0);
    CHECK(hunt(night, paths) == 0);
    CHECK_CONTAINS(night->out, "found 0");
    if (strstr(night->out, "found 0") == NULL)
        (void)fprintf(stderr, "%s: %.600s\n", arguments, night->out);
}

static int begin(struct night *night)
{
    *night = (struct night){.out = calloc(PROGRAM_OUTPUT, 1)};
    char *out = night->out;
    if (out == NULL || !program_scratch(night->folder) || !program_lapwing_anywhere(night->lapwing))
        return 0;
    int status = program_shell(out,
                               "mkdir %s/night && %s --copy --seed 3 --rows 40 --tap-rows 12 --out "
                               "%s/night && python3 tests/canaries.py plant %s/night %s/names",
                               night->folder, program_make_night(), night->folder, night->folder,
                               night->folder);
    /* One log that cannot be read: its reason quotes file, line and column. */
    if (status == 0)
        status =
            program_shell(out, "echo 'x;y' > %s/night/logs/Zqcanarylogr12tapsz.csv", night->folder);
    if (status != 0)
        (void)fprintf(stderr, "%.600s\n", out);
    return status == 0;
}

static void end(struct night *night)
{
    program_remove(night->folder);
    free(night->out);
}

static void check_report(struct night *night)
{
    static const char *const compared[] = {"csv", "json", "html"};
    static const char *const tables[] = {"deltas", "points", "flags", "traces", "left_out"};
    char words[300];
    check_clean(night, "report --json --redact --redact-key ../key", "said night/report-redacted");
    CHECK(program_shell(night->out,
                        "python3 tests/canaries.py numbers %s/night/report "
                        "%s/night/report-redacted",
                        night->folder, night->folder) == 0);
    CHECK_CONTAINS(night->out, "traces.csv");
    if (strstr(night->out, "numbers") == NULL)
        (void)fprintf(stderr, "%.1500s\n", night->out);
    CHECK(program_shell(night->out, "test $(wc -l < %s/night/report-redacted/traces.csv) -gt 2",
                        night->folder) == 0);
    check_clean(night, "report --proof Zqcanarypartflooredgez --redact",
                "said night/report-redacted");
    check_clean(night,
                "report --proof Zqcanarypartmirrorstayz --entry Zqcanaryentry202602z --redact "
                "deltas-only --output ../sheet.html",
                "said sheet.html");
    for (size_t i = 0; i < sizeof compared / sizeof compared[0]; i++) {
        (void)snprintf(words, sizeof words,
                       "compare Zqcanarypartflooredgez Zqcanarypartmirrorstayz --attitude all "
                       "--redact --redact-key ../key --format %s",
                       compared[i]);
        check_clean(night, words, "said");
        (void)snprintf(words, sizeof words, "compare --redact --format %s --output ../made.%s",
                       compared[i], compared[i]);
        check_clean(night, words, "said made.*");
    }
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
        (void)snprintf(words, sizeof words, "export %s --redact --format %s", tables[i],
                       i % 2 == 0 ? "semicolon" : "json");
        check_clean(night, words, "said");
    }
    check_clean(night, "report --csv semicolon --redact deltas-only", "said night/report-redacted");
    CHECK(program_shell(night->out, "test $(wc -l < %s/night/report-redacted/traces.csv) = 2",
                        night->folder) == 0);
}

/* No command puts names into the folder that is given away. */
static void check_names_stay_out(struct night *night)
{
    static const char *const commands[] = {
        "report --proof Zqcanarypartflooredgez --output", "export deltas --output",
        "compare --format csv --output", "compare --format html --output",
        "glance ZqcanaryrunR01z --html"};
    char words[200];
    for (size_t i = 0; i < sizeof commands / sizeof commands[0]; i++) {
        (void)snprintf(words, sizeof words, "%s report-redacted/x.html", commands[i]);
        CHECK(run(night, words) == 2);
        CHECK(program_shell(night->out, "cat %s/said && test ! -e %s/night/report-redacted/x.html",
                            night->folder, night->folder) == 0);
        CHECK_CONTAINS(night->out, "would lie with its names");
    }
}

static void no_canary_leaves(void)
{
    struct night night;
    CHECK(begin(&night));
    CHECK(run(&night, "--quiet batch") == 1); /* one run is quarantined */
    CHECK(hunt(&night, "night/report") == 1);
    check_report(&night);
    check_names_stay_out(&night);
    CHECK(hunt(&night, "key") == 1); /* at home every id is explained */
    end(&night);
}

/* Neither names of the machine's folders, however the campaign is named; and of a
 * picture nothing but what is seen. */
static void the_machine_is_not_told(void)
{
    struct night night;
    CHECK(begin(&night));
    CHECK(program_shell(night.out, "%s -C %s/night --quiet batch", night.lapwing, night.folder) ==
          1);
    CHECK(program_shell(night.out, "grep -rlF -e %s -e \"$PWD\" --exclude=*.xlsx %s/night/report",
                        night.folder, night.folder) == 1);
    CHECK_TEXT(night.out, "");
    CHECK(program_shell(night.out, "grep -q base64, %s/night/report/proof-*flooredge*",
                        night.folder) == 0);
    CHECK(program_shell(night.out,
                        "python3 tests/canaries.py hunt %s/names %s/night/report | grep "
                        "-c ': picture'",
                        night.folder, night.folder) == 1);
    CHECK(program_shell(night.out, "python3 tests/canaries.py hunt %s/names %s/night/*.png",
                        night.folder, night.folder) == 1); /* the picture itself has it */
    end(&night);
}

/* Two season folders beside each other, written in turn: names of neither are in the other's. */
static void seasons_stay_apart(void)
{
    struct night night;
    CHECK(begin(&night));
    CHECK(program_shell(night.out,
                        "cd %s && mkdir other && cp -r night/. other && cd other && find . -depth "
                        "-name '*Zqcanary*' -execdir sh -c 'mv \"$1\" \"$(echo $1 | sed "
                        "s/Zqcanary/Otherbird/)\"' - {} \\; && grep -rlZ Zqcanary . | xargs -0 sed "
                        "-i s/Zqcanary/Otherbird/g",
                        night.folder) == 0);
    for (int i = 0; i < 2; i++)
        for (int k = 0; k < 2; k++)
            CHECK(program_shell(night.out, "%s -C %s/%s --quiet batch", night.lapwing, night.folder,
                                k == 0 ? "night" : "other") == 1);
    CHECK(hunt(&night, "other/report other/season.sqlite") == 0);
    CHECK(hunt(&night, "night/report") == 1);
    CHECK(program_shell(night.out, "grep -rlF Otherbird %s/night", night.folder) == 1);
    CHECK(program_shell(night.out, "grep -rlF Otherbird %s/other/report", night.folder) == 0);
    end(&night);
}

CU_TestInfo canaries_tests[] = {{"no canary leaves", no_canary_leaves},
                                {"the machine is not told", the_machine_is_not_told},
                                {"seasons stay apart", seasons_stay_apart},
                                CU_TEST_INFO_NULL};
