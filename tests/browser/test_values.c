/* test_values.c - what pointer and keyboard tell is what the season holds, read by SQL of our own. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/query.h"
#include "tests/browser/pages.h"
#include "tests/browser/tab.h"
#include "tests/check.h"

static const struct view wide = {"light", 1400, 900, "light", "screen"};

/* A number as the page writes it, after a mark: a true minus, an optional plus. */
struct said {
    double value;    /* NAN where there is none */
    double rounding; /* half of its last digit */
};

static struct said after(const char *text, const char *mark)
{
    static const char minus[] = "\xE2\x88\x92";
    const char *at = strstr(text, mark);
    char *end = NULL;

    if (at == NULL)
        return (struct said){NAN, NAN};
    at += strlen(mark);
    int is_negative = strncmp(at, minus, 3) == 0;
    const char *digits = is_negative ? at + 3 : at;
    double value = strtod(digits, &end);
    const char *dot = memchr(digits, '.', (size_t)(end - digits));
    double decimals = dot != NULL ? (double)(end - dot - 1) : 0;
    if (end == digits)
        return (struct said){NAN, NAN};
    return (struct said){is_negative ? -value : value, 0.501 * pow(10, -decimals)};
}

static void check_said(struct said said, double held)
{
    CHECK_NEAR(said.value, held, said.rounding, "identity");
}

/* The text between two marks into out. */
static const char *between(const char *text, const char *first, const char *last, char out[80])
{
    const char *start = strstr(text, first);
    const char *stop = start != NULL ? strstr(start + strlen(first), last) : NULL;

    out[0] = '\0';
    if (stop != NULL)
        (void)snprintf(out, 80, "%.*s", (int)(stop - start - (ptrdiff_t)strlen(first)),
                       start + strlen(first));
    return out;
}

static double season_value(struct store *store, const char *sql, const char *first,
                           const char *second)
{
    const char *texts[] = {first, second, NULL};
    struct fault fault = {0};
    double value = (double)NAN;

    CHECK_OK(query_real(store, sql, texts, &value, &fault), &fault);
    return value;
}

typedef void check_words(struct store *store, const char *plot, const char *says);

static void check_tap(struct store *store, const char *says, const char *sql, const char *symbol)
{
    char tap[80];
    double held = season_value(store, sql, between(says, "tap ", ":", tap), "");

    CHECK(tap[0] != '\0');
    if (isfinite(held))
        check_said(after(says, symbol), held);
    else
        CHECK_CONTAINS(says, ": dead");
}

static void level_of_a_tap(struct store *store, const char *plot, const char *says)
{
    (void)plot;
    check_tap(store, says,
              "SELECT cp FROM map_tap WHERE configuration = 'C0' AND tap = ?1 AND ?2 = ''", "Cp ");
}

static void change_of_a_tap(struct store *store, const char *plot, const char *says)
{
    (void)plot;
    check_tap(store, says,
              "SELECT delta_cp FROM map_tap WHERE configuration = 'W2' AND tap = ?1 AND ?2 = ''",
              "\xCE\x94"
              "Cp ");
}

/* "W2 at 8.0: +25.1, from +17.2 to +33.0": counts at a front ride height in millimetres. */
static void check_change(struct store *store, double rear, const char *says, const char *column,
                         struct said said)
{
    char name[80], height[80], sql[400];

    (void)snprintf(name, sizeof name, "%.*s", (int)strcspn(says, " "), says);
    (void)between(says, " at ", ":", height);
    (void)snprintf(sql, sizeof sql,
                   "SELECT 1000 * d.%s FROM delta_result AS d JOIN target AS t ON t.target = "
                   "d.target WHERE d.quantity = 'CL' AND d.configuration = ?1 AND "
                   "abs(1000 * t.front_ride_height_m - ?2) < 0.01 AND "
                   "abs(1000 * t.rear_ride_height_m - %.3f) < 0.01 AND t.yaw_rad = 0",
                   column, rear);
    check_said(said, season_value(store, sql, name, height));
}

