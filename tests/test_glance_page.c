/* test_glance_page.c - text and page of a glance: what is drawn is what is known, and names are safe. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/glance_verdict.h"
#include "report/chart_points.h"
#include "report/chart_record.h"
#include "report/glance_text.h"
#include "report/page_glance.h"
#include "report/terminal_text.h"
#include "tests/check.h"
#include "tests/glance_made.h"

static size_t count(const char *text, const char *needle)
{
    size_t n = 0;
    for (const char *at = text; (at = strstr(at, needle)) != NULL; at += strlen(needle))
        n++;
    return n;
}

/* The page of a glance; ends both. The caller frees the text. */
static char *page_of(struct glance *glance)
{
    struct html page = {0};
    struct fault fault;
    CHECK_OK(page_glance(&page, glance, &fault), &fault);
    char *text = strdup(buffer_string(&page.out));
    html_free(&page);
    glance_end(glance);
    return text;
}

static char *text_of(struct glance *glance)
{
    struct buffer out = {0};
    glance_text(glance, &out);
    char *text = strdup(buffer_string(&out));
    buffer_free(&out);
    glance_end(glance);
    return text;
}

/* Each point has its value in a title above and one below, and a row in the table. */
static void every_point_is_drawn_and_written(void)
{
    struct glance glance;
    glance_made(&glance);
    char *text = page_of(&glance);
    if (text != NULL) {
        CHECK(count(text, "<title>point ") == 16); /* eight points, two plots */
        CHECK(count(text,
                    "<title>point 6, F10 R36, ok: CL 3.5010 \xC2\xB1 0.0020; +1.0 counts from "
                    "the mean of 2 earlier; first half to second +2.0 counts</title>") == 2);
        CHECK(count(text, "<rect class=\"earlier\"") == MADE_POINTS);
        CHECK_CONTAINS(text, "<td>3.4980 to 3.5020</td>");
        CHECK_CONTAINS(text, ">usable</h1>");
        CHECK_CONTAINS(text, "No rule speaks against this run.");
    }
    free(text);
}

static void a_lost_point_is_a_cross_and_a_new_one_hollow(void)
{
    struct glance glance;
    glance_made(&glance);
    glance.points[1].state = FLAG_FAILED;
    glance.points[2].state = FLAG_FLAGGED;
    glance.points[3].earlier.n = 0;
    glance.points[4].values[0] = (struct glance_value){NAN, NAN};
    glance.points[4].half[0] = glance.points[4].half[1] = NAN;
    glance.points[4].state = FLAG_REFUSED;
    char *text = page_of(&glance);
    if (text != NULL) {
        CHECK(count(text, "class=\"crossed\"") == 4); /* two points, two plots */
        CHECK(count(text, "class=\"ring\"") == 2);
        CHECK(count(text, "class=\"mark hollow\"") == 2);
        CHECK_CONTAINS(text, "refused: CL n/a");
        CHECK(strstr(text, "nan") == NULL);
    }
    free(text);
}

static void names_cannot_write_into_the_page(void)
{
    struct glance glance;
    glance_made(&glance);
    glance.configuration = "<script>alert(1)</script>";
    glance.points[0].label = "a<b>\"&'";
    char *text = page_of(&glance);
    if (text != NULL) {
        CHECK(count(text, "<script") == 1);
        CHECK(strstr(text, "a<b>") == NULL);
        CHECK_CONTAINS(text, "a&lt;b&gt;&quot;&amp;");
    }
    free(text);
}

static void a_run_that_was_not_read_has_a_page_all_the_same(void)
{
    struct glance glance;
    struct fault fault;
    glance_made(&glance);
    for (size_t i = 0; i < glance.n_points; i++)
        free(glance.points[i].values);
    glance.n_points = 0;
    glance.quarantined = "logs/a.csv:3:1: no number";
    (void)glance_made_flag(&glance, FLAG_RUN_QUARANTINED, GLANCE_WHOLE_RUN, "", NAN, NAN);
    CHECK_OK(glance_judge(&glance, &fault), &fault);
    char *text = page_of(&glance);
    if (text != NULL) {
        CHECK_CONTAINS(text, ">repeat now: run-quarantined</h1>");
        CHECK(count(text, "Nothing is drawn: the run has no points.") == 2);
    }
    free(text);
}

static void a_cell_carries_its_ratio_and_its_state(void)
{
    static const char *const rows[] = {"R1", "a very long name of a channel indeed"};
    static const char *const columns[] = {"1", "2", "3"};
    const struct record_cell cells[] = {{0, 0, 1.64, 0, 0, NULL, "first"},
                                        {0, 1, NAN, 1, 0, NULL, "second"},
                                        {1, 2, 250, 0, 0, NULL, "third"},
                                        {1, -1, NAN, 0, 1, "in words", NULL}};
    const struct record_chart chart = {"strip", rows, 2, columns, 3, cells, 4};
    struct html page = {0};
    chart_record(&page, &chart);
    const char *text = buffer_string(&page.out);
    CHECK_CONTAINS(text, ">1.6</text>");
    CHECK_CONTAINS(text, ">!</text>");
    CHECK_CONTAINS(text, ">&gt;99</text>");
    CHECK_CONTAINS(text, ">in words</text>");
    CHECK(count(text, "class=\"beyond\"") == 2 && count(text, "class=\"beyond lost\"") == 1);
    CHECK(count(text, "class=\"hatch\"") > 0);
    CHECK_CONTAINS(text, "a very long name of a chan\xE2\x80\xA6");
    html_free(&page);
}

