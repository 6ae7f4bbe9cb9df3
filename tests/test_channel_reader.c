/* test_channel_reader.c - a log through a channel map: units, signs, points, times, and refusals. */
#include "ingest/channel_reader.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tests/check.h"

static struct map_column standard_columns[] = {
    {"t", ROLE_TIME, COLUMN_VALUE, NULL, 1, 7, HOLD_NONE, NULL},
    {"pt", ROLE_POINT, COLUMN_VALUE, NULL, 1, 8, HOLD_NONE, NULL},
    {"p", ROLE_STATIC_PRESSURE, COLUMN_VALUE, NULL, 1, 9, HOLD_NONE, NULL},
    {"yaw", ROLE_YAW, COLUMN_VALUE, NULL, 1, 10, HOLD_NONE, NULL},
};

static struct channel_map standard_map(void)
{
    static char *words[] = {"", "NaN", "-999"};
    return (struct channel_map){.name = "m",
                                .delimiter = ',',
                                .decimal_mark = '.',
                                .name_rows = 1,
                                .unit_row = 1,
                                .missing_words = words,
                                .n_missing_words = 3,
                                .columns = standard_columns,
                                .n_columns = 4};
}

/* What a reading gave: the record, or the problems as lines. */
struct reading_result {
    struct log_record *record;
    char lines[4096];
};

static void gather(void *context, const struct fault *problem)
{
    char *lines = context;
    size_t used = strlen(lines);
    fault_line(problem, lines + used, 4000 - used);
    used = strlen(lines);
    (void)snprintf(lines + used, 2, "\n");
}

static struct reading_result read_with(const char *text, const struct log_reading *reading)
{
    struct reading_result result = {.record = NULL, .lines = ""};
    struct memory_source memory = {(const unsigned char *)text, strlen(text), 0, 0};
    struct problems problems = problems_to(gather, result.lines);
    struct units *units = NULL;
    struct fault fault = {.status = OK};
    CHECK_OK(units_open(&units, &fault), &fault);
    CHECK_OK(channel_reader_read(memory_source_bytes(&memory), "log.csv", reading, units, 100,
                                 &problems, &result.record, &fault),
             &fault);
    CHECK((result.record == NULL) == (problems.n > 0));
    units_close(units);
    return result;
}

static struct reading_result read_map(const char *text, const struct channel_map *map)
{
    const struct log_reading reading = {.map = map, .output_unit = "mV/V", .yaw_sign = -1};
    return read_with(text, &reading);
}

static struct reading_result read_standard(const char *text)
{
    const struct channel_map map = standard_map();
    return read_map(text, &map);
}

static const char good[] = "t,pt,p,yaw,spare\n"
                           "s,,hPa,deg,\n"
                           "0.0,A,1000,1.0,x\n"
                           "0.5,A,-999,3.0,x\n"
                           "1.0,A,1002,NaN,x\n"
                           "2.0,B,990,,x\n";

static void points_in_si_with_our_signs(void)
{
    struct reading_result r = read_standard(good);
    CHECK_TEXT(r.lines, "");
    CU_ASSERT_FATAL(r.record != NULL && r.record->n_points == 2 && r.record->n_channels == 2);
    const struct log_point *a = &r.record->points[0];
    CHECK_TEXT(a->label, "A");
    CHECK_NEAR(a->statistics[0].mean, 100100, 1e-9, "identity: 1001 hPa");
    CHECK(a->statistics[0].n == 2 && a->statistics[0].n_missing == 1);
    CHECK_RELATIVE(a->statistics[1].mean, -2 * 0.017453292519943295, 1e-12,
                   "identity: 2 deg, the facility counts the other way");
    CHECK_NEAR(a->time, 0.5, 1e-15, "identity");
    CHECK_NEAR(a->duration, 1, 1e-15, "identity");
    CHECK(a->first_line == 3 && a->last_line == 5 && a->rows == 3);
    CHECK(r.record->points[1].statistics[1].n == 0 &&
          isnan(r.record->points[1].statistics[1].mean));
    CHECK(r.record->n_covaried == 1 && r.record->covaried[0] == 0);
    CHECK_TEXT(r.record->channels[0].unit, "Pa");
    CHECK_TEXT(r.record->channels[0].written_unit, "hPa");
    CHECK_NEAR(r.record->channels[1].sign, -1, 0, "identity");
    log_record_free(r.record);
}

