/* test_sniff.c - the form of unknown logs: encoding, delimiter, decimal mark, head; the command. */
#include "ingest/sniff.h"

#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/program.h"
#include "tests/scratch.h"
#include "tests/sniff_look.h"

static void refuses(const char *text, const char *needle)
{
    struct sniff *sniff = NULL;
    struct fault fault = {.status = OK};
    CHECK(sniff_bytes((const unsigned char *)text, strlen(text), &sniff, &fault) == BAD_INPUT);
    CHECK(sniff == NULL);
    CHECK_CONTAINS(fault.text, needle);
}

static const char commas[] = "Zeit [s];Pt;hF [mm];RH;p [kPa];Lift;Spare [V]\r\n"
                             "0,00;A;12,5;45,0;101,325;-1000,5;1,5\r\n"
                             "0,01;A;12,6;45,1;101,326;NaN;1,5\r\n"
                             "0,02;A;12,5;45,0;101,325;-1001,5;1,5\r\n"
                             "0,06;B;14,5;45,0;101,325;-1001,5;1,5\r\n"
                             "0,07;B;14,5;45,0;101,325;-999;1,5";

static void semicolons_and_decimal_commas_are_told_apart(void)
{
    struct sniff *sniff = look(commas);
    if (sniff == NULL)
        return;
    CHECK(sniff->shape.delimiter == ';' && sniff->shape.decimal_mark == ',');
    CHECK(!sniff->shape.decimal_doubtful && sniff->text.ends_crlf == 5);
    CHECK(!sniff->rows.last_complete && !sniff->text.terminated);
    CHECK_NEAR(sniff->rows.rate, 100, 1e-6, "identity: 1 / 0.01 s");
    CHECK_NEAR(sniff->rows.largest_gap, 0.04, 1e-12, "identity: 0.06 s - 0.02 s");
    CHECK(sniff->rows.n_gaps == 1 && sniff->rows.largest_line == 5 && sniff->rows.n_back == 0);
    CHECK_TEXT(role_of(sniff, "hF [mm]"), "front_ride_height");
    CHECK_TEXT(role_of(sniff, "RH"), "relative_humidity in %");
    CHECK_TEXT(role_of(sniff, "p [kPa]"), "static_pressure");
    CHECK_TEXT(role_of(sniff, "Lift"), "force_z");
    CHECK_TEXT(role_of(sniff, "Spare [V]"), "none");
    char *map = map_of(sniff, "x/9 odd.csv");
    CHECK_CONTAINS(map, "  map_9_odd:\n");
    CHECK_CONTAINS(map, "decimal: comma\n");
    CHECK_CONTAINS(map, "missing: [\"NaN\"]");
    CHECK_CONTAINS(map, "unit: \"%\"");
    CHECK_CONTAINS(map, "      # \"Spare [V]\": {role: other}   # the name is not known");
    CHECK_CONTAINS(map, "lift sign: ask the facility");
    CHECK_CONTAINS(map, "column 'Lift' reaches");
    free(map);
    struct campaign *campaign = paste(sniff, "x/9 odd.csv");
    CHECK(campaign != NULL);
    campaign_free(campaign);
    sniff_free(sniff);
}

static void preamble_and_two_rows_of_names_are_found(void)
{
    struct sniff *sniff = look("Tunnel: north\nDate, 2031-02-03\n\n"
                               "Balance,Balance,Air,Model,\n"
                               "Fx,Fz,q,yaw,Point\n"
                               "N,N,Pa,deg,\n"
                               "1.5,-2.5,1500.0,0.0,1\n"
                               "1.6,-2.6,1500.1,0.0,1\n"
                               "1.7,-2.7,1500.2,3.0,2\n"
                               "1.7,-2.7,1500.2,3.0,2\n");
    if (sniff == NULL)
        return;
    CHECK(sniff->shape.first_name == 3 && sniff->shape.name_rows == 2 && sniff->shape.unit_row);
    CHECK(sniff->shape.first_data == 6);
    CHECK_TEXT(role_of(sniff, "Balance Fx"), "force_x");
    CHECK_TEXT(role_of(sniff, "Air q"), "dynamic_pressure");
    CHECK_TEXT(role_of(sniff, "Model yaw"), "yaw");
    CHECK_TEXT(role_of(sniff, "Point"), "point");
    struct campaign *campaign = paste(sniff, "two.csv");
    if (campaign != NULL) {
        const struct channel_map *map = campaign_map(campaign, "two");
        CHECK(map->preamble_rows == 3 && map->name_rows == 2 && map->unit_row == 1);
    }
    campaign_free(campaign);
    sniff_free(sniff);
}

