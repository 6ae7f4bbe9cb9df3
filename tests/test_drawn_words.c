/* test_drawn_words.c - from measured runs to the drawn interval: the program's own reduction of made-up
 * nights gives deltas and words, and on the page every word is what the drawing reads. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <string.h>

#include "tests/check.h"
#include "tests/derive_night.h"
#include "tests/drawn_cell.h"
#include "tests/drawn_night.h"
#include "tests/test_report_fixture.h"

enum { PARTS = 4, WORDS = 4 };

/* What is judged. The baseline's balance is 40 %, so that towards 45 more is better, and towards 35 less. */
enum judged { DOWNFORCE, DRAG, BALANCE_UP, BALANCE_DOWN, KINDS };
static struct {
    char metric[16]; /* the campaign keeps where it is */
    const char *better;
    double goal, printed; /* of the balance, %; printed unit for the stored one */
} kinds[KINDS] = {{"downforce", "higher", 45, 1000},
                  {"drag", "lower", 45, 1000},
                  {"balance", "higher", 45, 1},
                  {"balance", "lower", 35, 1}};

static const char *const words[WORDS] = {"gain", "loss", "no change that matters",
                                         "can't tell yet"};

/* What the parts change, invented: clearly much, clearly little, and between. */
struct made_night {
    enum judged judged;
    double noise;       /* of a run, unit of what is judged */
    double part[PARTS]; /* the same */
};

static const struct made_night nights[] = {{DOWNFORCE, 1e-3, {0.040, 0.004, -0.030, 0.012}},
                                           {DOWNFORCE, 4e-3, {0.030, 0.001, -0.012, 0.010}},
                                           {DOWNFORCE, 2e-4, {0.006, -0.004, 0.011, 0.0}},
                                           {DRAG, 3e-4, {0.010, 0.001, -0.008, 0.003}},
                                           {DRAG, 2e-3, {0.012, 0.002, -0.006, 0.0}},
                                           {DRAG, 1e-4, {0.002, -0.002, -0.004, 0.004}},
                                           {BALANCE_UP, 0.03, {1.2, 0.05, -0.9, 0.3}},
                                           {BALANCE_DOWN, 0.03, {1.2, 0.05, -0.9, -0.3}}};

static void add_run(struct derive_night *night, const struct made_night *made,
                    const char *configuration, double change)
{
    double noise = made->noise * ((night->runs * 5) % 7 - 3) / 2, little = 1e-4 * noise;
    double value[] = {3 + little, 0.9 + little, 40 + little};

    value[made->judged < BALANCE_UP ? (int)made->judged : 2] += change + noise;
    derive_night_add(night, configuration, value[1], value[0], value[0] * value[2] / 100);
}

static void open_night(struct derive_night *night, const struct made_night *made)
{
    static const char *const parts[PARTS] = {"wing", "floor", "both", "flap"};
    char sql[700];

    derive_night_open(night);
    night->fixture.campaign.main_metric = kinds[made->judged].metric;
    night->fixture.metrics[2].toward = kinds[made->judged].goal;
    for (int i = 0; i < 3 * PARTS; i++) {
        add_run(night, made, "base", 0);
        add_run(night, made, parts[i % PARTS], made->part[i % PARTS]);
    }
    add_run(night, made, "base", 0);
    derive_night_reduce(night);
    (void)snprintf(sql, sizeof sql,
                   "INSERT INTO metric VALUES ('downforce', 0, 'CL', 'higher', NULL, 0.01, 0), "
                   "('drag', 1, 'CD', 'lower', NULL, 0.003, 0), ('balance', 2, 'balance', "
                   "'toward', %g, 0.3, 0);"
                   "UPDATE metric SET is_main = 1 WHERE metric = '%s';"
                   "INSERT INTO setting VALUES ('season', 'count', '0.001', '1'), ('limits', "
                   "'confidence', '0.95', '1');"
                   "INSERT INTO target (target, sequence, front_ride_height_m, "
                   "rear_ride_height_m, yaw_rad, weight) VALUES ('low', 1, 0.02, 0.04, 0, 1)",
                   kinds[made->judged].goal, kinds[made->judged].metric);
    fixture_execute(&night->fixture, sql);
}

/* The judged column's rows; gives how many were told. */
static size_t check_page(struct store *store, const char *text, const struct made_night *made,
                         int seen[WORDS])
{
    static const char sql[] = "SELECT configuration, verdict, '', '', delta, lower, upper, "
                              "real_but_small, 0, 0 FROM delta_result WHERE is_main = 1";
    struct drawn_row rows[PARTS + 1];
    const char *table = svg_next_class(text, NULL, "deltas");
    size_t n = drawn_rows(store, sql, rows, PARTS + 1), told = 0;
    double printed = kinds[made->judged].printed;

    CHECK(table != NULL && n == PARTS);
    for (size_t i = 0; table != NULL && i < n; i++) {
        struct svg_axis axis = drawn_head_axis(svg_after(table, NULL));
        char head[80], word[40];
        struct drawn_cell cell;
        (void)snprintf(head, sizeof head, "<th class=\"name\" scope=\"row\">%.40s ",
                       rows[i].text[0]);
        const char *row = strstr(table, head);
        const char *stop = row != NULL ? strstr(row, "</tr>") : NULL;
        CHECK(row != NULL);
        if (row == NULL || !drawn_cell_read(svg_after(row, stop), &axis, &cell))
            continue;
        CHECK_NEAR(cell.lower, printed * rows[i].number[1], svg_near(&axis), "the database");
        CHECK_NEAR(cell.upper, printed * rows[i].number[2], svg_near(&axis), "the database");
        drawn_chip(row, stop, word);
        CHECK_TEXT(word, rows[i].text[1]);
        CHECK((svg_next(row, stop, "real, but small") != NULL) == (rows[i].number[3] != 0));
        if (!drawn_is_told(&cell, &axis))
            continue;
        CHECK_TEXT(word, drawn_word(&cell, kinds[made->judged].better));
        drawn_tone(&cell, word);
        for (int w = 0; w < WORDS; w++)
            seen[w] += strcmp(word, words[w]) == 0;
        told++;
    }
    return told;
}

static void words_of_measured_nights_are_what_is_drawn(void)
{
    int seen[KINDS][WORDS] = {{0}};
    size_t told = 0;

    for (size_t i = 0; i < sizeof nights / sizeof nights[0]; i++) {
        struct derive_night night;
        struct html page = {0};
        struct fault fault = {0};
        open_night(&night, &nights[i]);
        CHECK_OK(report_fixture_page(night.fixture.store, &page, &fault), &fault);
        told += check_page(night.fixture.store, buffer_string(&page.out), &nights[i],
                           seen[nights[i].judged]);
        html_free(&page);
        derive_night_close(&night);
    }
    CHECK(told >= 30); /* of 32; an end within a hair of an edge is left out */
    for (int w = 0; w < WORDS; w++)
        CHECK(seen[DOWNFORCE][w] > 0 && seen[DRAG][w] > 0);
    for (int k = BALANCE_UP; k < KINDS; k++)
        CHECK(seen[k][0] > 0 && seen[k][1] > 0 && seen[k][2] > 0);
}

extern CU_TestInfo drawn_words_tests[];
CU_TestInfo drawn_words_tests[] = {
    {"words of measured nights are what is drawn", words_of_measured_nights_are_what_is_drawn},
    CU_TEST_INFO_NULL};
