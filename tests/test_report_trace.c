/* test_report_trace.c - kept samples in words, tables and pictures. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/chart_spectrum.h"
#include "report/chart_trace.h"
#include "report/csv_out.h"
#include "tests/check.h"
#include "tests/noise.h"
#include "tests/test_report_fixture.h"
#include "tests/test_report_made.h"

enum { BINS = 60, ROWS_A_BIN = 4, DENSITIES = 33 };

static struct kept_bin bins[BINS];
static struct kept_mark marks[] = {{30, 30}, {100, 139}};
static double density[DENSITIES];
static char run[] = "R1", point[] = "P2", channel[] = "R3 <b>", reason[] = "stuck";

/* 240 rows, 0.05 s apart; bin 40 has no sample. */
static struct kept_trace made_trace(void)
{
    uint64_t state = 4;
    struct kept_trace trace = {.run = run,
                               .point = point,
                               .channel = channel,
                               .reason = reason,
                               .unit = "mV/V",
                               .severity = 3,
                               .step = 0.05,
                               .mean = 5,
                               .sd = 1,
                               .mean_without = 5.25,
                               .peak = 9.5,
                               .rows = 240,
                               .rows_a_bin = ROWS_A_BIN,
                               .marked_rows = 41,
                               .peak_row = 30,
                               .bins = bins,
                               .n_bins = BINS,
                               .marks = marks,
                               .n_marks = 2,
                               .segment_rows = 64,
                               .segments = 6,
                               .degrees_of_freedom = 11,
                               .lower_factor = 0.5,
                               .upper_factor = 2.9,
                               .density = density,
                               .n_densities = DENSITIES};
    for (size_t b = 0; b < BINS; b++) {
        double mean = 5 + noise_normal(&state);
        bins[b] = (struct kept_bin){ROWS_A_BIN, mean - 0.5, mean, mean + 0.25 + 0.01 * (double)b};
    }
    bins[7].maximum = 9.5; /* row 30 is in it */
    bins[40] = (struct kept_bin){0, (double)NAN, (double)NAN, (double)NAN};
    for (size_t k = 0; k < DENSITIES; k++)
        density[k] = pow(10, -3 - 2.5 * (double)k / DENSITIES);
    return trace;
}

static char *drawn(void (*draw)(struct html *, const struct kept_trace *, const char *),
                   const struct kept_trace *trace)
{
    struct html page = {0};
    struct fault fault = {.status = OK};
    draw(&page, trace, "what it is");
    CHECK_OK(html_status(&page, &fault), &fault);
    char *text = strdup(buffer_string(&page.out));
    CU_ASSERT_FATAL(text != NULL);
    html_free(&page);
    return text;
}

/* Where things lie is read in test_drawn_trace.c; here a channel's name is hostile, and a bin is empty. */
static void names_and_gaps_do_no_harm(void)
{
    struct kept_trace trace = made_trace();
    char *svg = drawn(chart_trace, &trace);
    CHECK_CONTAINS(svg, "R3 &lt;b&gt;, mV/V");
    CHECK_CONTAINS(svg, "40 rows, from 5 to 6.95 s");
    CHECK(strstr(svg, "<b>") == NULL && strstr(svg, "nan") == NULL);
    free(svg);
}

static void nothing_is_drawn_of_no_spectrum(void)
{
    struct kept_trace trace = made_trace();
    trace.n_densities = 0;
    trace.segments = 0;
    char *svg = drawn(chart_spectrum, &trace);
    CHECK_TEXT(svg, "");
    free(svg);
}

