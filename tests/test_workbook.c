/* test_workbook.c - the workbook, read back by Python's own zip and XML readers and compared with the tables;
 * the same bytes twice; a disk that is full. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "report/workbook.h"
#include "schema/number.h"
#include "tests/check.h"
#include "tests/csv_look.h"
#include "tests/scratch.h"
#include "tests/test_report_fixture.h"

enum { LINE = 4096 };

static int open_night(struct store **store, char folder[SCRATCH_PATH])
{
    struct fault fault = {0};
    *store = NULL;
    CHECK(scratch_make(folder));
    CHECK_OK(report_fixture_open(":memory:", "=2+3", store, &fault), &fault);
    return *store != NULL;
}

static char *book_in(const char *folder, char path[SCRATCH_PATH + 32])
{
    (void)snprintf(path, SCRATCH_PATH + 32, "%s/night.xlsx", folder);
    return path;
}

/* Decimals of a format: "0" 0, "0.000" 3; -1 without one. */
static int decimals_of(const char *format)
{
    if (format[0] == '\0')
        return -1;
    const char *point = strchr(format, '.');
    return point == NULL ? 0 : (int)strlen(point + 1);
}

struct reading {
    const struct csv_look *deltas;
    size_t cells, wrong, formulas, badly_rounded, frozen, equals;
    int is_dated;
};

/* A number has as many decimals as two figures of the half width need. */
static int is_rounded_well(const struct csv_look *deltas, size_t row, const char *format)
{
    const char *cell = csv_look_cell(deltas, row, csv_look_column(deltas, "half_width"));
    double half = 0;
    if (number_parse(cell, strlen(cell), '.', &half, NULL) != NUMBER_OK)
        return decimals_of(format) == -1;
    int decimals = decimals_of(format);
    double shown = half * pow(10, decimals);
    return decimals == 0 ? shown >= 10 : shown >= 10 && shown < 100;
}

/* A cell of the sheet Deltas against the CSV's; its marks come off by the tabs. */
static void take_delta(struct reading *reading, char *const fields[6])
{
    size_t row = (size_t)strtoul(fields[1], NULL, 10);
    size_t column = (size_t)strtoul(fields[2], NULL, 10);
    const char *want = csv_look_cell(reading->deltas, row, column);
    double a = 0;
    double b = 0;
    reading->cells++;
    if (strcmp(fields[3], "s") == 0) {
        int is_marked = want[0] == '\'';
        reading->equals += (size_t)is_marked;
        reading->wrong += strcmp(fields[5], want + is_marked) != 0;
        return;
    }
    int is_number = number_parse(fields[5], strlen(fields[5]), '.', &a, NULL) == NUMBER_OK &&
                    number_parse(want, strlen(want), '.', &b, NULL) == NUMBER_OK;
    reading->wrong += !is_number || fabs(a - b) > 1e-15 * fabs(b);
    if (column == csv_look_column(reading->deltas, "delta"))
        reading->badly_rounded += !is_rounded_well(reading->deltas, row, fields[4]);
}

static void take_line(struct reading *reading, char *line)
{
    char *fields[6] = {line, NULL};
    size_t n = 1;
    line[strcspn(line, "\n")] = '\0';
    for (char *at = line; *at != '\0' && n < 6; at++)
        if (*at == '\t') {
            *at = '\0';
            fields[n++] = at + 1;
        }
    if (n == 4 && strcmp(fields[1], "frozen") == 0)
        reading->frozen += strcmp(fields[2], "2") == 0 && strcmp(fields[3], "1") == 0;
    else if (n == 2 && strcmp(fields[0], "created") == 0)
        reading->is_dated = strcmp(fields[1], "2026-02-12T02:45:00Z") == 0;
    else if (n == 6) {
        reading->formulas += strcmp(fields[3], "formula") == 0;
        if (strcmp(fields[0], "Deltas") == 0)
            take_delta(reading, fields);
    }
}

static void read_book(const char *path, struct reading *reading)
{
    char command[SCRATCH_PATH + 80];
    char *line = calloc(LINE, 1);
    (void)snprintf(command, sizeof command, "python3 tests/read_workbook.py %s", path);
    FILE *in = popen(command, "r");
    CHECK(in != NULL && line != NULL);
    while (in != NULL && line != NULL && fgets(line, LINE, in) != NULL)
        take_line(reading, line);
    CHECK(in != NULL && pclose(in) == 0);
    free(line);
}

static size_t filled(const struct csv_look *look)
{
    size_t n = 0;
    for (size_t i = 0; i < look->n; i++)
        n += look->cells[i][0] != '\0';
    return n;
}

static void the_workbook_reads_back(void)
{
    char folder[SCRATCH_PATH];
    struct store *store = NULL;
    struct buffer text = {0};
    struct csv_look look = {.cells = NULL};
    struct fault fault = {0};
    if (open_night(&store, folder)) {
        char path[SCRATCH_PATH + 32];
        CHECK_OK(workbook_write(store, book_in(folder, path), 0, &fault), &fault);
        CHECK_OK(csv_write(store, &csv_deltas, &text, &fault), &fault);
        csv_look_read(buffer_string(&text), ',', &look);
        struct reading reading = {.deltas = &look};
        read_book(path, &reading);
        CHECK(reading.cells == filled(&look) && reading.cells > 5000);
        CHECK(reading.wrong == 0);
        CHECK(reading.formulas == 0 && reading.equals > 0);
        CHECK(reading.badly_rounded == 0);
        CHECK(reading.frozen == 5); /* no Budget in this night */
        CHECK(reading.is_dated);
    }
    csv_look_end(&look);
    buffer_free(&text);
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folder);
}