/* Each bad log, and what is said of it, lines joined. */
static const struct {
    const char *text;
    const char *line;
} bad_logs[] = {
    {"", "log.csv:1: the file ends before its names"},
    {"t,pt,p,yaw\n", "log.csv:1: the file ends before its units"},
    {"t,pt,p,yaw\ns,,hPa,deg\n", "log.csv:1: the log has no row of data"},
    {"t,pt,p,p\ns,,hPa,deg\n", "log.csv:1:8: columns 3 and 4 are both named 'p'"},
    {"t,pt,p,beta\ns,,hPa,deg\n",
     "log.csv:1: no column is named 'yaw'; the header has 't', 'pt', 'p', 'beta'"},
    {"t,pt,p,yaw\ns,,,deg\n", "log.csv:1:6: unit undeclared: column 'p'"},
    {"t,pt,p,yaw\ns,,hPa,m\n", "log.csv:2:8: column 'yaw', unit in the unit row: unit 'm' is of"},
    {"t,pt,p,yaw\ns,,mph,deg\n", "log.csv:2:4: column 'p', unit in the unit row: unit 'mph' is of"},
    {"t,pt,p,yaw\ns,,pascals per,deg\n", "log.csv:2:4: column 'p', unit in the unit row: unit"},
    {"t,pt,p [Pa],yaw\ns,,hPa,deg\n",
     "log.csv:2:4: the unit of column 'p [Pa]' is 'hPa' in the unit row and 'Pa' in the column's"},
    {"t,pt,p [Pa],p (hPa),yaw\ns,,,,deg\n",
     "log.csv:1:13: 'p' may be column 3 'p [Pa]' or column 4"},
    {"t,pt,p,yaw\ns,,hPa,deg\n0,A,1000,1\n1,B,1000,1\n2,A,1000,1\n",
     "log.csv:5:3: point 'A' comes back after 'B'; it was on lines 3 to 3"},
    {"t,pt,p,yaw\ns,,hPa,deg\n0,,1000,1\n", "log.csv:3:3: the row has no point label"},
    {"t,pt,p,yaw\ns,,hPa,deg\n5,A,1000,1\n4,B,1000,1\n",
     "log.csv:4:1: time goes back: 4 s after 5 s on line 3"},
    {"t,pt,p,yaw\ns,,hPa,deg\n0x,A,1000,1\n", "log.csv:3:1: '0x' is not a time in numbers"},
    {"t,pt,p,yaw\ns,,hPa,deg\n0,A,0x10,1\n",
     "log.csv:3:5: column 'p': '0x10' is a hexadecimal number"},
    {"t,pt,p,yaw\ns,,hPa,deg\n0,A,1000,nan\n",
     "log.csv:3:10: column 'yaw': 'nan' is not a finite number"},
    {"t,pt,p,yaw\ns,,hPa,deg\n0,A,1e999,1\n", "log.csv:3:5: column 'p': '1e999' is out of range"},
    {"t,pt,p,yaw\ns,,hPa,deg\n0,A,1 000,1\n",
     "log.csv:3:5: column 'p': '1 000' has a blank between thousands"},
    {"t,pt,p,yaw\ns,,hPa,deg\n0,A,1000,#N/A\n",
     "log.csv:3:10: column 'yaw': '#N/A' is a spreadsheet's error value"},
    {"t,pt,p,yaw\ns,,hPa,deg\n1e999,A,1000,1\n", "log.csv:3:1: '1e999' is not a time"},
    {"t,pt,p,yaw\ns,,hPa,deg\n86400,A,1000,1\n86401,A,1000,1\n",
     "log.csv:4:1: time 86401 s since the run began; limit: 86400; check the unit, or map a clock"},
    {"t,pt,p,yaw\ns,,hPa,deg\n1770836400,A,1000,1\n", "log.csv:3:1: time 1.7708364e+09 s since"},
    {"t,pt,p,yaw\ns,,hPa,deg\n-86401,A,1000,1\n", "log.csv:3:1: time -86401 s since"},
    {"t;pt;p;yaw\ns;;hPa;deg\n",
     "log.csv:1:1: the header has ';' and is one cell as declared in map "
     "'m': is the delimiter semicolon?"},
    {"t\tpt\tp\tyaw\n", "is the delimiter tab?"},
    {"t,pt,p,yaw\ns,,hPa,deg\n0,A\033[2J,1000,1\n",
     "log.csv:3:3: the point label 'A\\x1b[2J' holds the control character U+001B"},
    {"t,pt,p,yaw\ns,,hPa,deg\n0,\xE2\x80\xAE"
     "A,1000,1\n",
     "holds the control character U+202E"},
    {"t,pt,p,yaw\ns,,hPa,deg\n0,A,1000,1,0\n", "log.csv:3:5: 5 cells, the header (line 1) has 4"},
};

