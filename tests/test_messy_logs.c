/* test_messy_logs.c - logs as they come, each read into a season next to a tidy one: what is refused
 * is refused with its place and by its name, costs its own run only, and leaves the other's rows. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "ingest/byte_source.h"
#include "ingest/check_command.h"
#include "ingest/decoded_source.h"
#include "ingest/ingest_command.h"
#include "ingest/near_name.h"
#include "schema/point_statistics.h"
#include "schema/store.h"
#include "tests/check.h"
#include "tests/messy_cases.h"
#include "tests/messy_list.h"
#include "tests/scratch.h"
#include "tests/season_look.h"

enum { ANSWER = 16384, FILE_MOST = 4096 };

static const char season[] =
    "season: Test season\ncount: 0.001\npoint: one percent on the front axle\n"
    "car: {name: Curlew, model_scale: 0.5, reference_area: 0.40 m2, wheelbase: 1450 mm,\n"
    "      reference_area_source: drawing 7}\n"
    "facilities:\n"
    "  saltmarsh:\n"
    "    {test_section: closed, width: 3.2 m, height: 2.4 m, already_corrected: yes,\n"
    "     contains: \"body, wheels\", yaw_positive: air from left, humidity: absent,\n"
    "     freestream: given, corrections: {zero: none, weight_tare: none, buoyancy: none,\n"
    "     balance_follows: nothing, blockage: none, to_target: none}}\n"
    "attitudes: {tolerance: {yaw: 0.01 deg}, cap: {yaw: 0.1 deg}, capture: {yaw: 0.5 deg},\n"
    "            targets: [{name: straight, yaw: 0 deg, weight: 1}]}\n"
    "metrics: {downforce: {quantity: CL, better: higher, worthwhile: 0.010}}\n"
    "main_measure: {metric: downforce, attitude: weighted}\n"
    "map_attitude: straight\n"
    "limits: {zero_drift: 0.5, q_unsteady: 0.2 %, confidence: 95 %}\n"
    "channel_maps:\n"
    "  tidy:\n    delimiter: comma\n    rows: samples\n    columns: ";

static const char columns[] =
    "{t: {role: time, unit: s}, pt: {role: point}, CD: {role: drag_coefficient, unit: 1}, "
    "CL: {role: downforce_coefficient, unit: 1}}\n";

static const char runs[] =
    "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,mounting,note\n"
    "R1,saltmarsh,E1,2026-02-11T20:00:00+01:00,base,wind_on,,tidy=logs/tidy.csv,,,,\n"
    "R2,saltmarsh,E1,2026-02-11T20:30:00+01:00,base,wind_on,,messy=logs/messy.csv,,,,\n";

static int make_folder(char folder[SCRATCH_PATH])
{
    char path[SCRATCH_PATH + 8];
    if (!scratch_make(folder))
        return 0;
    (void)snprintf(path, sizeof path, "%s/logs", folder);
    return mkdir(path, 0777) == 0 && scratch_write(folder, "runs.csv", runs) &&
           scratch_write(folder, "configurations.csv",
                         "configuration,parent,change,note\nbase,,,\n") &&
           scratch_write(folder, "logs/tidy.csv",
                         "t,pt,CD,CL\n0,A,0.3,1.5\n1,A,0.31,1.5\n2,B,0.3,1.4\n");
}

/* campaign.yaml with the map of the case; what it does not say is as usual. */
static int write_campaign(const char *folder, const char *map)
{
    char text[8192];
    size_t used = (size_t)snprintf(text, sizeof text, "%s%s  messy:\n    ", season, columns);
    for (const char *at = map; *at != '\0'; at++)
        used +=
            (size_t)snprintf(text + used, sizeof text - used, *at == '|' ? "\n    " : "%c", *at);
    int has_rows = strstr(map, "rows: samples") != NULL || strstr(map, "rows: points") != NULL;
    (void)snprintf(text + used, sizeof text - used, "\n%s%s%s%s",
                   has_rows || strstr(map, "delimiter") != NULL ? "" : "    delimiter: comma\n",
                   has_rows ? "" : "    rows: samples\n",
                   strstr(map, "columns") != NULL ? "" : "    columns: ",
                   strstr(map, "columns") != NULL ? "" : columns);
    return scratch_write(folder, "campaign.yaml", text);
}

