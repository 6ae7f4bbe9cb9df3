/* test_text_table.c - the strict reader: what it accepts, and what it refuses with its exact place. */
#include "ingest/text_table.h"

#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"

enum { OUT_SIZE = 2048 };

/* Reads a whole table: cells with '|' between them, "line:" before each row, and where it ends. */
static void read_table(const char *bytes, size_t size, size_t piece, char delimiter,
                       unsigned preamble, char out[OUT_SIZE])
{
    struct memory_source memory = {(const unsigned char *)bytes, size, 0, piece};
    const struct table_format format = {
        .name = "log.csv", .delimiter = delimiter, .preamble_rows = preamble, .map = "forces"};
    struct text_table *table = NULL;
    struct fault fault = {.status = OK};
    size_t used = 0;
    int got = 1;

    out[0] = '\0';
    CHECK_OK(text_table_open(memory_source_bytes(&memory), &format, &table, &fault), &fault);
    while (table != NULL && got && used + 600 < OUT_SIZE) {
        struct table_row row;
        enum status status = text_table_next(table, &row, &got, &fault);
        if (status != OK) {
            fault_line(&fault, out + used, OUT_SIZE - used);
            break;
        }
        if (!got)
            break;
        used += (size_t)snprintf(out + used, OUT_SIZE - used, "%zu:", row.line);
        for (size_t i = 0; i < row.n; i++)
            used += (size_t)snprintf(out + used, OUT_SIZE - used, "%s%.*s", i > 0 ? "|" : "",
                                     (int)row.cells[i].length, row.cells[i].text);
        used += (size_t)snprintf(out + used, OUT_SIZE - used, "%s", row.terminated ? " " : "~ ");
    }
    text_table_close(table);
}

struct accepted {
    const char *bytes;
    char delimiter;
    unsigned preamble;
    const char *rows;
};

static const struct accepted accepted[] = {
    {"a,b\n1,2\n3,4\n", 0, 0, "1:a|b 2:1|2 3:3|4 "},
    {"a,b\r\n1,2\r\n", ',', 0, "1:a|b 2:1|2 "},
    {"\xEF\xBB\xBF"
     "a;b\n1;2\n",
     0, 0, "1:a|b 2:1|2 "},
    {"a\tb c\n 1\t 2 \n", 0, 0, "1:a|b c 2:1|2 "},
    {"  a   b\n 1 \t  2  \n", 0, 0, "1:a|b 2:1|2 "},
    {"a,b\n\n1,2\n\n \t\n3,4\n\n", ',', 0, "1:a|b 3:1|2 6:3|4 "},
    {"a,b\n1,2", ',', 0, "1:a|b 2:1|2~ "},
    {"a,\"b, c\"\n\"1\",\"say \"\"so\"\"\"\n", ',', 0, "1:a|b, c 2:1|say \"so\" "},
    {"a,b,\n1,2,\n", ',', 0, "1:a|b| 2:1|2| "},
    {"# made by a logger\nsecond line; with, all \"kinds\na,b\n1,2\n", 0, 2, "3:a|b 4:1|2 "},
    {"p \xC2\xB0,b\n1,2\n", ',', 0, "1:p \xC2\xB0|b 2:1|2 "},
    {"\"a\";b\n\"\";2\n", ';', 0, "1:a|b 2:|2 "},
    {"a,b\n", ',', 0, "1:a|b "},
    {"a,b\r1,2\r\r3,4\r", ',', 0, "1:a|b 2:1|2 4:3|4 "},
    {"a,b\n1,2\032", ',', 0, "1:a|b 2:1|2 "},
    {"a,b\n1,2\n\032\032", ',', 0, "1:a|b 2:1|2 "},
    {"a,b\n1,2\n\032\n\n", ',', 0, "1:a|b 2:1|2 "},
    {"sep=;\na,b;c\n1;2\n", 0, 0, "2:a,b|c 3:1|2 "},
    {"\"SEP=;\"\r\na;b\r\n", ';', 0, "2:a|b "},
    {"sep=,\nmade by a logger\na,b\n", ',', 2, "3:a|b "},
    {"", ',', 0, ""},
};

static void accepts_what_it_promises_in_pieces_of_any_size(void)
{
    for (size_t i = 0; i < sizeof accepted / sizeof accepted[0]; i++) {
        for (size_t piece = 1; piece <= strlen(accepted[i].bytes) + 1; piece++) {
            char out[OUT_SIZE];
            read_table(accepted[i].bytes, strlen(accepted[i].bytes), piece, accepted[i].delimiter,
                       accepted[i].preamble, out);
            CHECK_TEXT(out, accepted[i].rows);
        }
    }
}