static void bad_logs_are_refused_with_their_place(void)
{
    for (size_t i = 0; i < sizeof bad_logs / sizeof bad_logs[0]; i++) {
        struct reading_result r = read_standard(bad_logs[i].text);
        CHECK(r.record == NULL);
        CHECK_CONTAINS(r.lines, bad_logs[i].line);
        log_record_free(r.record);
    }
}

static void every_problem_is_told_and_reading_goes_on(void)
{
    struct reading_result r = read_standard("t,pt,p,yaw\ns,,hPa,deg\n0,A,a,1\n1,A,2\n2,A,3,b\n"
                                            "3,A,5,5\n2,A,5,5\n");
    CHECK(r.record == NULL);
    CHECK_CONTAINS(r.lines, "log.csv:3:5: column 'p': 'a'");
    CHECK_CONTAINS(r.lines, "log.csv:4:5: 3 cells");
    CHECK_CONTAINS(r.lines, "log.csv:5:7: column 'yaw': 'b'");
    CHECK_CONTAINS(r.lines, "log.csv:7:1: time goes back");
    struct reading_result u = read_standard("t,pt,q,yaw\nkm,,hPa,\n0,A,a,1\n");
    CHECK_CONTAINS(u.lines, "column 't', unit in the unit row: unit 'km' is of another kind");
    CHECK_CONTAINS(u.lines, "no column is named 'p'");
    CHECK_CONTAINS(u.lines, "unit undeclared: column 'yaw'");
}

static void units_from_the_map_and_from_the_name(void)
{
    struct channel_map map = standard_map();
    struct map_column columns[4];
    memcpy(columns, standard_columns, sizeof columns);
    columns[2].unit = (char[]){"mbar"};
    columns[3].sign = -1;
    map.columns = columns;
    map.unit_row = 0;
    struct reading_result r =
        read_map("t [ms],pt,p (at the wall),yaw (deg)\n0,A,1000,2\n500,A,1000,2\n", &map);
    CHECK_TEXT(r.lines, "");
    CU_ASSERT_FATAL(r.record != NULL);
    CHECK_NEAR(r.record->points[0].statistics[0].mean, 100000, 1e-9, "identity: 1000 mbar");
    CHECK_RELATIVE(r.record->points[0].statistics[1].mean, 2 * 0.017453292519943295, 1e-12,
                   "identity: turned twice");
    CHECK_NEAR(r.record->points[0].duration, 0.5, 1e-15, "identity: 500 ms");
    CHECK_TEXT(r.record->channels[0].column, "p (at the wall)");
    log_record_free(r.record);
    struct reading_result same = read_map("t [s],pt,p [hPa],yaw (deg)\n0,A,1000,2\n", &map);
    CHECK_TEXT(same.lines, ""); /* mbar and hPa are the same size */
    log_record_free(same.record);
    struct reading_result other = read_map("t [s],pt,p [kPa],yaw (deg)\n0,A,100,2\n", &map);
    CHECK_CONTAINS(other.lines, "'mbar' in the channel map and 'kPa' in the column's name");
}

static void two_rows_of_names_are_joined(void)
{
    struct channel_map map = standard_map();
    struct map_column columns[4];
    memcpy(columns, standard_columns, sizeof columns);
    columns[2].column = (char[]){"static p"};
    map.columns = columns;
    map.name_rows = 2;
    map.preamble_rows = 1;
    struct reading_result r =
        read_map("Logger 7, second floor\n,,static,yaw\nt,pt,p,\ns,,Pa,deg\n0,A,99000,1\n", &map);
    CHECK_TEXT(r.lines, "");
    CU_ASSERT_FATAL(r.record != NULL);
    CHECK_NEAR(r.record->points[0].statistics[0].mean, 99000, 0, "identity");
    CHECK(r.record->points[0].first_line == 5);
    log_record_free(r.record);
}

