/* test_log_blocks.c - logs that are one block of a file, have comments, no names, or anything to keep. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "ingest/channel_reader.h"
#include "tests/check.h"

/* The head and the first rows of two blocks of Ladson, NASA TM 4074 (1988), as the Turbulence Modeling
 * Resource publishes them (CC0): alpha, cl, cd. */
static const char polar[] = "# Data from Ladson, NASA TM 4074, 1988\n"
                            "# M=0.15\n"
                            "variables=\"alpha, deg\",\"cl\",\"cd\"\n"
                            "zone, t=\"80 grit\"\n"
                            "-4.04  -.4417  .00871\n"
                            "-2.14  -.2385  .00800\n"
                            "zone, t=\"180 grit\"\n"
                            "\n"
                            "# repeated\n"
                            "-4.01  -.4466  .00843\n";

struct reading_result {
    struct log_record *record;
    char lines[2048];
};

static void gather(void *context, const struct fault *problem)
{
    char *lines = context;
    size_t used = strlen(lines);
    fault_line(problem, lines + used, 2000 - used);
    used = strlen(lines);
    (void)snprintf(lines + used, 2, "\n");
}

static struct reading_result read_block(const char *text, const struct channel_map *map,
                                        const char *block)
{
    const struct log_reading reading = {.map = map, .yaw_sign = 1, .block = block};
    struct reading_result result = {.record = NULL, .lines = ""};
    struct memory_source memory = {(const unsigned char *)text, strlen(text), 0, 0};
    struct problems problems = problems_to(gather, result.lines);
    struct units *units = NULL;
    struct fault fault = {.status = OK};
    CHECK_OK(units_open(&units, &fault), &fault);
    CHECK_OK(channel_reader_read(memory_source_bytes(&memory), "polar.dat", &reading, units, 100,
                                 &problems, &result.record, &fault),
             &fault);
    CHECK((result.record == NULL) == (problems.n > 0));
    units_close(units);
    return result;
}

static struct channel_map polar_map(void)
{
    static char alpha[] = "alpha", cl[] = "cl", cd[] = "cd", deg[] = "deg", one[] = "1";
    static char comment[] = "#", zone[] = "zone", name[] = "polar";
    static char *names[] = {alpha, cl, cd};
    static struct map_column columns[] = {
        {.column = alpha, .role = ROLE_PITCH, .unit = deg, .sign = -1},
        {.column = cl, .role = ROLE_DOWNFORCE_COEFFICIENT, .unit = one, .sign = -1},
        {.column = cd, .role = ROLE_DRAG_COEFFICIENT, .unit = one, .sign = 1},
    };
    return (struct channel_map){.name = name,
                                .delimiter = ' ',
                                .decimal_mark = '.',
                                .preamble_rows = 3,
                                .names = names,
                                .n_names = 3,
                                .comment = comment,
                                .blocks = zone,
                                .rows = ROWS_POINTS,
                                .point_by_row = 1,
                                .columns = columns,
                                .n_columns = 3,
                                .line = 20};
}

static void one_block_is_read_and_the_others_are_not(void)
{
    struct channel_map map = polar_map();
    struct reading_result first = read_block(polar, &map, "80 grit");
    CHECK_TEXT(first.lines, "");
    CU_ASSERT_FATAL(first.record != NULL && first.record->n_points == 2);
    CHECK_NEAR(first.record->points[0].statistics[1].mean, 0.4417, 1e-15, "Ladson 1988, 80 grit");
    CHECK_NEAR(first.record->points[1].statistics[2].mean, 0.00800, 1e-15, "Ladson 1988, 80 grit");
    CHECK(first.record->points[0].first_line == 5);
    log_record_free(first.record);
    struct reading_result last = read_block(polar, &map, "180 grit");
    CHECK_TEXT(last.lines, "");
    CU_ASSERT_FATAL(last.record != NULL && last.record->n_points == 1);
    CHECK_NEAR(last.record->points[0].statistics[1].mean, 0.4466, 1e-15, "Ladson 1988, 180 grit");
    CHECK(last.record->points[0].first_line == 10);
    log_record_free(last.record);
}

static void a_block_that_cannot_be_told_is_refused(void)
{
    struct channel_map map = polar_map();
    static char nothing[] = "ZONE";
    CHECK_TEXT(
        read_block(polar, &map, "grit").lines,
        "polar.dat: no block is titled 'grit'; the file has '80 grit', '180 grit'; correct the "
        "title in the run sheet\n");
    CHECK_CONTAINS(
        read_block(polar, &map, NULL).lines,
        "polar.dat:7:1: the file holds more than one block: '80 grit', '180 grit'; limit: "
        "one a log; name it in the run sheet, map=file#title\n");
    CHECK_CONTAINS(read_block("a\nb\nc\nzone x\n1 2 3\nzone: x\n1 2 3\n", &map, "x").lines,
                   "polar.dat:6:1: lines 4 and 6 are both titled 'x'");
    map.blocks = nothing;
    CHECK_CONTAINS(read_block(polar, &map, "80 grit").lines,
                   "polar.dat: no line begins with 'ZONE', which marks the title of a block");
    map = polar_map();
    struct reading_result only = read_block("a\nb\nc\nzone = only one \n1 2 3\n", &map, NULL);
    CHECK_TEXT(only.lines, ""); /* a single block needs no name */
    CHECK(only.record != NULL && only.record->n_points == 1);
    log_record_free(only.record);
    only = read_block("a\nb\nc\nzone = only one \n1 2 3\n", &map, "only one");
    CHECK_TEXT(only.lines, "");
    log_record_free(only.record);
    CHECK_CONTAINS(read_block("a\nb\nc\nzone x\n", &map, "x").lines, "the log has no row of data");
}