/* The characters as UTF-16; those beyond two bytes of UTF-8 do not occur. */
static size_t as_utf_16(const struct messy_case *log, unsigned char out[FILE_MOST])
{
    const unsigned char *text = (const unsigned char *)log->bytes;
    int is_big = log->form == MARKED_BIG || log->form == PLAIN_BIG;
    unsigned unit = 0xFEFF;
    size_t n = 0;
    size_t i = 0;
    size_t length = strlen(log->bytes);
    if (log->form == PLAIN_LITTLE || log->form == PLAIN_BIG)
        unit = text[i++];
    for (;;) {
        out[n + (is_big ? 0 : 1)] = (unsigned char)(unit >> 8);
        out[n + (is_big ? 1 : 0)] = (unsigned char)(unit & 0xFFU);
        n += 2;
        if (i >= length)
            return n;
        unit = text[i++];
        if (unit >= 0x80)
            unit = (unit & 0x1FU) << 6 | (text[i++] & 0x3FU);
    }
}

static int write_bytes(const char *folder, const char *name, const void *bytes, size_t size)
{
    char path[SCRATCH_PATH + 32];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *out = fopen(path, "wb");
    if (out == NULL)
        return 0;
    int done = fwrite(bytes, 1, size, out) == size;
    return fclose(out) == 0 && done;
}

static int write_log(const char *folder, const struct messy_case *log)
{
    unsigned char utf_16[FILE_MOST];
    size_t size = log->size > 0 ? log->size : strlen(log->bytes);
    if (log->form == AS_IT_IS)
        return write_bytes(folder, "logs/messy.csv", log->bytes, size);
    return write_bytes(folder, "logs/messy.csv", utf_16, as_utf_16(log, utf_16));
}

static struct store *open_season(const char *folder)
{
    char path[SCRATCH_PATH + 16];
    struct store *store = NULL;
    struct fault fault = {.status = OK};
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    CHECK_OK(store_open(path, STORE_READ_ONLY, &store, &fault), &fault);
    CU_ASSERT_FATAL(store != NULL);
    return store;
}

/* The rows of a query of one column, a line each. */
static void ask(struct store *store, const char *sql, char answer[ANSWER])
{
    struct statement *statement = NULL;
    struct fault fault = {.status = OK};
    size_t used = 0;
    int row = 0;
    answer[0] = '\0';
    CHECK_OK(statement_prepare(store, sql, &statement, &fault), &fault);
    while (statement != NULL && statement_step(statement, &row, &fault) == OK && row &&
           used < ANSWER / 2)
        used += (size_t)snprintf(answer + used, ANSWER - used, "%.4000s\n",
                                 statement_text(statement, 0));
    statement_free(statement);
}

static const char rows_of_tidy[] =
    "SELECT state || reason || ingest_key FROM run WHERE run = 'R1' UNION ALL "
    "SELECT file || map || sha256 || bytes || rows FROM log WHERE run = 'R1' UNION ALL "
    "SELECT column_name || role || unit || sign FROM channel WHERE run = 'R1' UNION ALL "
    "SELECT point || time_s || rows || quote(statistics) || quote(covariance) FROM point "
    "WHERE run = 'R1' UNION ALL SELECT rule || detail FROM flag_row WHERE run = 'R1'";

static void check_value(struct store *store, const struct messy_case *log)
{
    static const char sql[] = "SELECT statistics FROM point WHERE run = 'R2' ORDER BY sequence";
    struct channel_statistics channels[3] = {{0}}; /* the second is CL in every case */
    struct statement *statement = NULL;
    struct fault fault = {.status = OK};
    size_t size = 0;
    int row = 0;
    CHECK_OK(statement_prepare(store, sql, &statement, &fault), &fault);
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    CHECK(row);
    const void *blob = row ? statement_blob(statement, 0, &size) : NULL;
    size_t n = size / (STATISTICS_PER_CHANNEL * sizeof(double)) < 3 ? 2 : 3;
    if (blob != NULL)
        CHECK_OK(point_statistics_unpack(blob, size, channels, n, &fault), &fault);
    CHECK_NEAR(channels[1].mean, log->value, 1e-12 * (1 + fabs(log->value)), "identity");
    CHECK(channels[1].n_missing == log->missing);
    statement_free(statement);
}

