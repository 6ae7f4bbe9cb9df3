/* test_traces.c - traces in the season: what a log leaves there, and that it goes with its run. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/explain_trace.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"
#include "tests/season_look.h"

/* A row of run R2's log with another value in R1's column, which is the third cell. */
static void spoil(const char *folder, int row, const char *value)
{
    char *text = scratch_read(folder, "logs/r2.csv");
    CHECK(text != NULL);
    if (text == NULL)
        return;
    size_t at = 0;
    for (int i = 0; i < row + 2; i++)
        at += strcspn(text + at, "\n") + 1;
    for (int i = 0; i < 2; i++)
        at += strcspn(text + at, ",") + 1;
    for (const char *c = value; *c != '\0'; c++)
        text[at++] = *c;
    CHECK(scratch_write(folder, "logs/r2.csv", text));
    free(text);
}

static void a_spike_leaves_its_trace(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    spoil(folder, 80 + 40, "9.00000"); /* the second point's 41st row */
    struct store *store = memory_season();
    (void)season_ingest(store, folder, 2, season_later);
    check_season(store,
                 "SELECT run, point, position, reason, rows, rows_a_bin, marked_rows, peak, "
                 "peak_row, round(step_s, 9) FROM trace",
                 10, "R2|P2|0|spikes|80|1|1|9.0|40|0.02\n");
    check_season(store, "SELECT run, point, mark, first_row, last_row FROM trace_mark", 5,
                 "R2|P2|0|40|40\n");
    check_season(store, "SELECT count(*), sum(n), max(maximum) FROM trace_bin", 3, "80|80|9.0\n");
    check_season(store,
                 "SELECT abs(sum(b.n * b.mean) / sum(b.n) - t.mean) < 1e-12, "
                 "abs((sum(b.mean) - 9) / 79 - t.mean_without) < 1e-12 FROM trace AS t "
                 "JOIN trace_bin AS b ON b.run = t.run GROUP BY t.run",
                 2, "1|1\n");
    /* 80 rows: segments of 16; 50 Hz: 0 to 25 Hz */
    check_season(store,
                 "SELECT segment_rows, segments, count(*), max(frequency_hz) FROM trace "
                 "JOIN spectrum USING (run, point, position)",
                 4, "16|9|9|25.0\n");
    check_season(store,
                 "SELECT channel, round(from_s, 9), round(to_s, 9), maximum FROM trace_thinned "
                 "ORDER BY maximum DESC LIMIT 1",
                 4, "R1|0.8|0.82|9.0\n");
    CHECK(scratch_edit(folder, "runs.csv", "R2,saltmarsh", "R3,saltmarsh"));
    (void)season_ingest(store, folder, 2, season_later);
    check_season(store, "SELECT DISTINCT t.run, b.run FROM trace AS t JOIN trace_bin AS b", 2,
                 "R3|R3\n");
    check_season(store, "SELECT DISTINCT m.run, s.run FROM trace_mark AS m JOIN spectrum AS s", 2,
                 "R3|R3\n");
    end_season(store);
    scratch_remove(folder);
}

static void explain_prints_what_is_kept_and_names_it(void)
{
    char folder[SCRATCH_PATH];
    struct key_text text;
    struct fault fault = {.status = OK};
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    spoil(folder, 80 + 40, "9.00000");
    struct store *store = memory_season();
    (void)season_ingest(store, folder, 2, season_later);
    CHECK_OK(explain_trace(store, "R2", "P2", "balance_output_1", &text, &fault), &fault);
    CHECK_CONTAINS(text.text, "R1 of run R2 point P2\n  kept because of: spikes\n");
    CHECK_CONTAINS(text.text, "1 of 80 samples stands out, 0.80 s into the point, 8.8 standard "
                              "deviations of the point from its mean");
    CHECK_CONTAINS(text.text, "first row: 0.8\n");
    CHECK_CONTAINS(text.text, "9 segments of 16 rows");
    size_t lines = 0;
    for (const char *c = text.text; *c != '\0'; c++)
        lines += *c == '\n';
    CHECK(lines == 4 + 4 + 2 + 40); /* head, spectrum, heads of the table, two rows a line */
    key_text_end(&text);
    CHECK(explain_trace(store, "R2", "P2", "R5", &text, &fault) == NOT_FOUND);
    CHECK_CONTAINS(fault.text, "no samples of 'R5' are kept at point 'P2' of run R2; kept are "
                               "those of P2 R1;");
    key_text_end(&text);
    CHECK(explain_trace(store, "R1", "P2", "R5", &text, &fault) == NOT_FOUND);
    CHECK_CONTAINS(fault.text, "kept are those of no channel there;");
    key_text_end(&text);
    end_season(store);
    scratch_remove(folder);
}