static void encodings_are_recognised(void)
{
    static const char latin[] = "Point,yaw [\xb0],CD\n1,0.5,0.25\n2,0.5,0.25\n";
    static const char marked[] = "\xEF\xBB\xBFPoint,yaw [\xc2\xb0],CD\n1,0.5,0.25\n2,0.5,0.25\n";
    unsigned char wide[2 * sizeof latin];
    struct sniff *sniff = look(latin);
    if (sniff != NULL) {
        CHECK(sniff->text.encoding == SNIFF_WINDOWS_1252 && sniff->text.degree_signs == 1);
        CHECK_TEXT(role_of(sniff, "yaw [\xc2\xb0]"), "yaw");
    }
    sniff_free(sniff);
    sniff = look(marked);
    if (sniff != NULL)
        CHECK(sniff->text.encoding == SNIFF_UTF8 && sniff->text.has_mark);
    sniff_free(sniff);
    for (int big = 0; big < 2; big++) {
        for (size_t i = 0; i + 1 < sizeof latin; i++) {
            wide[2 * i + !big] = 0;
            wide[2 * i + (big != 0)] = (unsigned char)latin[i];
        }
        sniff = look_at(wide, 2 * (sizeof latin - 1));
        if (sniff != NULL) {
            CHECK(sniff->text.encoding == (big ? SNIFF_UTF16_BE : SNIFF_UTF16_LE));
            CHECK_TEXT(role_of(sniff, "yaw [\xc2\xb0]"), "yaw");
        }
        sniff_free(sniff);
    }
}

static void odd_ends_of_lines_and_rows_are_told(void)
{
    struct sniff *sniff = look("\"Sep=;\"\rPoint;CD\r1;0,5;;\r2;0,5;;\r\x1a");
    if (sniff == NULL)
        return;
    CHECK(sniff->text.ends_cr == 4 && sniff->text.separator == ';');
    CHECK(sniff->shape.trailing == 1 && sniff->shape.n == 2 && sniff->rows.n == 2);
    CHECK(sniff->shape.first_name == 1);
    char *map = map_of(sniff, "x.csv");
    CHECK_CONTAINS(map, "trailing_cells: ignore");
    CHECK_CONTAINS(map, "preamble_rows: 1\n");
    free(map);
    sniff_free(sniff);
}

static void doubt_is_said(void)
{
    struct sniff *sniff = look("Point;CD;CL\n1;1,234;2,345\n2;1,234;2,345\n");
    if (sniff == NULL)
        return;
    CHECK(sniff->shape.decimal_doubtful);
    char *map = map_of(sniff, "x.csv");
    CHECK_CONTAINS(map, "decimals, or thousands?");
    CHECK_CONTAINS(map, "lift sign: ask the facility; sign: -1 if lift is positive in this file");
    free(map);
    sniff_free(sniff);
}

static void a_map_that_is_not_complete_says_so(void)
{
    struct sniff *sniff = look("foo,\"b\"\"a\\\x07\"\n1.5,2.5\n1.5,2.25\n1.5,2.5\n");
    if (sniff == NULL)
        return;
    char *map = map_of(sniff, "x.csv");
    CHECK_CONTAINS(map, "channels: NOT COMPLETE");
    CHECK_CONTAINS(map,
                   "      # \"b\\\"a\\\\\\x07\": {role: other, unit: ?}   # the name is not known");
    free(map);
    sniff_free(sniff);
}

