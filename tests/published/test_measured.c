/* test_measured.c - five published sets from sniff to statistics, on copies of sample_runs/measured.
 *
 * Origins and licences: sample_runs/measured/README.md. That page is replayed word for word; numbers are
 * held to those of tests/oracles/measured.py, which shares nothing with the program.                  */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/store.h"
#include "tests/check.h"
#include "tests/program.h"
#include "tests/published/measured_numbers.h"
#include "tests/scratch.h"
#include "tests/season_look.h"
#include "tests/transcript.h"

/* The two folders of the page as they lie in the tree; *folder is where the page's commands are run. */
static int copy_sets(char path[64], char folder[128])
{
    char out[PROGRAM_OUTPUT];
    (void)snprintf(folder, 128, "%s", "");
    if (!program_scratch(path) ||
        program_shell(out,
                      "mkdir -p %s/sample_runs %s/tests/published && "
                      "cp -R sample_runs/measured %s/sample_runs && "
                      "cp -R tests/published/tunnel_six_component %s/tests/published && "
                      "find %s -name 'season.sqlite*' -exec rm {} + && "
                      "find %s -type f -exec touch -d 2026-02-12T08:00:00Z {} +",
                      path, path, path, path, path, path) != 0)
        return 0;
    (void)snprintf(folder, 128, "%s/sample_runs/measured", path);
    return 1;
}

static void the_page_says_what_the_program_prints(void)
{
    char path[64], folder[128];
    CU_ASSERT_FATAL(copy_sets(path, folder));
    char *page = scratch_read("sample_runs/measured", "README.md");
    CU_ASSERT_FATAL(page != NULL);
    CHECK(transcript_replay(page, folder) == 40);
    free(page);
    program_remove(path);
}

static const struct {
    const char *folder;
    int runs, points;
    const char *read; /* what batch says */
} sets[] = {
    {"unh-loadcell-cal", 4, 40, "logs: 4 read, 0 unchanged; runs: 4 usable, 0 quarantined"},
    {"rm2-towtank", 14, 12 + 2 * (29 + 29 + 27 + 23 + 17) + 23 + 26 + 26,
     "logs: 14 read, 0 unchanged; runs: 14 usable, 0 quarantined"},
    {"naca0012-langley", 16, 17 + 18 + 18 + 13 + 9 * 45 + 25 + 24 + 24,
     "logs: 16 read, 0 unchanged; runs: 16 usable, 0 quarantined"},
    {"naca4412-r563", 2, 54 + 3, "logs: 2 read, 0 unchanged; runs: 2 usable, 0 quarantined"},
    {"ltt-propwing-sixcomp", 2, 15 + 55,
     "logs: 2 read, 0 unchanged; runs: 2 usable, 0 quarantined"},
};

/* The numbers of a row as season_query() writes it; NAN from where there are no more. */
static void read_row(const char *row, double *numbers, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        char *end = NULL;
        numbers[i] = row != NULL ? strtod(row, &end) : (double)NAN;
        row = end != NULL && end != row && (*end == '|' || *end == '\n') ? end + 1 : NULL;
    }
}

/* Points, mean and sd of the means, mean scatter, samples used, samples missing. */
static void check_number(struct store *store, const struct measured_number *want)
{
    static const char source[] = "tests/oracles/measured.py of the published log";
    enum { N, MEAN, SD, SCATTER, USED, MISSING, NUMBERS };
    double got[NUMBERS];
    char sql[900];
    (void)snprintf(sql, sizeof sql,
                   "WITH s AS (SELECT mean, sd, n, n_missing FROM channel_statistic WHERE "
                   "run = '%s' AND column_name = '%s'), m AS (SELECT avg(mean) AS m FROM s) "
                   "SELECT count(*), printf('%%.17g', m), printf('%%.17g', sqrt(sum((mean - m) * "
                   "(mean - m)) / (count(*) - 1))), CASE WHEN count(sd) > 0 THEN printf('%%.17g', "
                   "avg(sd)) ELSE 'nan' END, sum(n), sum(n_missing) FROM s, m",
                   want->run, want->column);
    char *row = season_query(store, sql, NUMBERS);
    read_row(row, got, NUMBERS);
    free(row);
    CHECK_NEAR(got[N], want->points, 0, source);
    CHECK_NEAR(got[USED], want->points, 0, "a row is an average of unknown count: n is 1");
    CHECK_NEAR(got[MISSING], 0, 0, source);
    /* sums of 54 numbers at most, each rounded once or twice */
    CHECK_NEAR(got[MEAN], want->mean, 1e-12 * (fabs(want->mean) + want->sd), source);
    CHECK_NEAR(got[SD], want->sd, 1e-12 * (fabs(want->mean) + want->sd), source);
    CHECK(isnan(got[SCATTER]) == isnan(want->scatter));
    if (!isnan(want->scatter))
        CHECK_RELATIVE(got[SCATTER], want->scatter, 1e-12, source);
}