static void a_crowd_of_points_keeps_some_labels(void)
{
    enum { CROWD = 400 };
    static struct points_mark marks[CROWD];
    for (int i = 0; i < CROWD; i++)
        marks[i] = (struct points_mark){
            .label = "P100", .title = "t", .value = i, .low = NAN, .high = NAN};
    const struct points_chart chart = {"crowd", "y", "d", 10, marks, CROWD};
    struct html page = {0};
    chart_points(&page, &chart);
    size_t labels = count(buffer_string(&page.out), ">P100</text>");
    CHECK(labels > 10 && labels < 100);
    const struct points_chart none = {"none", "y", "d", 10, marks, 0};
    size_t before = page.out.length;
    chart_points(&page, &none);
    CHECK(page.out.length == before);
    html_free(&page);
}

static void the_text_lines_up_and_cannot_command_a_terminal(void)
{
    struct glance glance;
    glance_made(&glance);
    glance.points[1].label = "zwei \xC3\xBC";
    glance.points[2].label = "\x1b[2J";
    glance.points[3].values[0].value = NAN;
    char *text = text_of(&glance);
    if (text != NULL) {
        CHECK(strncmp(text, "usable\nR07: base, facility saltmarsh", 36) == 0);
        CHECK(strchr(text, '\x1b') == NULL);
        CHECK_CONTAINS(text, "\n\\x1b[2J F8 R36 ");
        CHECK_CONTAINS(text, "\nzwei \xC3\xBC  F8 R30 ");
        CHECK_CONTAINS(text, "\n4       F10 R24     10.00     24.00    1500.0       n/a 0.0010");
        CHECK(strstr(text, "nan") == NULL);
    }
    free(text);
}

static void what_is_missing_is_named(void)
{
    struct glance glance;
    glance_made(&glance);
    glance.targets[0].is_covered = glance.targets[0].is_tried = 0;
    glance.targets[1].is_covered = 0;
    glance.targets[7].is_covered = glance.targets[7].is_tried = 0;
    char *text = text_of(&glance);
    if (text != NULL) {
        CHECK_CONTAINS(text, "\ntargets of the main measure: F8 R30: not usable; F8 R24: not "
                             "measured\nother targets: F12 R30: not measured\n");
        CHECK_CONTAINS(text, "main measure (CL, weighted): 3 of 5 targets covered");
    }
    free(text);
}

static void the_first_line_names_three_reasons_at_most(void)
{
    static const char *const channels[] = {"R1", "R2", "R3", "R4", "R5"};
    struct glance glance;
    struct fault fault;
    glance_made(&glance);
    for (size_t i = 0; i < 5; i++)
        (void)glance_made_flag(&glance, FLAG_SAMPLES_MISSING, 0, channels[i], 0.02, 0.01);
    CHECK_OK(glance_judge(&glance, &fault), &fault);
    char *text = text_of(&glance);
    if (text != NULL)
        CHECK_CONTAINS(text, "usable, look at: samples-missing of R1 at F8 R24; samples-missing of "
                             "R2 at F8 R24; samples-missing of R3 at F8 R24; and 2 more\n");
    free(text);
}

static void a_width_counts_characters(void)
{
    CHECK(terminal_width("") == 0);
    CHECK(terminal_width("\xC3\xBC") == 1);
    CHECK(terminal_width("\x1b") == 4);
    CHECK(terminal_width("\xff") == 4);
}

extern CU_TestInfo glance_page_tests[];
CU_TestInfo glance_page_tests[] = {
    {"every point is drawn and written", every_point_is_drawn_and_written},
    {"a lost point is a cross and a new one hollow", a_lost_point_is_a_cross_and_a_new_one_hollow},
    {"names cannot write into the page", names_cannot_write_into_the_page},
    {"a run that was not read has a page all the same",
     a_run_that_was_not_read_has_a_page_all_the_same},
    {"a cell carries its ratio and its state", a_cell_carries_its_ratio_and_its_state},
    {"a crowd of points keeps some labels", a_crowd_of_points_keeps_some_labels},
    {"the text lines up and cannot command a terminal",
     the_text_lines_up_and_cannot_command_a_terminal},
    {"what is missing is named", what_is_missing_is_named},
    {"the first line names three reasons at most", the_first_line_names_three_reasons_at_most},
    {"a width counts characters", a_width_counts_characters},
    CU_TEST_INFO_NULL};