static void what_is_no_table_is_refused(void)
{
    refuses("", "empty");
    refuses("a letter to a friend\nof two lines\n", "delimited text?");
    refuses("a,b\n1,2,3\n4,5,6\n", "line 1 above them");
    struct sniff *sniff = NULL;
    struct fault fault = {.status = OK};
    CHECK(sniff_bytes((const unsigned char *)"a,b\n1,\0002\n3,4\n", 13, &sniff, &fault) ==
          BAD_INPUT);
    CHECK_CONTAINS(fault.text, "NUL");
}

/* Rows of n columns of numbers below their names; the caller frees. */
static char *wide_log(size_t n)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    CU_ASSERT_FATAL(out != NULL);
    for (size_t i = 0; i < n; i++)
        (void)fprintf(out, "%sP%zu [Pa]", i > 0 ? "," : "", i);
    for (int row = 0; row < 3; row++)
        for (size_t i = 0; i < n; i++)
            (void)fprintf(out, "%s%d.5", i > 0 ? "," : "\n", row);
    (void)fprintf(out, "\n");
    CU_ASSERT_FATAL(fclose(out) == 0);
    return text;
}

static void a_wide_log_is_looked_at_or_refused_as_wide(void)
{
    char *text = wide_log(5000);
    struct sniff *sniff = look(text);
    CHECK(sniff != NULL && sniff->shape.n == 5000);
    sniff_free(sniff);
    free(text);
    text = wide_log(16384);
    refuses(text, "a row has 16384 cells; limit: 16383");
    free(text);
}

static void the_command_writes_once_and_never_over(void)
{
    char folder[SCRATCH_PATH];
    static char out[PROGRAM_OUTPUT];
    CHECK(scratch_make(folder));
    CHECK(scratch_write(folder, "log.csv", commas));
    CHECK(program_shell(out, "%s sniff %s/log.csv --write %s/map.yaml", program_lapwing(), folder,
                        folder) == 1); /* 'Lift' has no unit */
    CHECK_CONTAINS(out, "delimiter  semicolon (sure)");
    CHECK_CONTAINS(out, "100 Hz");
    char *map = scratch_read(folder, "map.yaml");
    CHECK_CONTAINS(map != NULL ? map : "", "  log:\n    delimiter: semicolon\n");
    free(map);
    CHECK(program_shell(out, "%s sniff %s/log.csv --write %s/map.yaml", program_lapwing(), folder,
                        folder) == 2);
    CHECK_CONTAINS(out, "not overwritten");
    CHECK(program_shell(out, "%s --quiet sniff %s/log.csv", program_lapwing(), folder) == 1);
    CHECK(strncmp(out, "  # Guessed", 11) == 0);
    CHECK_CONTAINS(out, "units: NOT COMPLETE: nothing tells the unit of 'Lift'; the map");
    CHECK(scratch_write(folder, "odd.csv", "t [s],CD\n0,0.3\n0.1,0.31\n0.2,0.3\n"));
    CHECK(program_shell(out, "%s --quiet sniff %s/odd.csv", program_lapwing(), folder) == 1);
    CHECK_CONTAINS(out, "NOT COMPLETE");
    CHECK(program_shell(out, "%s sniff", program_lapwing()) == 2);
    CHECK(program_shell(out, "%s sniff %s", program_lapwing(), folder) == 2);
    CHECK(program_shell(out, "%s sniff %s/log.csv --wrong", program_lapwing(), folder) == 2);
    CHECK(program_shell(out, "%s sniff %s/none.csv", program_lapwing(), folder) == 2);
    scratch_remove(folder);
}

CU_TestInfo sniff_tests[] = {
    {"semicolons and decimal commas are told apart", semicolons_and_decimal_commas_are_told_apart},
    {"preamble and two rows of names are found", preamble_and_two_rows_of_names_are_found},
    {"encodings are recognised", encodings_are_recognised},
    {"odd ends of lines and rows are told", odd_ends_of_lines_and_rows_are_told},
    {"doubt is said", doubt_is_said},
    {"a map that is not complete says so", a_map_that_is_not_complete_says_so},
    {"what is no table is refused", what_is_no_table_is_refused},
    {"a wide log is looked at or refused as wide", a_wide_log_is_looked_at_or_refused_as_wide},
    {"the command writes once and never over", the_command_writes_once_and_never_over},
    CU_TEST_INFO_NULL};