static void decimal_commas_need_another_delimiter(void)
{
    struct channel_map map = standard_map();
    map.decimal_mark = ',';
    map.delimiter = 0;
    struct reading_result r = read_map("t;pt;p;yaw\ns;;hPa;deg\n0,5;A;1000,25;1\n", &map);
    CHECK_TEXT(r.lines, "");
    CU_ASSERT_FATAL(r.record != NULL);
    CHECK_NEAR(r.record->points[0].statistics[0].mean, 100025, 1e-9, "identity");
    log_record_free(r.record);
    struct reading_result both = read_map("t,pt,p,yaw\ns,,hPa,deg\n0,A,1,1\n", &map);
    CHECK_CONTAINS(both.lines, "log.csv:1:1: the comma is both delimiter and decimal mark");
    struct reading_result point = read_map("t;pt;p;yaw\ns;;hPa;deg\n0,5;A;1000.25;1\n", &map);
    CHECK_CONTAINS(point.lines, "'1000.25' has a decimal point");
}

static void balance_outputs_must_be_in_the_balance_unit(void)
{
    struct map_column columns[] = {
        {"pt", ROLE_POINT, COLUMN_VALUE, NULL, 1, 8, HOLD_NONE, NULL},
        {"R1", ROLE_BALANCE_OUTPUT_1, COLUMN_VALUE, NULL, 1, 9, HOLD_NONE, NULL}};
    struct channel_map map = standard_map();
    map.columns = columns;
    map.n_columns = 2;
    struct reading_result r = read_map("pt,R1\n,mV/V\nA,1.5\n", &map);
    CHECK_TEXT(r.lines, "");
    CU_ASSERT_FATAL(r.record != NULL);
    CHECK_NEAR(r.record->points[0].statistics[0].mean, 1.5, 0, "identity: kept as it is");
    CHECK(r.record->clock == LOG_WITHOUT_TIME && isnan(r.record->points[0].time));
    log_record_free(r.record);
    CHECK_CONTAINS(
        read_map("pt,R1\n,V\nA,1.5\n", &map).lines,
        "log.csv:2:2: column 'R1' is in 'V' (the unit row), the balance's outputs are in "
        "'mV/V'");
    CHECK_CONTAINS(read_map("pt,R1\n,\nA,1.5\n", &map).lines, "unit undeclared: column 'R1'");
    const struct log_reading without = {.map = &map, .output_unit = NULL, .yaw_sign = 1};
    CHECK_CONTAINS(read_with("pt,R1\n,mV/V\nA,1.5\n", &without).lines,
                   "the run sheet names no balance");
}