struct refused {
    const char *bytes;
    size_t size; /* 0: strlen */
    char delimiter;
    const char *place; /* how the message begins, after the rows before it */
    const char *words;
};

static const struct refused refused[] = {
    {"a,b\n1,2\n1\n", 0, ',', "1:a|b 2:1|2 log.csv:3:1: ", "1 cells, the header (line 1) has 2"},
    {"a,b\nx,2,3.5\n", 0, ',', "1:a|b log.csv:2:5: ", "3 cells"},
    {"a,b\n1,2,\n", 0, ',', "1:a|b log.csv:2:5: ", "3 cells"},
    {"a\tb\n1\t2\t  \t\n", 0, 0, "1:a|b log.csv:2:7: ", "4 cells, the header (line 1) has 2"},
    {"a b\n1 2 3\n", 0, 0, "1:a|b log.csv:2:5: ", "3 cells"},
    {"a,b\n1,2\n3", 0, ',', "1:a|b 2:1|2 log.csv:3:1: ", "the last row is cut"},
    {"a,b\n1,\"2\n3\"\n", 0, ',', "1:a|b log.csv:2:3: ", "does not end on its line"},
    {"a,b\n\"1,2\n", 0, ',', "1:a|b log.csv:2:1: ", "does not end on its line"},
    {"a,b\n1,2\"3\n", 0, ',', "1:a|b log.csv:2:4: ", "a quote inside a cell"},
    {"a,b\n\"1\"x,2\n", 0, ',', "1:a|b log.csv:2:4: ", "a quote inside a cell"},
    {"a b\n\"1\" 2\n", 0, ' ', "1:a|b log.csv:2:1: ", "delimited by blanks"},
    {"a,b\n1,\0002\n", 9, ',', "1:a|b log.csv:2:3: ", "a NUL byte"},
    {"a,b\n1,2\r3,4\n", 0, ',', "1:a|b log.csv:2:4: ", "carriage return"},
    {"a,b\r1,2\r\n", 0, ',', "log.csv:1:4: ", "carriage return"},
    {"a,b\r1,2\r3,4\r5,6", 0, ',', "1:a|b 2:1|2 3:3|4 4:5|6~ ", ""},
    {"a,b\n1,2\032\n", 0, ',', "1:a|b 2:1|2\032 ", ""},
    {"a,b\n\032\n1,2\n", 0, ',',
     "1:a|b log.csv:3:1: ", "after the end of the text (Ctrl-Z on line 2)"},
    {"sep=;\na,b\n", 0, ',', "log.csv:1:5: ", "says that ';' delimits"},
    {"a,b\n1,2\r", 0, ',', "1:a|b log.csv:2:4: ", "carriage return"},
    {"a,b\n1,2\xB0\n", 0, ',', "1:a|b log.csv:2:4: ", "byte 0xB0 is not UTF-8"},
    {"p \xB0 C,b\n1,2\n", 0, ',', "log.csv:1:3: ", "byte 0xB0 is not UTF-8"},
    {"\xC2\xB0,\xC0\x80\n", 0, ',', "log.csv:1:3: ", "byte 0xC0 is not UTF-8"},
    {"a,\xED\xA0\x80\n", 0, ',', "log.csv:1:3: ", "byte 0xED is not UTF-8"},
    {"a,\xF4\x90\x80\x80\n", 0, ',', "log.csv:1:3: ", "byte 0xF4 is not UTF-8"},
    {"\xFF\xFE"
     "a\0,\0b\0\n\0",
     10, 0, "log.csv:1:1: ", "UTF-16"},
    {"\xFE\xFF\0a", 4, 0, "log.csv:1:1: ", "UTF-16"},
    {"a\0,\0b\0\n\0", 8, 0, "log.csv:1:2: ", "a NUL byte"},
    {"a,b;c\n1,2;3\n", 0, 0, "log.csv:1:1: ", "comma and semicolon"},
    {"a,b;c\td\n", 0, 0, "log.csv:1:1: ", "comma and semicolon and tab"},
    {"abc\n1\n", 0, 0, "log.csv:1:1: ", "no delimiter"},
};

static void refuses_by_name_and_place_in_pieces_of_any_size(void)
{
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        size_t size = refused[i].size > 0 ? refused[i].size : strlen(refused[i].bytes);
        for (size_t piece = 0; piece <= size; piece++) {
            char out[OUT_SIZE];
            read_table(refused[i].bytes, size, piece, refused[i].delimiter, 0, out);
            char begin[OUT_SIZE];
            (void)snprintf(begin, sizeof begin, "%.*s", (int)strlen(refused[i].place), out);
            CHECK_TEXT(begin, refused[i].place);
            CHECK_CONTAINS(out, refused[i].words);
        }
    }
}