static void the_map_names_the_columns_of_a_log_without_names(void)
{
    struct channel_map map = polar_map();
    map.blocks = NULL;
    map.comment = NULL;
    map.preamble_rows = 0;
    map.delimiter = 0;
    struct reading_result r = read_block("1;2;3\n4;5;6\n", &map, NULL);
    CHECK_TEXT(r.lines, "");
    CU_ASSERT_FATAL(r.record != NULL && r.record->n_points == 2);
    CHECK_NEAR(r.record->points[1].statistics[2].mean, 6.0, 0.0, "identity");
    log_record_free(r.record);
    CHECK_TEXT(read_block("1;2;3\n4;5\n7;8;9\n", &map, NULL).lines,
               "polar.dat:2:3: 2 cells, names in map 'polar' lists 3; limit: as many cells as the "
               "names; correct the row\n");
    CHECK_CONTAINS(read_block("1 2,3 4;5\n", &map, NULL).lines,
                   "polar.dat:1:1: the first row has comma and semicolon; limit: one delimiter");
    map.n_names = 2;
    CHECK_CONTAINS(read_block("1;2\n", &map, NULL).lines,
                   "campaign.yaml:20: no column is named 'cd'; the header has 'alpha', 'cl'");
}

static struct channel_map bench_map(void)
{
    static char lbf[] = "lbf", ratio[] = "V/V", name[] = "bench";
    static char nominal[] = "nominal", out[] = "out", scatter[] = "sd_out";
    static struct map_column columns[] = {
        {.column = scatter,
         .role = ROLE_OTHER,
         .statistic = COLUMN_SD,
         .of = out,
         .unit = ratio,
         .sign = 1},
        {.column = nominal, .role = ROLE_OTHER, .unit = lbf, .sign = 1},
        {.column = out, .role = ROLE_OTHER, .unit = ratio, .sign = 1},
    };
    return (struct channel_map){.name = name,
                                .delimiter = ',',
                                .decimal_mark = '.',
                                .name_rows = 1,
                                .rows = ROWS_POINTS,
                                .point_by_row = 1,
                                .columns = columns,
                                .n_columns = 3};
}

/* 500 lbf and its output: UNH drag cell, 2015 (MIT); 1 lbf is 4.4482216152605 N, NIST SP 811 (2008). */
static void anything_can_be_kept_in_the_si_unit_of_its_kind(void)
{
    struct channel_map map = bench_map();
    struct reading_result r = read_block(
        "nominal,out,sd_out\n500.0,0.0029722343693052277,1.783121716208917e-06\n", &map, NULL);
    CHECK_TEXT(r.lines, "");
    CU_ASSERT_FATAL(r.record != NULL && r.record->n_channels == 2);
    CHECK_TEXT(r.record->channels[0].unit, "N");
    CHECK_TEXT(r.record->channels[1].unit, "1");
    CHECK_NEAR(r.record->points[0].statistics[0].mean, 500 * 4.4482216152605, 1e-9, "NIST SP 811");
    CHECK(isnan(r.record->points[0].statistics[0].sd));
    CHECK_NEAR(r.record->points[0].statistics[1].sd, 1.783121716208917e-06, 1e-20, "identity");
    log_record_free(r.record);

    static char none[] = "gone", pascal[] = "Pa", ticks[] = "ticks";
    map.columns[0].of = none;
    CHECK_CONTAINS(read_block("nominal,out,sd_out\n1,2,3\n", &map, NULL).lines,
                   "column 'sd_out' is the sd of gone, but no column holds its value");
    map = bench_map();
    map.columns[0].of = map.columns[2].column;
    map.columns[0].unit = pascal;
    CHECK_CONTAINS(read_block("nominal,out,sd_out\n1,2,3\n", &map, NULL).lines,
                   "column 'sd_out' is the sd of 'out', but one is in Pa and the other in 1");
    map.columns[0].unit = map.columns[2].unit;
    map.columns[1].unit = ticks;
    CHECK_CONTAINS(read_block("nominal,out,sd_out\n1,2,3\n", &map, NULL).lines,
                   "unit 'ticks' is not known, or of no kind that is kept");
    map.columns[1].unit = NULL;
    CHECK_CONTAINS(read_block("nominal,out,sd_out\n1,2,3\n", &map, NULL).lines,
                   "unit undeclared: column 'nominal'");
}

CU_TestInfo log_blocks_tests[] = {
    {"one block is read and the others are not", one_block_is_read_and_the_others_are_not},
    {"a block that cannot be told is refused", a_block_that_cannot_be_told_is_refused},
    {"the map names the columns of a log without names",
     the_map_names_the_columns_of_a_log_without_names},
    {"anything can be kept in the SI unit of its kind",
     anything_can_be_kept_in_the_si_unit_of_its_kind},
    CU_TEST_INFO_NULL};