static void change_of_downforce(struct store *store, const char *plot, const char *says)
{
    double rear = after(plot, "rear ride height ").value;

    check_change(store, rear, says, "delta", after(says, ": "));
    check_change(store, rear, says, "lower", after(says, "from "));
    check_change(store, rear, says, "upper", after(says, " to "));
}

/* "W1, mounting 2 (R109), 23:15: CL 3.1412", or "run R101, C0, started 20:05". */
static void a_mounting_or_a_run(struct store *store, const char *plot, const char *says)
{
    (void)plot;
    char mounting[80], name[80];

    if (strncmp(says, "run ", 4) == 0) {
        char run[80];
        CHECK(season_value(store, "SELECT count(*) FROM run WHERE run = ?1 AND configuration = ?2",
                           between(says, "run ", ",", run), between(says, ", ", ",", name)) == 1);
        return;
    }
    (void)snprintf(name, sizeof name, "%.*s", (int)strcspn(says, ","), says);
    check_said(after(says, ": CL "),
               season_value(store,
                            "SELECT value FROM observation WHERE quantity = 'CL' AND target = "
                            "'weighted' AND configuration = ?1 AND mounting = ?2",
                            name, between(says, "mounting ", " (", mounting)));
}

/* Steps through a plot from Home to where it began; every mark must say what the season holds, aloud
 * and in the tip. Gives the number of marks. */
static size_t walk(struct store *store, const char *label, check_words *check)
{
    char *name = tab_look("focus", label);
    size_t n = 0;

    CHECK_CONTAINS(name, label);
    tab_key("Home");
    char *first = tab_look("tip", "");
    char *says = strdup(first);
    do {
        char *said = tab_look("said", "");
        char *stray = tab_look("stray", "");
        CHECK_TEXT(said, says);
        CHECK_TEXT(stray, "");
        free(said);
        free(stray);
        check(store, name, says);
        free(says);
        n++;
        tab_key("ArrowRight");
        says = tab_look("tip", "");
    } while (strcmp(says, first) != 0 && n < 500);
    free(says);
    free(first);
    free(name);
    return n;
}

static void the_keyboard_reads_the_season(void)
{
    static const struct {
        const char *label;
        check_words *check;
        const char *count;
    } plots[] = {
        {"map of Cp", level_of_a_tap, "SELECT count(*) FROM tap"},
        {"map of \xCE\x94"
         "Cp",
         change_of_a_tap, "SELECT count(*) FROM tap"},
        {"change from the baseline of CL", change_of_downforce, NULL},
        {"over the night", a_mounting_or_a_run,
         "SELECT (SELECT count(*) FROM observation WHERE quantity = 'CL' AND target = 'weighted') "
         "+ "
         "(SELECT count(*) FROM run WHERE kind = 'wind_on')"},
    };
    struct store *store = folder_of_page(PAGE_FIXTURE);

    tab_view(&wide);
    if (store == NULL || !tab_open(page_path(PAGE_FIXTURE)))
        return;
    for (size_t i = 0; i < sizeof plots / sizeof plots[0]; i++) {
        size_t marks = walk(store, plots[i].label, plots[i].check);
        if (plots[i].count != NULL) {
            struct fault fault = {0};
            double wanted = (double)NAN;
            CHECK_OK(query_real(store, plots[i].count, NULL, &wanted, &fault), &fault);
            CHECK_NEAR((double)marks, wanted, 0, "identity");
        } else {
            CHECK(marks >= 6);
        }
    }
    tab_check_quiet("keyboard");
    CHECK_OK(store_close(store, NULL), NULL);
}