static void counts_and_statistics_are_those_of_the_logs(void)
{
    static char out[PROGRAM_OUTPUT];
    char path[64], folder[128], file[256], sql[128];
    CU_ASSERT_FATAL(copy_sets(path, folder));
    for (size_t i = 0; i < sizeof sets / sizeof sets[0]; i++) {
        struct store *store = NULL;
        struct fault fault = {.status = OK};
        CHECK(program_shell(out, "%s -C %s/%s check", program_lapwing(), folder, sets[i].folder) ==
              0);
        CHECK(program_shell(out, "%s -C %s/%s batch", program_lapwing(), folder, sets[i].folder) ==
              0);
        CHECK_CONTAINS(out, sets[i].read);
        (void)snprintf(file, sizeof file, "%s/%s/season.sqlite", folder, sets[i].folder);
        CHECK_OK(store_open(file, STORE_READ_ONLY, &store, &fault), &fault);
        if (store == NULL)
            continue;
        (void)snprintf(sql, sizeof sql, "%d|%d\n", sets[i].runs, sets[i].points);
        check_season(store,
                     "SELECT (SELECT count(*) FROM run WHERE state = 'ok'), count(*) FROM point", 2,
                     sql);
        for (size_t k = 0; k < sizeof measured_numbers / sizeof measured_numbers[0]; k++)
            if (strcmp(measured_numbers[k].folder, sets[i].folder) == 0)
                check_number(store, &measured_numbers[k]);
        CHECK_OK(store_close(store, &fault), &fault);
    }
    program_remove(path);
}

/* Known of the tow tank's repeats: computed outside the program from the ten published logs (Bachant et
 * al. 2016, Perf-X.csv and Perf-X-b.csv): standard deviation of one measurement of cd by sqrt(sum d^2/2n),
 * mean shift, and pairs inside the root sum of squares of both stated 95 %. */
static const struct {
    const char *run;
    int pairs, inside;
    double sd, shift;
} towed[] = {
    {"perf-0.4", 29, 20, 0.0103, 0.011}, {"perf-0.6", 29, 16, 0.0077, 0.009},
    {"perf-0.8", 27, 10, 0.0067, 0.007}, {"perf-1.0", 23, 17, 0.0072, -0.003},
    {"perf-1.2", 17, 4, 0.0083, 0.010},
};

static void stated_uncertainties_cover_too_few_repeats(void)
{
    static const char source[] = "computed from the published logs, digits as given";
    static char out[PROGRAM_OUTPUT];
    char path[64], folder[128], file[256], sql[300];
    struct store *store = NULL;
    struct fault fault = {.status = OK};
    double got[4];
    CU_ASSERT_FATAL(copy_sets(path, folder));
    CHECK(program_shell(out, "%s -C %s/rm2-towtank batch", program_lapwing(), folder) == 0);
    CHECK_CONTAINS(out, "drag_coefficient: 67 of 125 pairs of repeats lie inside the stated 95 %, "
                        "119 expected: the stated uncertainty is too small by a factor of about ");
    CHECK(strstr(out, "mean_cp: ") == NULL);
    (void)snprintf(file, sizeof file, "%s/rm2-towtank/season.sqlite", folder);
    CHECK_OK(store_open(file, STORE_READ_ONLY, &store, &fault), &fault);
    for (size_t i = 0; store != NULL && i < sizeof towed / sizeof towed[0]; i++) {
        (void)snprintf(
            sql, sizeof sql,
            "SELECT pairs, inside, printf('%%.9f', repeat_sd), printf('%%.9f', shift) "
            "FROM repeat_agreement WHERE quantity = 'drag_coefficient' AND earlier_run = "
            "'%s' AND later_run = '%s-b'",
            towed[i].run, towed[i].run);
        char *row = season_query(store, sql, 4);
        read_row(row, got, 4);
        free(row);
        CHECK_NEAR(got[0], towed[i].pairs, 0, source);
        CHECK_NEAR(got[1], towed[i].inside, 0, source);
        CHECK_NEAR(got[2], towed[i].sd, 0.5e-4, source);
        CHECK_NEAR(got[3], towed[i].shift, 0.5e-3, source);
    }
    if (store != NULL) {
        check_season(store,
                     "SELECT subject, value, limit_value FROM flag WHERE rule = "
                     "'stated-uncertainty-too-small'",
                     3, "drag_coefficient|67.0|118.75\n");
        CHECK_OK(store_close(store, &fault), &fault);
    }
    CHECK(program_shell(out,
                        "grep -c 'stated-uncertainty-too-small' "
                        "%s/rm2-towtank/report/night.html",
                        folder) == 0);
    program_remove(path);
}

