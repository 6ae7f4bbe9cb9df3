/* test_report_trade.c - what each gain costs: the line, the side of it, and names that can be read. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/chart_trade.h"
#include "report/html.h"
#include "tests/check.h"
#include "tests/test_report_made.h"

#define TRADE                                                                       \
    "INSERT INTO setting VALUES ('trade', 'metric', 'drag', ''), ('trade', 'per', " \
    "'downforce', ''), ('trade', 'worth', '4', '1');"

static void without_a_line_it_says_so(void)
{
    char *text = report_page_after(NULL, NULL);

    if (text != NULL) {
        CHECK_CONTAINS(text, "No line is drawn: the campaign does not say what a gain may cost");
        CHECK(strstr(text, "class=\"worth-line\"") == NULL);
        CHECK(strstr(text, "Left over") == NULL);
    }
    free(text);
}

/* By hand, in counts: W1 12.1 - 4 x 0.9 = 8.5, W2 23.8 - 4 x 3.6 = 9.4, W3 4.9 + 4 x 2.1 = 13.3, W4 -3.1
 * - 4 x 0.2 = -3.9, W5 -18.8 + 4 x 9.7 = 20.0: four are worth it. */
static void the_line_and_what_is_left_over(void)
{
    char *text = report_page_after(TRADE, NULL);

    if (text != NULL) {
        CHECK_CONTAINS(text, "The line: for 1 count of drag the team asks 4 counts of downforce"
                             "; shaded is what is worth it. As measured, 4 of 5 are on "
                             "that side");
        CHECK_CONTAINS(text, "<th scope=\"row\">W2</th>\n<td>+23.8 \xC2\xB1 6.1</td>\n<td>+3.6 "
                             "\xC2\xB1 2.2</td>\n<td>+9.4</td>");
        CHECK_CONTAINS(text, "<td>+20.0</td>");
        CHECK_CONTAINS(text, "<td>\xE2\x88\x92"
                             "3.9</td>");
    }
    free(text);
}

/* Other metrics, by their own units: one of efficiency against downforce has no cost side of lower. */
static void other_metrics_can_be_named(void)
{
    char *text = report_page_after(
        "INSERT INTO setting VALUES ('trade', 'metric', 'drag', ''), ('trade', 'per', "
        "'efficiency', ''), ('trade', 'worth', '2', '1')",
        NULL);

    if (text != NULL)
        CHECK_CONTAINS(text, "for 1 count of drag the team asks 0.002 of efficiency");
    free(text);
    text = report_page_after(NULL, "DELETE FROM metric WHERE quantity = 'CD'");
    if (text != NULL)
        CHECK_CONTAINS(text, "Nothing is drawn: downforce and drag are not both among the metrics");
    free(text);
}

/* Drawn alone: a point above and one below a line of slope 2, and one that cannot be drawn. */
static void the_worth_it_side_is_shaded(void)
{
    const struct trade_mark marks[] = {
        {.name = "up",
         .title = "up",
         .look = {"s1", MARKER_CIRCLE},
         .x = 2,
         .y = 8,
         .x_lower = 1,
         .x_upper = 3,
         .y_lower = 6,
         .y_upper = 10},
        {.name = "down",
         .title = "down",
         .look = {"s2", MARKER_CIRCLE},
         .x = 4,
         .y = 1,
         .x_lower = NAN,
         .x_upper = NAN,
         .y_lower = NAN,
         .y_upper = NAN},
        {.name = "lost", .title = "lost", .look = {"s3", MARKER_CIRCLE}, .x = NAN, .y = 1}};
    struct html page = {0};
    struct trade_chart chart = {"label", "x", "y", 2, 1, "", marks, 3};

    chart_trade(&page, &chart);
    const char *text = buffer_string(&page.out);
    const char *area = strstr(text, "<path class=\"worth\" d=\"M");
    CHECK(area != NULL);
    CHECK_CONTAINS(text, "<title>up</title>");
    CHECK_CONTAINS(text, ">down</text>");
    CHECK(strstr(text, ">lost<") == NULL);
    CHECK(strstr(text, "nan") == NULL);
    html_free(&page);
}

/* No name on another name, mark or arm, where there is room; all within the frame. */
static void names_stand_clear(void)
{
    const double x[] = {100, 102, 104, 300, 301}, y[] = {100, 101, 99, 200, 200};
    const struct trade_box frame = {60, 700, 20, 380};
    struct trade_box boxes[5];
    struct trade_label labels[5];

    for (int i = 0; i < 5; i++) {
        boxes[i] = (struct trade_box){x[i] - 5, x[i] + 5, y[i] - 5, y[i] + 5};
        labels[i] = (struct trade_label){.width = 40};
    }
    chart_trade_labels(x, y, 5, boxes, 5, &frame, labels);
    for (int i = 0; i < 5; i++) {
        CHECK(labels[i].x >= frame.left && labels[i].x + labels[i].width <= frame.right);
        for (int k = 0; k < i; k++)
            CHECK(fabs(labels[i].y - labels[k].y) >= TRADE_LABEL_HEIGHT ||
                  labels[i].x + labels[i].width <= labels[k].x ||
                  labels[k].x + labels[k].width <= labels[i].x);
        for (int k = 0; k < 5; k++)
            CHECK(labels[i].x + labels[i].width <= boxes[k].left || labels[i].x >= boxes[k].right ||
                  labels[i].y + TRADE_LABEL_HEIGHT / 2.0 <= boxes[k].top ||
                  labels[i].y - TRADE_LABEL_HEIGHT / 2.0 >= boxes[k].bottom);
    }
}

CU_TestInfo report_trade_tests[] = {
    {"without a line it says so", without_a_line_it_says_so},
    {"the line and what is left over", the_line_and_what_is_left_over},
    {"other metrics can be named", other_metrics_can_be_named},
    {"the worth-it side is shaded", the_worth_it_side_is_shaded},
    {"names stand clear", names_stand_clear},
    CU_TEST_INFO_NULL};