static void a_season_without_trouble_keeps_no_samples(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = memory_season();
    (void)season_ingest(store, folder, 2, season_later);
    check_season(store, "SELECT count(*) FROM trace", 1, "0\n");
    end_season(store);
    scratch_remove(folder);
}

static void named_channels_are_kept_and_read_again_when_the_names_change(void)
{
    char folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    struct store *store = memory_season();
    (void)season_ingest(store, folder, 2, season_later);
    CHECK(scratch_edit(folder, "campaign.yaml",
                       "map_attitude:", "keep_samples: [balance_output_3, T1]\nmap_attitude:"));
    struct night_result result = season_ingest(store, folder, 2, season_later);
    CHECK(result.logs_read == 4 && result.logs_unchanged == 0);
    check_season(store,
                 "SELECT run, coalesce(tap, column_name), count(*), group_concat(DISTINCT reason), "
                 "sum(severity) FROM trace JOIN channel USING (run, position) GROUP BY 1, 2 "
                 "ORDER BY 1, 2",
                 5, "R1|R3|3|kept|NULL\nR1|T1|2|kept|NULL\nR2|R3|4|kept|NULL\nZ1|R3|1|kept|NULL\n");
    check_season(store, "SELECT name, value FROM setting WHERE section = 'keep_samples'", 2,
                 "channel: 1|balance_output_3\nchannel: 2|T1\n");
    end_season(store);
    scratch_remove(folder);
}

static void threads_do_not_show_in_traces(void)
{
    char folder[SCRATCH_PATH];
    char *dumps[2];
    CU_ASSERT_FATAL(ingest_folder_make(folder));
    spoil(folder, 80 + 40, "9.00000");
    spoil(folder, 200, "0.00000");
    CHECK(scratch_edit(folder, "campaign.yaml",
                       "map_attitude:", "keep_samples: [dp]\nmap_attitude:"));
    for (int threads = 1; threads <= 2; threads++) {
        struct store *store = memory_season();
        (void)season_ingest(store, folder, threads, season_later);
        dumps[threads - 1] = season_dump(store);
        end_season(store);
    }
    CHECK_CONTAINS(dumps[0], "|spikes|");
    CHECK(strcmp(dumps[0], dumps[1]) == 0);
    free(dumps[0]);
    free(dumps[1]);
    scratch_remove(folder);
}

static void names_that_are_no_channel_are_refused(void)
{
    static const struct {
        const char *text, *problem;
    } cases[] = {
        {"keep_samples: [point]\n", "keep_samples: 'point' is no role of a channel"},
        {"keep_samples: []\n", "keep_samples needs a list of names in brackets"},
        {"keep_samples: R1\n", "keep_samples needs a list of names in brackets"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[20000];
        struct heard heard;
        struct campaign *campaign = NULL;
        struct fault fault = {.status = OK};
        const char *good = good_campaign();
        (void)snprintf(text, sizeof text, "%s%s", good, cases[i].text);
        char *taps = strstr(text, "    taps: {unit: Pa, measured: absolute}\n");
        if (taps != NULL) /* with taps any name may be one of taps.csv */
            memset(taps, '#', strlen("    taps: {unit: Pa, measured: absolute}"));
        CHECK(campaign_read_text(text, &campaign, &heard, &fault) == BAD_INPUT);
        CHECK_CONTAINS(heard.all, cases[i].problem);
        campaign_free(campaign);
    }
}

extern CU_TestInfo traces_tests[];
CU_TestInfo traces_tests[] = {
    {"a spike leaves its trace", a_spike_leaves_its_trace},
    {"explain prints what is kept, and names it", explain_prints_what_is_kept_and_names_it},
    {"a season without trouble keeps no samples", a_season_without_trouble_keeps_no_samples},
    {"named channels are kept, and read again when the names change",
     named_channels_are_kept_and_read_again_when_the_names_change},
    {"threads do not show in traces", threads_do_not_show_in_traces},
    {"names that are no channel are refused", names_that_are_no_channel_are_refused},
    CU_TEST_INFO_NULL};