/* Names, units and first rows like those of a real six-component log: tabs, padding, H:M:S. */
static void averaged_rows_with_clock_and_counts(void)
{
    struct map_column columns[] = {
        {"Run_nr", ROLE_POINT, COLUMN_VALUE, NULL, 1, 1, HOLD_NONE, NULL},
        {"Time", ROLE_CLOCK, COLUMN_VALUE, NULL, 1, 2, HOLD_NONE, NULL},
        {"B1", ROLE_BALANCE_OUTPUT_1, COLUMN_VALUE, NULL, 1, 3, HOLD_NONE, NULL},
        {"T", ROLE_TOTAL_TEMPERATURE, COLUMN_VALUE, NULL, 1, 4, HOLD_NONE, NULL},
        {"sB1", ROLE_BALANCE_OUTPUT_1, COLUMN_SD, NULL, 1, 5, HOLD_NONE, NULL},
        {"n", ROLE_SAMPLE_COUNT, COLUMN_VALUE, NULL, 1, 6, HOLD_NONE, NULL},
    };
    struct channel_map map = standard_map();
    map.columns = columns;
    map.n_columns = 6;
    map.delimiter = 0;
    map.rows = ROWS_POINTS;
    const struct log_reading reading = {.map = &map, .output_unit = "steps", .yaw_sign = 1};
    struct reading_result r = read_with("  Run_nr\t    Time\t      B1\t       T\tsB1\tn\n"
                                        "       /\t   H:M:S\t   steps\t degr._C\tsteps\t/\n"
                                        "      93\t 17:43:19\t   385.3\t   15.18\t0.5\t1000\n"
                                        "      94\t 17:43:47\t   351.1\t   15.17\t\t\n",
                                        &reading);
    CHECK_TEXT(r.lines, "");
    CU_ASSERT_FATAL(r.record != NULL && r.record->n_points == 2 && r.record->n_channels == 2);
    const struct log_point *point = &r.record->points[0];
    CHECK_TEXT(point->label, "93");
    CHECK(r.record->clock == LOG_SINCE_MIDNIGHT);
    CHECK_NEAR(point->time, 63799, 0, "identity: 17:43:19");
    CHECK_NEAR(point->statistics[0].mean, 385.3, 0, "identity");
    CHECK_NEAR(point->statistics[0].sd, 0.5, 0, "identity");
    CHECK_NEAR(point->statistics[0].n, 1000, 0, "identity");
    CHECK(isnan(point->statistics[0].n_effective) && point->covariance == NULL);
    CHECK_NEAR(point->statistics[1].mean, 288.33, 1e-9, "identity: 15.18 degC");
    CHECK(isnan(point->statistics[1].sd));
    CHECK(isnan(r.record->points[1].statistics[0].sd) && r.record->points[1].statistics[0].n == 1);
    log_record_free(r.record);
    CHECK_CONTAINS(read_with("Run_nr\tTime\tB1\tT\tsB1\tn\n/\tH:M:S\tsteps\tK\tsteps\t/\n"
                             "1\t23:59:50\t1\t288\t1\t1\n2\t0:00:10\t1\t288\t1\t1\n",
                             &reading)
                       .lines,
                   "log.csv:4:3: the clock passes midnight");
    CHECK_CONTAINS(read_with("Run_nr\tTime\tB1\tT\tsB1\tn\n/\tH:M:S\tsteps\tK\tsteps\t/\n"
                             "1\t23:59:50\t1\t288\t1\t1\n1\t23:59:50\t1\t288\t-1\t0\n",
                             &reading)
                       .lines,
                   "log.csv:4:1: point '1' is on line 3 already");
    CHECK_CONTAINS(read_with("Run_nr\tTime\tB1\tT\tsB1\tn\n/\tH:M:S\tsteps\tK\tsteps\t/\n"
                             "1\t23:59:50\t1\t288\t-1\t1\n2\t23:59:50\t1\t288\t1\t0\n",
                             &reading)
                       .lines,
                   "column 'sB1': '-1' is not a number");
}

static void points_may_be_numbered_by_row(void)
{
    struct map_column columns[] = {
        {"p", ROLE_STATIC_PRESSURE, COLUMN_VALUE, NULL, 1, 9, HOLD_NONE, NULL}};
    struct channel_map map = standard_map();
    map.columns = columns;
    map.n_columns = 1;
    map.delimiter = ',';
    map.rows = ROWS_POINTS;
    struct reading_result none = read_map("p,x\nPa,\n1,2\n", &map);
    CHECK_CONTAINS(none.lines, "map 'm' has no column for the point");
    map.point_by_row = 1;
    map.rate = 10;
    struct reading_result r = read_map("p,x\nPa,\n1,2\n\n3,4\n", &map);
    CHECK_TEXT(r.lines, "");
    CU_ASSERT_FATAL(r.record != NULL && r.record->n_points == 2);
    CHECK_TEXT(r.record->points[1].label, "2");
    CHECK(r.record->points[1].first_line == 5);
    CHECK_NEAR(r.record->points[1].time, 0.1, 1e-15, "identity: second row at 10 Hz");
    log_record_free(r.record);
}