/* What the season says of the messy run. */
static void check_messy_run(const char *folder, const struct messy_case *log)
{
    char answer[ANSWER];
    struct store *store = open_season(folder);
    struct fault fault = {.status = OK};
    ask(store, "SELECT state FROM run WHERE run = 'R2'", answer);
    CHECK_TEXT(answer, log->place != NULL ? "quarantined\n" : "ok\n");
    if (log->place != NULL) {
        char begin[ANSWER];
        ask(store, "SELECT reason FROM run WHERE run = 'R2'", answer);
        (void)snprintf(begin, sizeof begin, "logs/messy.csv%s", log->place);
        if (strncmp(answer, begin, strlen(begin)) != 0)
            CHECK_TEXT(answer, begin);
        CHECK_CONTAINS(answer, log->words);
        CHECK_CONTAINS(answer, "; "); /* what to do */
        ask(store, "SELECT point FROM point WHERE run = 'R2'", answer);
        CHECK_TEXT(answer, "");
    } else {
        check_value(store, log);
        ask(store, "SELECT rule || ' ' || state || ' ' || detail FROM flag_row WHERE run = 'R2'",
            answer);
        if (log->words == NULL)
            CHECK_TEXT(answer, "");
        else
            CHECK_CONTAINS(answer, log->words);
    }
    CHECK_OK(store_close(store, &fault), &fault);
}

/* Reads all and writes nothing: it says the same, and not a byte of the season is another one. */
static void check_only(const char *folder, const struct messy_case *log)
{
    char path[SCRATCH_PATH + 16];
    char before[DIGEST_TEXT];
    char after[DIGEST_TEXT];
    char *lines = calloc(1, GATHERED);
    struct check_result result;
    struct fault fault = {.status = OK};
    CU_ASSERT_FATAL(lines != NULL);
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    CHECK_OK(digest_file(path, before, &fault), &fault);
    CHECK_OK(check_folder(folder, gather_lines, lines, &result, &fault), &fault);
    CHECK_OK(digest_file(path, after, &fault), &fault);
    CHECK_TEXT(after, before);
    CHECK(result.sheet_problems == 0 && (result.log_problems > 0) == (log->place != NULL));
    if (log->place != NULL) {
        char begin[ANSWER];
        (void)snprintf(begin, sizeof begin, "logs/messy.csv%s", log->place);
        CHECK_CONTAINS(lines, begin);
        CHECK_CONTAINS(lines, log->words);
    }
    free(lines);
}

static void check_case(const char *folder, const struct messy_case *log, const char *tidy)
{
    const struct common_options common = {.folder = folder, .quiet = 1};
    char *arguments[] = {(char[]){"ingest"}, NULL};
    char now[ANSWER];
    struct fault fault = {.status = OK};
    unsigned failures = CU_get_number_of_failures();
    CHECK(write_campaign(folder, log->map) && write_log(folder, log));
    check_only(folder, log);
    int exit_status = ingest_command.run(&common, 1, arguments, &fault);
    CHECK(exit_status == (log->place != NULL ? 1 : 0));
    if (exit_status > 1)
        CHECK_TEXT(fault.text, "");
    else
        check_messy_run(folder, log);
    struct store *store = open_season(folder);
    ask(store, rows_of_tidy, now);
    CHECK_TEXT(now, tidy);
    CHECK_OK(store_close(store, &fault), &fault);
    if (CU_get_number_of_failures() > failures)
        CHECK_TEXT("the case that failed", log->name);
}

static void check_cases(const struct messy_case *logs, size_t n)
{
    static const struct messy_case first = {
        "usual", "", "t,pt,CD,CL\n0,A,0.3,1.5\n", 0, AS_IT_IS, NULL, NULL, 1.5, 0};
    const struct common_options common = {.quiet = 1};
    char folder[SCRATCH_PATH];
    char tidy[ANSWER];
    struct night_result result;
    struct fault fault = {.status = OK};
    struct common_options here = common;
    CU_ASSERT_FATAL(make_folder(folder));
    here.folder = folder;
    CHECK(write_campaign(folder, "") && write_log(folder, &first));
    CHECK_OK(ingest_folder(&here, &result, &fault), &fault);
    struct store *store = open_season(folder);
    ask(store, rows_of_tidy, tidy);
    CHECK_OK(store_close(store, &fault), &fault);
    for (size_t i = 0; i < n; i++)
        check_case(folder, &logs[i], tidy);
    scratch_remove(folder);
}

static void messy_text_is_read_or_refused_by_name(void)
{
    check_cases(messy_texts, messy_texts_n);
}

static void messy_numbers_are_read_or_refused_by_name(void)
{
    check_cases(messy_numbers, messy_numbers_n);
}