/* Every log of the sets: what sniff's exit status says is what check says of its map, unchanged. */
static const struct {
    const char *log, *map, *block;
    int status;
} sniffed[] = {
    {"unh-loadcell-cal/logs/drag_left_ascending.csv", "drag_left_ascending", "", 0},
    {"unh-loadcell-cal/logs/drag_left_descending.csv", "drag_left_descending", "", 0},
    {"unh-loadcell-cal/logs/drag_right_ascending.csv", "drag_right_ascending", "", 0},
    {"unh-loadcell-cal/logs/drag_right_descending.csv", "drag_right_descending", "", 0},
    {"rm2-towtank/logs/Tare-drag.csv", "Tare_drag", "", 0},
    {"rm2-towtank/logs/Perf-0.4.csv", "Perf_0_4", "", 0},
    {"rm2-towtank/logs/Perf-1.0.csv", "Perf_1_0", "", 0},
    {"rm2-towtank/logs/Perf-1.0-no-blades-covers.csv", "Perf_1_0_no_blades_covers", "", 0},
    {"rm2-towtank/logs/Perf-1.2-b.csv", "Perf_1_2_b", "", 0},
    {"naca0012-langley/logs/CLCD_Ladson_expdata.dat", "CLCD_Ladson_expdata", "#120 grit", 0},
    {"naca0012-langley/logs/CL_Gregory_expdata.dat", "CL_Gregory_expdata", "", 0},
    {"naca0012-langley/logs/CP_Ladson.dat", "CP_Ladson",
     "#Re=6 million, alpha=.0169, free transition", 1},
    {"naca0012-langley/logs/CP_Gregory_expdata.dat", "CP_Gregory_expdata", "#alpha=10", 1},
    {"naca4412-r563/logs/table1_orifice_P.csv", "table1_orifice_P", "", 1},
    {"naca4412-r563/logs/table2_cl.csv", "table2_cl", "", 0},
    {"ltt-propwing-sixcomp/logs/raw_j_sweep.txt", "raw_j_sweep", "", 0},
    {"ltt-propwing-sixcomp/logs/pres_rudder0.cal", "pres_rudder0", "", 1},
    {"../../tests/published/tunnel_six_component/logs/raw_rudder0.txt", "raw_rudder0", "", 0},
    {"../../tests/published/tunnel_six_component/logs/zer_20210303-154703.txt",
     "zer_20210303_154703", "", 0},
};

static void a_map_loads_unchanged_where_sniff_says_that_it_is_complete(void)
{
    static char out[PROGRAM_OUTPUT];
    char path[64], folder[128];
    char program[256];
    CU_ASSERT_FATAL(program_lapwing_anywhere(program) && copy_sets(path, folder));
    for (size_t i = 0; i < sizeof sniffed / sizeof sniffed[0]; i++) {
        int sniff = program_shell(out, "cd %s && %s --quiet sniff %s > map.yaml", folder, program,
                                  sniffed[i].log);
        int check = program_shell(
            out,
            "cd %s && mkdir -p bench && printf 'season: bench\\ncount: 0.001\\npoint: none\\n"
            "facilities: {bench: {test_section: bench}}\\nchannel_maps:\\n' > bench/campaign.yaml "
            "&& cat map.yaml >> bench/campaign.yaml && cp %s bench/log.txt && "
            "printf 'run,facility,entry,start,configuration,kind,balance,logs,zero,tare,mounting,"
            "note\\nr,bench,,2026-01-20T21:00:00Z,,record_only,,\"%s=log.txt%s\",,,,\\n' > "
            "bench/runs.csv && %s -C bench check",
            folder, sniffed[i].log, sniffed[i].map, sniffed[i].block, program);
        if (sniff != sniffed[i].status || (check == 0) != (sniff == 0))
            (void)fprintf(stderr, "%s: sniff %d, check %d\n%s", sniffed[i].log, sniff, check, out);
        CHECK(sniff == sniffed[i].status);
        CHECK((check == 0) == (sniff == 0));
    }
    program_remove(path);
}

CU_TestInfo measured_tests[] = {
    {"counts and statistics are those of the logs", counts_and_statistics_are_those_of_the_logs},
    {"a map loads unchanged where sniff says that it is complete",
     a_map_loads_unchanged_where_sniff_says_that_it_is_complete},
    {"the page says what the program prints", the_page_says_what_the_program_prints},
    {"stated uncertainties cover too few repeats", stated_uncertainties_cover_too_few_repeats},
    CU_TEST_INFO_NULL};