static void the_same_night_gives_the_same_bytes(void)
{
    char folder[SCRATCH_PATH];
    struct store *store = NULL;
    struct fault fault = {0};
    if (open_night(&store, folder)) {
        char path[SCRATCH_PATH + 32];
        char command[3 * SCRATCH_PATH];
        CHECK_OK(workbook_write(store, book_in(folder, path), 0, &fault), &fault);
        (void)snprintf(command, sizeof command, "mv %s/night.xlsx %s/first", folder, folder);
        CHECK(system(command) == 0);
        (void)sleep(2); /* a clock in the file would show */
        CHECK_OK(workbook_write(store, path, 0, &fault), &fault);
        (void)snprintf(command, sizeof command, "cmp %s/first %s/night.xlsx", folder, folder);
        CHECK(system(command) == 0);
        (void)snprintf(command, sizeof command, "test $(ls %s | wc -l) = 2", folder);
        CHECK(system(command) == 0); /* nothing beside */
    }
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folder);
}

/* In a process of its own: files may not grow beyond the limit. The library writes its parts to files first
 * and does not notice; the packed file alone would fit. */
static int status_with_limit(struct store *store, const char *path, rlim_t limit)
{
    pid_t child = fork();
    int code = 0;
    if (child == 0) {
        struct rlimit most = {limit, limit};
        struct fault fault = {0};
        (void)signal(SIGXFSZ, SIG_IGN);
        if (setrlimit(RLIMIT_FSIZE, &most) != 0)
            _exit(99);
        _exit((int)workbook_write(store, path, 0, &fault));
    }
    if (child < 0 || waitpid(child, &code, 0) != child || !WIFEXITED(code))
        return -1;
    return WEXITSTATUS(code);
}

static void a_full_disk_leaves_what_was_there(void)
{
    char folder[SCRATCH_PATH];
    struct store *store = NULL;
    struct fault fault = {0};
    if (open_night(&store, folder)) {
        char path[SCRATCH_PATH + 32];
        CHECK(scratch_write(folder, "night.xlsx", "before"));
        book_in(folder, path);
        for (rlim_t limit = 4096; limit <= 262144; limit *= 4)
            CHECK(status_with_limit(store, path, limit) == (int)WRITE_FAILED);
        char *text = scratch_read(folder, "night.xlsx");
        CHECK_TEXT(text, "before");
        free(text);
        CHECK(workbook_write(store, "/proc/none/night.xlsx", 0, &fault) == WRITE_FAILED);
        CHECK_CONTAINS(fault.text, "/proc/none/night.xlsx");
    }
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folder);
}

static void damage_is_seen(void)
{
    char folder[SCRATCH_PATH];
    struct store *store = NULL;
    struct fault fault = {0};
    if (open_night(&store, folder)) {
        char path[SCRATCH_PATH + 32];
        CHECK_OK(workbook_write(store, book_in(folder, path), 0, &fault), &fault);
        FILE *in = fopen(path, "rb");
        unsigned char *bytes = calloc(1 << 22, 1);
        size_t size = in != NULL && bytes != NULL ? fread(bytes, 1, 1 << 22, in) : 0;
        CHECK(size > 10000 && workbook_is_whole(bytes, size));
        for (size_t cut = 0; bytes != NULL && cut < size; cut += size / 7)
            CHECK(!workbook_is_whole(bytes, cut));
        for (size_t at = 200; bytes != NULL && at < size / 2; at += size / 11) {
            bytes[at] ^= 0x10;
            CHECK(!workbook_is_whole(bytes, size));
            bytes[at] ^= 0x10;
        }
        free(bytes);
        CHECK(in != NULL && fclose(in) == 0);
    }
    CHECK_OK(store_close(store, &fault), &fault);
    scratch_remove(folder);
}

static void digits_follow_the_uncertainty(void)
{
    static const struct {
        const struct csv_table *table;
        const char *column, *by; /* NULL: none */
    } cases[] = {{&csv_deltas, "delta", "half_width"},
                 {&csv_deltas, "mountings", NULL},
                 {&csv_points, "drag_coefficient", "drag_coefficient_u"},
                 {&csv_points, "target_drag_coefficient", "drag_coefficient_u"},
                 {&csv_points, "drag_coefficient_u", "drag_coefficient_u"},
                 {&csv_points, "mach", NULL},
                 {&csv_observations, "delta", "one_mounting_sd"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        for (size_t k = 0; k < cases[i].table->n; k++) {
            if (strcmp(cases[i].table->columns[k].name, cases[i].column) != 0)
                continue;
            int by = workbook_uncertainty(cases[i].table, k);
            CHECK((by >= 0) == (cases[i].by != NULL));
            if (by >= 0 && cases[i].by != NULL)
                CHECK_TEXT(cases[i].table->columns[by].name, cases[i].by);
        }
}

CU_TestInfo workbook_tests[] = {
    {"the workbook reads back", the_workbook_reads_back},
    {"the same night gives the same bytes", the_same_night_gives_the_same_bytes},
    {"a full disk leaves what was there", a_full_disk_leaves_what_was_there},
    {"damage is seen", damage_is_seen},
    {"digits follow the uncertainty", digits_follow_the_uncertainty},
    CU_TEST_INFO_NULL};