static void messy_shapes_are_read_or_refused_by_name(void)
{
    check_cases(messy_shapes, messy_shapes_n);
}

static void messy_units_are_read_or_refused_by_name(void)
{
    check_cases(messy_units, messy_units_n);
}

static void rows_become_points_or_are_refused_by_name(void)
{
    check_cases(messy_points, messy_points_n);
}

static void messy_times_are_read_or_refused_by_name(void)
{
    check_cases(messy_times, messy_times_n);
}

static const struct messy_case *table_of(size_t i, size_t *n)
{
    const struct messy_case *const tables[] = {messy_texts,  messy_numbers, messy_times,
                                               messy_points, messy_shapes,  messy_units};
    const size_t sizes[] = {messy_texts_n,  messy_numbers_n, messy_times_n,
                            messy_points_n, messy_shapes_n,  messy_units_n};
    *n = i < sizeof sizes / sizeof sizes[0] ? sizes[i] : 0;
    return *n > 0 ? tables[i] : NULL;
}

static size_t count_named(const char *name)
{
    size_t found = 0;
    size_t n = 0;
    for (size_t t = 0; table_of(t, &n) != NULL; t++)
        for (size_t i = 0; i < n; i++)
            found += strcmp(table_of(t, &n)[i].name, name) == 0;
    return found;
}

/* One fixture a class: no name twice, and none serves two classes of the list. */
static void every_class_of_the_list_has_its_own_fixture(void)
{
    size_t fixtures = 0;
    size_t n = 0;
    for (size_t t = 0; table_of(t, &n) != NULL; t++)
        for (size_t i = 0; i < n; i++, fixtures++)
            if (count_named(table_of(t, &n)[i].name) != 1)
                CHECK_TEXT("a name that is not alone", table_of(t, &n)[i].name);
    for (size_t i = 0; i < messy_realities_n; i++) {
        if (count_named(messy_realities[i].fixture) != 1)
            CHECK_TEXT("no fixture", messy_realities[i].fixture);
        for (size_t k = 0; k < i; k++)
            if (strcmp(messy_realities[i].fixture, messy_realities[k].fixture) == 0)
                CHECK_TEXT("a fixture of two classes", messy_realities[i].fixture);
    }
    (void)printf("%zu classes of messy logs, %zu fixtures\n", messy_realities_n, fixtures);
    CHECK(messy_realities_n >= MESSY_CLASSES_MIN);
}

/* The logger writes on between the opening of the file and the end of its reading. */
static void a_growing_file_is_told_from_one_at_rest(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    char digest[DIGEST_TEXT];
    struct file_source *source = NULL;
    struct fault fault = {.status = OK};
    CU_ASSERT_FATAL(scratch_make(folder));
    (void)snprintf(path, sizeof path, "%s/a.csv", folder);
    CHECK(scratch_write(folder, "a.csv", "t,pt\n0,A\n"));
    for (int grows = 0; grows <= 1; grows++) {
        CHECK_OK(file_source_open(path, "a.csv", &source, &fault), &fault);
        CU_ASSERT_FATAL(source != NULL);
        if (grows)
            CHECK(scratch_write(folder, "a.csv", "t,pt\n0,A\n1,A\n"));
        CHECK_OK(file_source_digest(source, digest, &fault), &fault);
        CHECK(file_source_settled(source, &fault) == (grows ? BAD_INPUT : OK));
        file_source_close(source);
    }
    CHECK_CONTAINS(fault.text, "still being written: 9 bytes when it was opened, 13 read, 13 now");
    CHECK_TEXT(fault.where, "a.csv");
    scratch_remove(folder);
}