static void a_last_row_without_line_feed_may_be_cut(void)
{
    static const struct {
        const char *text;
        size_t taken, unterminated_line;
        enum map_rows rows;
        int left_out;
    } cases[] = {
        {"t,pt,p,yaw\ns,,hPa,deg\n0,A,1000,1\n1,A,1000,1\n", 2, 0, ROWS_SAMPLES, 0},
        {"t,pt,p,yaw\ns,,hPa,deg\n0,A,1000,1\n1,A,1000,1", 1, 4, ROWS_SAMPLES, 1},
        {"t,pt,p,yaw\ns,,hPa,deg\n0,A,1000,1\n1,B,1000,-", 1, 4, ROWS_SAMPLES, 1},
        {"t,pt,p,yaw\ns,,hPa,deg\n0,A,1000,1", 1, 3, ROWS_SAMPLES, 0}, /* all there is */
        {"t,pt,p,yaw\ns,,hPa,deg\n0,A,1000,1\n1,B,1000,1", 2, 4, ROWS_POINTS, 0},
    };
    struct channel_map map = standard_map();
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        map.rows = cases[i].rows;
        struct reading_result r = read_map(cases[i].text, &map);
        CHECK_TEXT(r.lines, "");
        CU_ASSERT_FATAL(r.record != NULL);
        CHECK(r.record->rows == cases[i].taken && r.record->n_points == (map.rows + 1U));
        CHECK(r.record->unterminated_line == cases[i].unterminated_line);
        CHECK(r.record->left_out == cases[i].left_out);
        log_record_free(r.record);
    }
    CHECK_CONTAINS(read_standard("t,pt,p,yaw\ns,,hPa,deg\n0,A,1000,1\n1,A,10").lines,
                   "log.csv:4:5: the last row is cut");
}

static size_t count_of(const char *text, const char *needle)
{
    size_t n = 0;
    for (const char *at = text; (at = strstr(at, needle)) != NULL; at++)
        n++;
    return n;
}

/* One cause, one line: the rows after it are not told again. */
static void what_goes_on_for_rows_is_told_once(void)
{
    struct reading_result r =
        read_standard("t,pt,p,yaw\ns,,hPa,deg\n0,A,1000,1\n1,B,1000,1\n2,A,1000,1\n"
                      "3,A,1000,1\n4,C,1000,1\n5,A,1000,1\n6,A,1000,x\n");
    CHECK(r.record == NULL);
    CHECK(count_of(r.lines, "comes back") == 2);
    CHECK_CONTAINS(r.lines, "log.csv:5:3: point 'A' comes back after 'B'");
    CHECK_CONTAINS(r.lines, "log.csv:8:3: point 'A' comes back after 'C'");
    r = read_standard("t,pt,p,yaw\ns,,hPa,deg\n5,A,1000,1\n6,A,1000,1\n0,A,1000,1\n"
                      "1,A,1000,1\n2,A,1000,1\n1,A,1000,1\n");
    CHECK(r.record == NULL);
    CHECK(count_of(r.lines, "time goes back") == 2);
    CHECK_CONTAINS(r.lines, "log.csv:5:1: time goes back: 0 s after 6 s on line 4");
    CHECK_CONTAINS(r.lines, "log.csv:8:1: time goes back: 1 s after 2 s on line 7");
}

static void rows_counted_by_a_rate_end_within_a_day(void)
{
    struct channel_map map = standard_map();
    map.columns = &standard_columns[1]; /* no time */
    map.n_columns = 3;
    map.rate = 1e-5;
    CHECK_CONTAINS(
        read_map("pt,p,yaw\n,hPa,deg\nA,1000,1\nA,1000,1\n", &map).lines,
        "log.csv:4: time 100000 s since the run began; limit: 86400; check the rate in the "
        "channel map");
}

CU_TestInfo channel_reader_tests[] = {
    {"points in SI with our signs", points_in_si_with_our_signs},
    {"bad logs are refused with their place", bad_logs_are_refused_with_their_place},
    {"every problem is told and reading goes on", every_problem_is_told_and_reading_goes_on},
    {"units from the map and from the name", units_from_the_map_and_from_the_name},
    {"two rows of names are joined", two_rows_of_names_are_joined},
    {"decimal commas need another delimiter", decimal_commas_need_another_delimiter},
    {"balance outputs must be in the balance's unit", balance_outputs_must_be_in_the_balance_unit},
    {"averaged rows with clock and counts", averaged_rows_with_clock_and_counts},
    {"points may be numbered by row", points_may_be_numbered_by_row},
    {"a last row without line feed may be cut", a_last_row_without_line_feed_may_be_cut},
    {"what goes on for rows is told once", what_goes_on_for_rows_is_told_once},
    {"rows counted by a rate end within a day", rows_counted_by_a_rate_end_within_a_day},
    CU_TEST_INFO_NULL};