static void up_down_home_end_and_escape_work(void)
{
    tab_view(&wide);
    if (!tab_open(page_path(PAGE_FIXTURE)))
        return;
    free(tab_look("focus", "change from the baseline of CL"));
    tab_key("Home");
    char *first = tab_look("tip", "");
    tab_key("ArrowDown");
    char *other = tab_look("tip", "");
    tab_key("ArrowUp");
    tab_key("Home");
    char *again = tab_look("tip", "");
    tab_key("ArrowLeft");
    char *wrapped = tab_look("tip", "");
    tab_key("End");
    char *last = tab_look("tip", "");
    tab_key("Escape");
    char *gone = tab_look("tip", "");
    CHECK(first[0] != '\0' && strcmp(first, again) == 0);
    CHECK(strncmp(first, other, strcspn(first, " ")) != 0); /* another series */
    CHECK(last[0] != '\0' && strcmp(last, wrapped) == 0 && strcmp(last, first) != 0);
    CHECK_TEXT(gone, "");
    free(first);
    free(other);
    free(again);
    free(wrapped);
    free(last);
    free(gone);
}

static void point_at(const char *says)
{
    char *place = tab_look("place", says);
    const char *blank = strchr(place, ' ');

    CHECK(blank != NULL);
    tab_point_at(strtod(place, NULL), blank != NULL ? strtod(blank, NULL) : 0);
    free(place);
}

static void the_pointer_reads_the_season(void)
{
    static const char *const names[] = {"W1", "W2", "W3", "W4", "W5"};
    struct store *store = folder_of_page(PAGE_FIXTURE);

    tab_view(&wide);
    if (store == NULL || !tab_open(page_path(PAGE_FIXTURE)))
        return;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char head[40];
        (void)snprintf(head, sizeof head,
                       "\xCE\x94"
                       "CL of %s:",
                       names[i]);
        point_at(head);
        char *tip = tab_look("tip", "");
        static const struct {
            const char *column, *mark;
        } parts[] = {
            {"delta", ": "}, {"half_width", "\xC2\xB1 "}, {"lower", "from "}, {"upper", " to "}};
        for (size_t k = 0; k < sizeof parts / sizeof parts[0]; k++) {
            char sql[200];
            (void)snprintf(
                sql, sizeof sql,
                "SELECT 1000 * %s FROM delta_result WHERE is_main = 1 AND configuration = "
                "?1 AND ?2 = ''",
                parts[k].column);
            check_said(after(tip, parts[k].mark), season_value(store, sql, names[i], ""));
        }
        free(tip);
    }
    point_at("tap T017");
    char *tip = tab_look("tip", "");
    level_of_a_tap(store, "", tip);
    free(tip);
    CHECK_OK(store_close(store, NULL), NULL);
}

/* The run at a glance tells what the night's reduction of the same run holds. */
static void a_glance_reads_the_season(void)
{
    struct store *store = folder_of_page(PAGE_GLANCE);
    size_t n = 0;

    tab_view(&wide);
    if (store == NULL || !tab_open(page_path(PAGE_GLANCE)))
        return;
    free(tab_look("focus", "points in the order of the log"));
    tab_key("Home");
    for (; n < 24; n++) {
        char *tip = tab_look("tip", "");
        char point[80];
        double held = season_value(
            store,
            "SELECT coalesce((SELECT t.downforce_coefficient FROM target_result AS t WHERE t.run = "
            "p.run AND t.point = p.point), p.downforce_coefficient) FROM point_result AS p WHERE "
            "p.run = 'R05' AND p.point = ?1 AND ?2 = ''",
            between(tip, "point ", ",", point), "");
        if (isfinite(held))
            check_said(after(tip, "CL "), held);
        else
            CHECK_CONTAINS(tip, "CL n/a");
        free(tip);
        tab_key("ArrowRight");
    }
    CHECK_OK(store_close(store, NULL), NULL);
}

CU_TestInfo browser_values_tests[] = {
    {"the keyboard reads the season", the_keyboard_reads_the_season},
    {"up, down, home, end and escape work", up_down_home_end_and_escape_work},
    {"the pointer reads the season", the_pointer_reads_the_season},
    {"a glance reads the season", a_glance_reads_the_season},
    CU_TEST_INFO_NULL};