static void sentences_say_where_how_large_and_what_it_moves(void)
{
    static const struct {
        const char *reason, *sentence;
    } cases[] = {
        {"spikes",
         "R3 <b> at R1/P2: 41 of 240 samples stand out; the farthest of them, 1.50 s into "
         "the point, is 4.5 standard deviations of the point from its mean; the mean is "
         "5.00 mV/V with them and 5.25 mV/V without: moved by -0.25 standard deviations."},
        {"stuck", "R3 <b> at R1/P2: 41 of 240 samples in a row are the same, from 1.50 s into the "
                  "point; the mean is 5.00 mV/V with them and 5.25 mV/V without: moved by -0.25 "
                  "standard deviations."},
        {"clipped",
         "R3 <b> at R1/P2: 41 of 240 samples lie at an end of the record, the first 1.50 s "
         "into the point; what the mean would be without the end is not known."},
        {"noise-unusual",
         "R3 <b> at R1/P2: the standard deviation within the point is 1.00 mV/V; "
         "the farthest sample, 1.50 s into the point, is 4.5 of them from the mean."},
        {"q-unsteady", "R3 <b> at R1/P2: the standard deviation is 20.00 % of the mean; the "
                       "farthest sample, 1.50 s into the point, is 90.00 % from it."},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char sentence[KEPT_SENTENCE];
        char word[32];
        struct kept_trace trace = made_trace();
        (void)snprintf(word, sizeof word, "%s", cases[i].reason);
        trace.reason = word;
        kept_trace_say(&trace, sentence);
        CHECK_TEXT(sentence, cases[i].sentence);
    }
    struct kept_trace one = made_trace();
    char spikes[] = "spikes";
    double n = 0;
    for (size_t b = 0; b < one.n_bins; b++)
        n += one.bins[b].n;
    one.reason = spikes;
    one.marked_rows = 1;
    one.n_marks = 1;
    one.marks[0] = (struct kept_mark){120, 120};
    one.mean_without = one.mean - 3 * one.sd / (n - 1); /* the marked one is 3 of them above it */
    char told[KEPT_SENTENCE];
    kept_trace_say(&one, told);
    CHECK_CONTAINS(told, "1 of 240 samples stands out, 6.00 s into the point, 3.0 standard "
                         "deviations of the point from its mean; the mean is 5.00 mV/V with it");
    one.marks[0] = (struct kept_mark){30, 30};
    kept_trace_say(&one, told);
    CHECK_CONTAINS(told, "stands out, 1.50 s into the point, 4.5 standard deviations");
    one.marked_rows = 2;
    one.marks[0] = (struct kept_mark){120, 121};
    kept_trace_say(&one, told);
    CHECK_CONTAINS(told, "2 of 240 samples stand out; the first, 6.00 s into the point; the mean");
    struct kept_trace still = made_trace();
    char sentence[KEPT_SENTENCE];
    still.sd = 0;
    kept_trace_say(&still, sentence);
    CHECK_TEXT(sentence, "R3 <b> at R1/P2: the mean of its 240 rows is 5.00 mV/V.");
}

static void lines_hold_whole_bins(void)
{
    struct kept_trace trace = made_trace();
    struct kept_bin lines[40];
    size_t rows = 0;
    double n = 0, sum = 0, all = 0, total = 0;
    size_t got = kept_trace_thin(&trace, 40, lines, &rows);
    CHECK(got == 30 && rows == (size_t)2 * ROWS_A_BIN);
    for (size_t i = 0; i < got; i++) {
        n += lines[i].n;
        sum += lines[i].n * lines[i].mean;
    }
    for (size_t b = 0; b < BINS; b++) {
        if (bins[b].n == 0)
            continue;
        all += bins[b].n;
        total += bins[b].n * bins[b].mean;
    }
    CHECK(n == all);
    CHECK_RELATIVE(sum / n, total / all, 1e-14, "identity: mean of means by their counts");
    CHECK(lines[3].maximum == 9.5); /* of bins 6 and 7 */
}