static void goes_on_after_a_refused_row(void)
{
    static const char bytes[] = "a,b\n1\n3,4\n5,6,7\n8,9\n";
    struct memory_source memory = {(const unsigned char *)bytes, strlen(bytes), 0, 0};
    const struct table_format format = {.name = "log.csv", .delimiter = ','};
    struct text_table *table = NULL;
    struct table_row row = {0};
    struct fault fault = {.status = OK};
    int got = 0;
    size_t lines[4] = {0};
    size_t n = 0;
    size_t refusals = 0;

    CHECK_OK(text_table_open(memory_source_bytes(&memory), &format, &table, &fault), &fault);
    for (int i = 0; i < 6; i++) {
        enum status status = text_table_next(table, &row, &got, &fault);
        refusals += status == BAD_INPUT;
        if (status == OK && got && n < 4)
            lines[n++] = row.line;
    }
    CHECK(refusals == 2);
    CHECK(n == 3 && lines[0] == 1 && lines[1] == 3 && lines[2] == 5);
    text_table_close(table);
}

/* A header row, then a line of `length` bytes. */
static void read_long_line(size_t length, const char *end, char out[OUT_SIZE])
{
    static const char head[] = "a,b\n";
    size_t size = strlen(head) + length + strlen(end);
    char *bytes = malloc(size + 1);
    if (bytes == NULL) {
        CU_FAIL("no memory");
        return;
    }
    memset(bytes, '7', size);
    (void)snprintf(bytes, size + 1, "%s7,", head);
    bytes[strlen(bytes)] = '7'; /* the line goes on where snprintf ended the text */
    (void)snprintf(bytes + strlen(head) + length, strlen(end) + 1, "%s", end);
    struct memory_source memory = {(const unsigned char *)bytes, size, 0, 0};
    const struct table_format format = {.name = "log.csv", .delimiter = ','};
    struct text_table *table = NULL;
    struct table_row row = {0};
    struct fault fault = {.status = OK};
    int got = 0;
    CHECK_OK(text_table_open(memory_source_bytes(&memory), &format, &table, &fault), &fault);
    CHECK_OK(text_table_next(table, &row, &got, &fault), &fault);
    out[0] = '\0';
    if (text_table_next(table, &row, &got, &fault) != OK)
        fault_line(&fault, out, OUT_SIZE);
    else
        (void)snprintf(out, OUT_SIZE, "%zu", row.cells[1].length);
    text_table_close(table);
    free(bytes);
}

static void takes_a_line_of_a_mebibyte_and_no_more(void)
{
    static const char *const ends[] = {"\n", "\r\n", ""};
    for (size_t i = 0; i < 3; i++) {
        char out[OUT_SIZE];
        read_long_line(1048576, ends[i], out);
        CHECK_TEXT(out, "1048574");
        read_long_line(1048577, ends[i], out);
        CHECK_CONTAINS(out, "log.csv:2:1: the line is longer than 1 MiB");
    }
}

static void counts_columns_in_characters(void)
{
    static const char bytes[] = "\xC2\xB0\xC2\xB0,  b, \"c\"\n";
    struct memory_source memory = {(const unsigned char *)bytes, strlen(bytes), 0, 0};
    const struct table_format format = {.name = "log.csv", .delimiter = ','};
    struct text_table *table = NULL;
    struct table_row row = {0};
    struct fault fault = {.status = OK};
    int got = 0;
    CHECK_OK(text_table_open(memory_source_bytes(&memory), &format, &table, &fault), &fault);
    CHECK_OK(text_table_next(table, &row, &got, &fault), &fault);
    CHECK(got && row.n == 3);
    CHECK(text_table_column(table, 0) == 1);
    CHECK(text_table_column(table, 1) == 6);
    CHECK(text_table_column(table, 2) == 9);
    text_table_close(table);
}

CU_TestInfo text_table_tests[] = {
    {"accepts what it promises in pieces of any size",
     accepts_what_it_promises_in_pieces_of_any_size},
    {"refuses by name and place in pieces of any size",
     refuses_by_name_and_place_in_pieces_of_any_size},
    {"goes on after a refused row", goes_on_after_a_refused_row},
    {"takes a line of a mebibyte and no more", takes_a_line_of_a_mebibyte_and_no_more},
    {"counts columns in characters", counts_columns_in_characters},
    CU_TEST_INFO_NULL};