/* Characters of 1 to 4 bytes, more of them than one block of the decoder holds. */
static void utf_16_is_the_same_text_in_pieces_of_any_size(void)
{
    static const char four[] = "a\xC2\xB0\xE2\x82\xAC\xF0\x9D\x84\x9E";
    static const unsigned char units[] = {'a', 0, 0xB0, 0, 0xAC, 0x20, 0x34, 0xD8, 0x1E, 0xDD};
    enum { REPEATS = 9000, TEXT = sizeof four - 1, UNITS = sizeof units };
    static const size_t pieces[] = {0, 1, 2, 3, 5, 32767};
    unsigned char *bytes = malloc(2 + (size_t)REPEATS * UNITS);
    unsigned char *text = malloc((size_t)REPEATS * TEXT + 1);
    CU_ASSERT_FATAL(bytes != NULL && text != NULL);
    bytes[0] = 0xFF;
    bytes[1] = 0xFE;
    for (size_t i = 0; i < REPEATS; i++)
        memcpy(bytes + 2 + i * UNITS, units, UNITS);
    for (size_t k = 0; k < sizeof pieces / sizeof pieces[0]; k++) {
        struct memory_source memory = {bytes, 2 + (size_t)REPEATS * UNITS, 0, pieces[k]};
        struct decoded_source *decoded = NULL;
        struct fault fault = {.status = OK};
        size_t got = 1;
        size_t n = 0;
        int differs = 0;
        CHECK_OK(decoded_source_open(memory_source_bytes(&memory), ENCODING_BY_MARK, "a", &decoded,
                                     &fault),
                 &fault);
        CU_ASSERT_FATAL(decoded != NULL);
        struct byte_source source = decoded_source_bytes(decoded);
        while (got > 0 && n < (size_t)REPEATS * TEXT + 1) {
            CHECK_OK(
                source.read(source.context, text + n, (size_t)REPEATS * TEXT + 1 - n, &got, &fault),
                &fault);
            n += got;
        }
        CHECK(n == (size_t)REPEATS * TEXT);
        for (size_t i = 0; i < n; i++)
            differs += text[i] != (unsigned char)four[i % TEXT];
        CHECK(differs == 0);
        decoded_source_close(decoded);
    }
    free(bytes);
    free(text);
}

static void keys_of_the_map_are_checked(void)
{
    static const struct {
        const char *map, *told;
    } maps[] = {
        {"sentinels: -999", "sentinels needs a list of the numbers that mean 'no value'"},
        {"sentinels: [-999, none]", "sentinel 'none' is not a number; texts belong under missing"},
        {"encoding: latin-1", "latin-1"},
        {"trailing_cells: drop", "drop"},
        {"clock_wraps: maybe", "maybe"},
    };
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(make_folder(folder));
    for (size_t i = 0; i < sizeof maps / sizeof maps[0]; i++) {
        struct campaign *campaign = NULL;
        struct fault fault = {.status = OK};
        CHECK(write_campaign(folder, maps[i].map));
        CHECK(campaign_read(folder, &campaign, NULL, NULL, &fault) == BAD_INPUT);
        CHECK_CONTAINS(fault.text, maps[i].told);
        campaign_free(campaign);
    }
    scratch_remove(folder);
}

static void near_names_are_told_apart(void)
{
    static const struct {
        const char *wanted, *seen, *difference;
    } names[] = {
        {"Balance R1", "balance r1", "in capitals"},
        {"Balance R1", "Balance_R1", "in blanks, underscores, hyphens or points"},
        {"Balance R1", "Balance\xC2\xA0R1", "in an invisible character"},
        {"static pressure", "static pres", "by being cut short"},
        {"static pressure", "static presure", "in a letter or two"},
        {"R1", "R2", NULL},
        {"floor T047", "floor T048", NULL},
        {"floor T047", "flor T047", "in a letter or two"},
        {"CD", "CD", NULL},
    };
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        const char *told = near_name_difference(names[i].wanted, strlen(names[i].wanted),
                                                names[i].seen, strlen(names[i].seen));
        CHECK_TEXT(told != NULL ? told : "-",
                   names[i].difference != NULL ? names[i].difference : "-");
    }
}

CU_TestInfo messy_logs_tests[] = {
    {"messy text is read or refused by name", messy_text_is_read_or_refused_by_name},
    {"messy shapes are read or refused by name", messy_shapes_are_read_or_refused_by_name},
    {"messy units are read or refused by name", messy_units_are_read_or_refused_by_name},
    {"messy numbers are read or refused by name", messy_numbers_are_read_or_refused_by_name},
    {"messy times are read or refused by name", messy_times_are_read_or_refused_by_name},
    {"rows become points or are refused by name", rows_become_points_or_are_refused_by_name},
    {"every class of the list has its own fixture", every_class_of_the_list_has_its_own_fixture},
    {"a growing file is told from one at rest", a_growing_file_is_told_from_one_at_rest},
    {"UTF-16 is the same text in pieces of any size",
     utf_16_is_the_same_text_in_pieces_of_any_size},
    {"keys of the map are checked", keys_of_the_map_are_checked},
    {"near names are told apart", near_names_are_told_apart},
    CU_TEST_INFO_NULL};