/* A stuck channel of the fixture's run R103 at point 4. */
static const char a_trace[] =
    "INSERT OR REPLACE INTO channel (run, position, log_position, column_name, role, unit, "
    "written_unit, sign) VALUES ('R103', 2, 0, 'R3 <script>', 'balance_output_3', 'm', 'mm', 1);"
    "INSERT INTO trace VALUES ('R103', '4', 2, 'stuck', 9, 0.01, 6, 1, 0.0125, 0.0005, 0.012, 2, "
    "0.0135, 4, NULL, NULL, NULL, NULL, NULL);"
    "INSERT INTO trace_bin WITH b(i) AS (VALUES (0), (1), (2), (3), (4), (5)) SELECT 'R103', '4', "
    "2, i, 1, 0.012 + 0.0001 * i, 0.012 + 0.0001 * i, 0.012 + 0.0001 * i FROM b;"
    "INSERT INTO trace_mark VALUES ('R103', '4', 2, 0, 2, 3)";
static const char its_flag[] =
    "INSERT INTO flag_row (run, point, subject, rule, state, unit, detail) VALUES ('R103', '4', "
    "'R3 <script>', 'stuck', 'failed', 'm', 'it stands still')";

static void the_page_shows_it_below_its_flag(void)
{
    char *text = report_page_after(a_trace, its_flag);
    const char *flag = text != NULL ? strstr(text, "it stands still") : NULL;
    CHECK(flag != NULL);
    flag = flag != NULL ? flag : "";
    CHECK_CONTAINS(flag, "<details class=\"trace\"><summary>Its samples: R3 &lt;script&gt; at "
                         "R103/4</summary>");
    CHECK_CONTAINS(flag, "2 of 6 samples in a row are the same, from 0.02 s into the point; the "
                         "mean is 12.500 mm with them and 12.000 mm without: moved by +1 standard "
                         "deviations.");
    CHECK_CONTAINS(flag, "<td>12.300</td>");
    CHECK_CONTAINS(flag, "No spectrum:");
    CHECK(text != NULL && strstr(text, "R3 <script>") == NULL);
    free(text);
}

static void a_trace_without_a_flag_is_not_shown(void)
{
    char *text = report_page_after(a_trace, NULL);
    CHECK(text != NULL && strstr(text, "class=\"trace\"") == NULL);
    free(text);
}

/* Header and units, then the six bins of the flagged channel; none while nothing flags it. */
static void the_table_has_what_a_flag_is_about(void)
{
    struct store *store = NULL;
    struct fault fault = {.status = OK};
    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    CHECK_OK(store_execute(store, a_trace, &fault), &fault);
    for (size_t is_flagged = 0; is_flagged < 2; is_flagged++) {
        struct buffer out = {0};
        size_t lines = 0;
        CHECK_OK(csv_write(store, &csv_traces, &out, &fault), &fault);
        for (const char *c = buffer_string(&out); *c != '\0'; c++)
            lines += *c == '\n';
        CHECK(lines == 2 + 6 * is_flagged);
        if (is_flagged)
            CHECK_CONTAINS(buffer_string(&out),
                           "\"R103\",\"4\",\"R3 <script>\",\"balance_output_3\",\"stuck\",\"m\","
                           "0.01,0.02,1,0.0121,0.0121,0.0121\n");
        buffer_free(&out);
        CHECK_OK(store_execute(store, its_flag, &fault), &fault);
    }
    CHECK_OK(store_close(store, &fault), &fault);
}

extern CU_TestInfo report_trace_tests[];
CU_TestInfo report_trace_tests[] = {
    {"names and gaps do no harm", names_and_gaps_do_no_harm},
    {"nothing is drawn of no spectrum", nothing_is_drawn_of_no_spectrum},
    {"sentences say where, how large, and what it moves",
     sentences_say_where_how_large_and_what_it_moves},
    {"lines hold whole bins", lines_hold_whole_bins},
    {"the page shows it below its flag", the_page_shows_it_below_its_flag},
    {"a trace without a flag is not shown", a_trace_without_a_flag_is_not_shown},
    {"the table has what a flag is about", the_table_has_what_a_flag_is_about},
    CU_TEST_INFO_NULL};
